/** What follows from what was read, in sentences. */
import type { BenchFigures } from '../physics/benchFigures.ts';
import { noteName } from '../shape/noteNames.ts';
import type { Pickup, Sheet } from '../sheet/sheet.ts';
import { threeDigits } from '../sheet/shown.ts';
import { computed } from './shown.ts';

/** What a gauss meter (T, above 0 whichever pole) and a compass say, a row each, string 1 first; null where nothing was read. */
export interface PoleReadings {
  readonly tops: readonly (readonly (number | null)[])[];
  readonly up: readonly ('north' | 'south' | null)[];
}

/** Less than this is what meters themselves differ by. */
const SAME = 0.005;
/** What magnets, and windings, differ by from piece to piece (common practice): shares. */
export const SPREAD = { resistance: 0.05, inductance: 0.05, field: 0.1 } as const;
/** A pole so far from the mean of the others is to be looked at. */
const ODD = 0.15;
/** More of them are said together. */
const MANY = 3;

const off = (ratio: number): string => {
  const by = ratio - 1;
  if (Math.abs(by) < SAME) return 'as reckoned';
  const percent = Math.abs(100 * by);
  return `${percent.toFixed(percent < 9.95 ? 1 : 0)} % ${by < 0 ? 'low' : 'high'}`;
};

const usual = (ratio: number, spread: number): string =>
  Math.abs(ratio - 1) >= SAME && Math.abs(ratio - 1) <= spread ? ', within the usual spread' : '';

/** «280 turns too few (7,520 of 7,800)», to two digits that a meter's spread leaves. */
function turnsWords({ build }: Pickup, ratio: number): string {
  const [first, ...others] = build!.rows;
  const planned = first!.turns;
  const by = Math.abs(planned * (ratio - 1));
  const shown = by < 1 ? 0 : Number(by.toPrecision(2));
  if (shown === 0 || Math.abs(ratio - 1) < SAME / 2) return 'as many turns as planned';
  const alike = others.length > 0 ? ' in each coil, if both differ alike' : '';
  return `about ${shown} turns too ${ratio < 1 ? 'few' : 'many'}${alike} (${Math.round(planned * ratio)} of ${planned})`;
}

const wireWords = (ratio: number): string =>
  Math.abs(ratio - 1) < SAME / 2
    ? 'wire as thick as planned'
    : `wire ${(100 * Math.abs(ratio - 1)).toFixed(1)} % ${ratio > 1 ? 'thick' : 'thin'}`;

/** Whether L is so far off that its steel is worth a word. */
export const explainsSteel = ({ inductance }: NonNullable<BenchFigures['follows']>): boolean =>
  inductance !== null && Math.abs(inductance - 1) >= SAME;

/** «Or its steel has µ 143 for the coil, not 200.» */
function steelWords({
  reckoned,
  explains,
}: NonNullable<NonNullable<BenchFigures['follows']>['steel']>): string {
  if (explains === null) return 'No permeability of its steel alone explains that.';
  return `Or its steel has µ ${threeDigits(explains)} for the coil, not ${threeDigits(reckoned)}.`;
}

/** What sentences about coils want: of the figures for the bench, or of a measured curve. */
export interface CoilsRead {
  readonly follows: BenchFigures['follows'];
  readonly wish: {
    readonly pickup: number;
    readonly read: Pick<BenchFigures['wish']['read'], 'capacitance'>;
  };
  /** Of every pickup. */
  readonly coils: readonly (readonly Pick<BenchFigures['coils'][number][number], 'outcome'>[])[];
}

/**
 * Sentences about coils and circuit; empty while nothing was read.
 * @param by what a capacitance was read by
 */
export function coilWords(
  pickup: Pickup,
  { follows, wish, coils }: CoilsRead,
  by = 'Read at the leads,',
): readonly string[] {
  if (!follows) return [];
  const { resistance, inductance, peak, turns, wire, steel, coilCapacitance, beyond } = follows;
  const words: string[] = [];
  if (resistance !== null) {
    const alone = turns?.by === 'resistance' && Math.abs(resistance - 1) >= SAME;
    const why = alone ? `: ${turnsWords(pickup, turns.ratio)}, or ${wireWords(wire ?? 1)}` : '';
    words.push(`R is ${off(resistance)}${usual(resistance, SPREAD.resistance)}${why}.`);
  }
  if (inductance !== null) {
    const why = turns?.by === 'inductance' ? `: ${turnsWords(pickup, turns.ratio)}` : '';
    words.push(`L is ${off(inductance)}${usual(inductance, SPREAD.inductance)}${why}.`);
    if (steel && explainsSteel(follows)) words.push(steelWords(steel));
    if (turns?.by === 'inductance' && wire !== null)
      words.push(`With so many turns R says ${wireWords(wire)}.`);
  }
  if (beyond)
    words.push(
      'The peak is higher than even a winding without any capacitance gives: look at L, the probe and its load once more.',
    );
  else if (coilCapacitance !== null) {
    const each = pickup.rows.length > 1 ? ' for each coil' : '';
    const from = wish.read.capacitance !== null ? by : 'The peak says';
    const bare = coils[wish.pickup]?.[0]?.outcome.computed?.capacitance;
    const than =
      bare === undefined
        ? ''
        : `; the bare winding has ${computed(bare, 'coilCapacitance')}, leads and grounded metal are in the rest`;
    words.push(`${from} C = ${computed(coilCapacitance, 'coilCapacitance')}${each}${than}.`);
  }
  if (peak !== null && wish.read.capacitance !== null && Math.abs(peak - 1) >= SAME)
    words.push(`The peak is ${off(peak)} against the bare winding’s.`);
  return words;
}

/** Sentences about magnets and polarity; empty while nothing was read. */
export function poleWords(
  sheet: Sheet,
  pickup: Pickup,
  { strings, coils, wish }: BenchFigures,
  { tops, up }: PoleReadings,
): readonly string[] {
  if (!strings) return [];
  const two = pickup.rows.length > 1;
  const name = (r: number): string => (two ? ` of row ${r + 1}` : '');
  return pickup.rows.flatMap((_, r): string[] => {
    const read = (tops[r] ?? []).flatMap((value, i) => {
      const expected = strings[i]?.tops[r];
      return value === null || !expected ? [] : [{ i, ratio: value / Math.abs(expected) }];
    });
    const words: string[] = [];
    if (read.length > 0) {
      const mean = read.reduce((sum, { ratio }) => sum + ratio, 0) / read.length;
      const count = read.length > 1 ? `The ${read.length} poles${name(r)} read` : `The pole${name(r)} reads`;
      words.push(`${count} ${off(mean)}${usual(mean, SPREAD.field)}.`);
      const odd = read.flatMap(({ i, ratio }) => {
        const others = read.filter((one) => one.i !== i);
        const rest = others.reduce((sum, one) => sum + one.ratio, 0) / others.length;
        const string = `${i + 1} ${noteName(sheet.instrument.strings[i]!.midi)}`;
        return others.length < 2 || Math.abs(ratio / rest - 1) <= ODD
          ? []
          : [{ string, by: off(ratio / rest), ratio: ratio / rest }];
      });
      const [first] = odd;
      if (first && odd.length === 1)
        words.push(
          `The pole${name(r)} under string ${first.string} is ${first.by} against the others: look at it.`,
        );
      else if (odd.length > MANY) {
        const all = odd.map(({ ratio }) => ratio);
        words.push(
          `${odd.length} of them lie far off the others, from ${off(Math.min(...all))} to ${off(Math.max(...all))}: look at how they are set and charged.`,
        );
      } else if (first)
        words.push(
          `Look at the poles${name(r)} under strings ${odd.map(({ string, by }) => `${string} (${by})`).join(', ')}: so they are against the others.`,
        );
    }
    const meant = coils[wish.pickup]?.[r]?.up ?? null;
    const found = up[r] ?? null;
    if (found !== null && meant !== null)
      words.push(
        found === meant
          ? `The compass agrees: ${found} is up${name(r) === '' ? '' : ` in row ${r + 1}`}.`
          : `The compass finds ${found} up${name(r) === '' ? '' : ` in row ${r + 1}`} where ${meant} is meant: turn the magnet${two ? '' : 's'} round, or exchange the coil’s leads and mind what else is heard with it.`,
      );
    return words;
  });
}
