/** What is said of how close a pickup may sit. Pure. */
import { FIGURES } from '../../sheet/figures.ts';
import type { PickupBuild } from '../../sheet/sheet.ts';
import { formatFigure } from '../../sheet/units.ts';
import type { Closest } from '../../state/closeness.svelte.ts';

/** A screw's setting, m: nobody sets a pickup finer. */
const SETTING = 5e-5;

const mm = (length: number): string => formatFigure(Number(length.toPrecision(6)), 'gap');

export interface Advice {
  /** How far to raise it, m; below 0 lowers it. */
  readonly by: number;
  /** «raise it by 0.45 mm»; empty when it sits there already. */
  readonly doing: string;
  /** The same once it is done: «raised by 0.45 mm». */
  readonly done: string;
  readonly says: string;
}

interface Setting {
  /** How far to raise it, m. */
  readonly by: number;
  /** Which limit of the sheet keeps it from sitting where the computation would have it. */
  readonly stop: 'closest' | 'lowest' | null;
}

/** How far to raise it, in whole settings towards the safe side, and within what the sheet allows. */
function setting({ gapBass, gapTreble }: PickupBuild, raise: number): Setting {
  const { min, max } = FIGURES.gap;
  const lowest = max - Math.max(gapBass, gapTreble);
  const closest = whole(Math.min(gapBass, gapTreble) - min);
  const by = whole(raise);
  if (by > closest) return { by: closest, stop: 'closest' };
  // Down to the last hundredth: whole settings would leave it nearer than it may be.
  return by < -lowest ? { by: digits(-lowest), stop: 'lowest' } : { by, stop: null };
}

const digits = (length: number): number => Number(length.toPrecision(6)) + 0;

/** Down to a whole setting; with a little slack, so that one is not lost to its last bit. */
const whole = (raise: number): number => digits(Math.floor(raise / SETTING + 1e-6) * SETTING);

/** Where it then sits, and what keeps it from sitting closer. @param asked «2.0 cents» */
function found(
  build: PickupBuild,
  closest: NonNullable<Closest>,
  { by, stop }: Setting,
  asked: string,
  names: readonly string[],
): string {
  const gaps = `${mm(build.gapBass - by)} at the bass side, ${mm(build.gapTreble - by)} at the treble side`;
  const at = closest.fret === 0 ? '' : ` at fret ${closest.fret}`;
  const name = `${names[closest.string - 1] ?? String(closest.string)}${at}`;
  const way = closest.shift < 0 ? 'flat' : 'sharp';
  if (stop === 'lowest')
    return `As low as it can be set, ${gaps}, string ${name} still goes ${way} by more than ${asked}.`;
  if (stop === 'closest') return `As close as it can be set, ${gaps}, nothing shifts by ${asked}.`;
  const parts = build.cover ? 'cover and the poles' : 'poles';
  if (closest.touches) return `As close as the ${parts} leave room, ${gaps}, nothing shifts by ${asked}.`;
  return `${gaps}. Closer, string ${name} goes ${way} by more.`;
}

/** @param names of the strings, such as «6 E2», string 1 first */
export function advice(
  build: PickupBuild,
  closest: Closest,
  cents: number,
  names: readonly string[],
): Advice {
  const asked = formatFigure(cents, 'detuning');
  if (closest === null)
    return { by: 0, doing: '', done: '', says: `Even 10 mm lower a note shifts by more than ${asked}.` };
  const { by, stop } = setting(build, closest.raise);
  const away = Math.abs(by);
  const doing = away < SETTING / 2 ? '' : `${by > 0 ? 'raise' : 'lower'} it by ${mm(away)}`;
  const says = found(build, closest, { by, stop }, asked, names);
  return { by, doing, done: `${by > 0 ? 'raised' : 'lowered'} by ${mm(away)}`, says };
}

export interface CloseCell {
  /** «2.35», mm; a word where it is no gap. */
  readonly text: string;
  /** Whether the pickup sits closer than that now. */
  readonly over: boolean;
}

export interface CloseRow {
  readonly name: string;
  /** The gap as it is, mm. */
  readonly now: string;
  /** One a note, in the order of `noteNames`. */
  readonly cells: readonly CloseCell[];
}

/** «open», «fret 5», «fret 12». */
export const noteNames = (frets: readonly number[]): readonly string[] =>
  frets.map((fret) => (fret === 0 ? 'open' : `fret ${fret}`));

/** Millimetres, up to a whole setting: the safe side. */
const setAt = (gap: number): string =>
  (1e3 * SETTING * Math.ceil(gap / SETTING - 1e-6)).toFixed(2).replace('-', '−');

/** Nearer than this the gap is there already, m: what the search is out by. */
const SEARCHED = 2e-5;

/** The least gap of every string for every note, each for itself. @param gaps as they are, string 1 first, m */
export function closeRows(
  closest: Closest,
  gaps: readonly number[],
  names: readonly string[],
): readonly CloseRow[] {
  return (closest?.strings ?? []).map((notes, i) => {
    const now = gaps[i] ?? 0;
    return {
      name: names[i] ?? String(i + 1),
      now: (1e3 * now).toFixed(2),
      cells: notes.map(({ by, gap }): CloseCell => {
        if (gap === null) return { text: by === 'beyond' ? '–' : 'never', over: by === 'never' };
        const over = gap > now + SEARCHED;
        return { text: `${setAt(gap)}${by === 'touch' ? ' touches' : ''}${over ? ' ↓' : ''}`, over };
      }),
    };
  });
}

/** From the face of each string's pole, the higher where there are two, to its underside, m; string 1 first. @param under of string n */
export const faceGaps = ({ rows }: PickupBuild, under: (string: number) => number): readonly number[] =>
  (rows[0]?.pole.heights ?? []).map(
    (_, i) => under(i + 1) - Math.max(...rows.map(({ pole }) => pole.heights[i] ?? 0)),
  );
