/** What differs between two versions of a pickup, in figures and in words. Pure. */
import { heardWord } from '../jobs/justHeard.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { formatFigure } from '../sheet/units.ts';
import type { Beside } from './louder.svelte.ts';
import type { CoilOutcome, PickupOutcome, Prediction, Voice } from './types.ts';

export { heardWord };

/** One of the two, as it is looked at. */
export interface Version {
  readonly sheet: Sheet;
  readonly prediction: Prediction;
  /** The pickup whose build and coils are compared, from 0. */
  readonly pickup: number;
  /** Whose curve and resonance are compared. */
  readonly voice: Voice;
}

/** A figure before and after, in the units of the trade. */
export interface DifferenceRow {
  readonly name: string;
  readonly from: string;
  readonly to: string;
  /** Empty where there is nothing to subtract, or no difference in the digits shown. */
  readonly change: string;
}

/** For a figure that one of the two has not. */
export const NOTHING = '—';

/** «+1.4», «−0.3», and «» for what is zero in the digits shown. */
function signed(value: number, decimals: number, unit: string): string {
  const digits = Math.abs(value).toFixed(decimals);
  return Number(digits) === 0 ? '' : `${value < 0 ? '−' : '+'}${digits} ${unit}`;
}

const percent = (from: number, to: number): string =>
  from > 0 ? signed(100 * (to / from - 1), Math.abs(to / from - 1) < 0.1 ? 1 : 0, '%') : '';
const decibels = (from: number, to: number): string =>
  from > 0 && to > 0 ? signed(20 * Math.log10(to / from), 1, 'dB') : '';
const hertz = (f: number): string => (f >= 999.5 ? `${(f / 1000).toPrecision(3)} kHz` : `${f.toFixed(0)} Hz`);
const minus = (text: string): string => text.replace('-', '−');

/** One row out of two figures of which either may be missing; null when both are. */
function row(
  name: string,
  from: number | null | undefined,
  to: number | null | undefined,
  show: (value: number) => string,
  change: (from: number, to: number) => string,
): DifferenceRow | null {
  const has = [from, to].map((v) => v !== null && v !== undefined);
  if (!has[0] && !has[1]) return null;
  return {
    name,
    from: has[0] ? show(from!) : NOTHING,
    to: has[1] ? show(to!) : NOTHING,
    change: has[0] && has[1] ? change(from!, to!) : '',
  };
}

/** Two coils as they are joined: in series their figures add, in parallel their inverses do. */
function joined(version: Version, figure: (coil: CoilOutcome) => number): number | null {
  const coils = outcome(version)?.coils ?? [];
  if (coils.length === 0) return null;
  const parallel = version.sheet.pickups[version.pickup]?.join === 'parallel';
  const sum = coils.reduce((s, coil) => s + (parallel ? 1 / figure(coil) : figure(coil)), 0);
  return parallel ? 1 / sum : sum;
}

const outcome = ({ prediction, pickup }: Version): PickupOutcome | undefined => prediction.pickups[pickup];

function gapRow(a: Version, b: Version): DifferenceRow | null {
  const [from, to] = [a, b].map(({ sheet, pickup }) => sheet.pickups[pickup]?.build ?? null);
  if (!from && !to) return null;
  const show = (build: typeof from): string =>
    build ? `${(1000 * build.gapBass).toFixed(1)} / ${formatFigure(build.gapTreble, 'gap')}` : NOTHING;
  const mm = (value: number): string => signed(1000 * value, 1, 'mm') || '0.0 mm';
  const bass = from && to ? mm(to.gapBass - from.gapBass) : '0.0 mm';
  const treble = from && to ? mm(to.gapTreble - from.gapTreble) : '0.0 mm';
  const change = bass === treble ? bass : `${bass} / ${treble}`;
  return {
    name: 'gap, bass / treble',
    from: show(from ?? null),
    to: show(to ?? null),
    change: bass === treble && bass === '0.0 mm' ? '' : change,
  };
}

/** Which pole of each row is up; none without a build. */
const poles = ({ sheet, pickup }: Version): readonly string[] =>
  (sheet.pickups[pickup]?.build?.rows ?? []).map(({ up }) => up);

/** Which pole is up, where that is another now; no other figure tells a magnet that was turned over. */
function poleRow(a: Version, b: Version): DifferenceRow | null {
  const [from, to] = [poles(a).join(' / '), poles(b).join(' / ')];
  return from === '' || to === '' || from === to
    ? null
    : { name: 'pole that is up', from, to, change: 'turned' };
}

/** Signs of the rows' signals: of the pole that is up, the sense of the winding, and the wires; none of a pickup that is not there. */
const signs = ({ sheet, pickup }: Version): readonly number[] => {
  const { build, reversed } = sheet.pickups[pickup] ?? { build: null, reversed: false };
  return (build?.rows ?? []).map(
    ({ up, wound }) => (up === 'north' ? 1 : -1) * (wound === 'clockwise' ? 1 : -1) * (reversed ? -1 : 1),
  );
};

/** Whether the magnets were turned over and the whole signal with them. */
function inverted(a: Version, b: Version): boolean {
  const [from, to] = [signs(a), signs(b)];
  return poleRow(a, b) !== null && from.length === to.length && from.every((sign, r) => sign !== to[r]);
}

const PHASE =
  ' Its magnets being turned is not heard of it alone: beside another pickup, what was in phase is out of phase.';

/**
 * The figures of `a` and `b`, rows that neither has left out.
 * @param string 1 is the highest; the one over which field, reach, level and pull are
 */
export function differenceRows(a: Version, b: Version, string: number): DifferenceRow[] {
  const [over, under] = [a, b].map((version) => outcome(version)?.strings[string - 1]);
  const [peak, other] = [a, b].map(({ voice }) => voice.features.resonance);
  const wide = (
    name: string,
    of: (at: NonNullable<typeof over>) => readonly number[] | undefined,
  ): DifferenceRow | null => {
    const mean = (at: typeof over): number | null => {
      const widths = (at && of(at)) ?? [];
      return widths.length > 0 ? widths.reduce((s, w) => s + w, 0) / widths.length : null;
    };
    return row(name, mean(over), mean(under), millimetres, (p, q) => signed(1000 * (q - p), 1, 'mm'));
  };
  /** Without a coil there is none. */
  const heard = (at: typeof over): number | undefined => (at?.widths.length === 0 ? undefined : at?.level);
  const rows = [
    row('field at the string', over?.field?.fluxDensity, under?.field?.fluxDensity, milliteslas, percent),
    wide('field, wide at the string', ({ field }) => field?.widths),
    wide('field, wide over the tip', ({ field }) => field?.tipWidths),
    wide('reach', ({ widths }) => widths),
    row('level, string moving 1 mm', heard(over), heard(under), millivolts, decibels),
    row(
      'inductance',
      joined(a, (c) => c.inductance),
      joined(b, (c) => c.inductance),
      henries,
      percent,
    ),
    row(
      'resistance',
      joined(a, (c) => c.resistance),
      joined(b, (c) => c.resistance),
      ohms,
      percent,
    ),
    row('resonance', peak?.frequency, other?.frequency, hertz, percent),
    row(
      'its Q',
      peak?.q,
      other?.q,
      (q) => q.toFixed(2),
      (p, q) => signed(q - p, 2, '').trim(),
    ),
    row('pull', over?.field?.centsTowards, under?.field?.centsTowards, cents, (p, q) =>
      Number.isFinite(q - p) ? signed(q - p, 2, 'cents') : '',
    ),
    gapRow(a, b),
    poleRow(a, b),
  ];
  return rows.filter((r) => r !== null);
}

const henries = (l: number): string =>
  l >= 0.9995 ? `${l.toPrecision(3)} H` : `${(1000 * l).toPrecision(3)} mH`;
const ohms = (r: number): string => (r >= 999.5 ? `${(r / 1000).toPrecision(3)} kΩ` : `${r.toFixed(0)} Ω`);
const millivolts = (v: number): string => `${v < 99.95 ? v.toPrecision(3) : v.toFixed(0)} mV`;
const milliteslas = (b: number): string => `${(1000 * b).toPrecision(3)} mT`;
const millimetres = (x: number): string => `${(1000 * x).toFixed(1)} mm`;
const cents = (c: number): string => (Number.isFinite(c) ? minus(`${c.toFixed(2)} cents`) : 'held fast');

/** As long as `differenceWords` are for a mod, but for one that turns the polarity over: the page keeps their room. */
export const MOST_WORDS =
  'Now it is 18.8 dB louder. At equal loudness it has 18.8 dB more around 18.88 kHz, while it rings: audible side by side. ?';

/**
 * «B is 1.4 dB louder. At equal loudness it has 3.2 dB more around 4.1 kHz, in the attack: plainly audible.»
 * @param beside what is heard of `b` beside `a`; null where that is not known yet, of which nothing is said
 */
export function differenceWords(a: Version, b: Version, name: string, beside: Beside | null): string {
  if (!beside) return '';
  const { louder, heard } = beside;
  if (louder === null) return 'One of the two is silent.';
  const amount = Math.abs(louder).toFixed(1);
  const loud =
    amount === '0.0' ? `${name} is as loud` : `${name} is ${amount} dB ${louder > 0 ? 'louder' : 'softer'}`;
  const phase = inverted(a, b) ? PHASE : '';
  if (!heard) return `${loud}.${phase}`;
  const size = Math.abs(heard.most);
  const shown = size.toFixed(1);
  const when = heard.part === 'attack' ? 'in the attack' : 'while it rings';
  const tone =
    shown === '0.0'
      ? 'it is the same to the ear'
      : `it has ${shown} dB ${heard.most > 0 ? 'more' : 'less'} around ${hertz(heard.at)}, ${when}: ${heardWord(size)}`;
  return `${loud}. At equal loudness ${tone}.${phase}`;
}
