/** A curve that was measured at the bench beside the predicted one, and what follows from it. */
import { hasCoil, isHeard } from '../shape/hasCoil.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { Alone, weightsOf, type Load } from './alone.ts';
import type { Fields } from './field.ts';
import { asBuilt, changed, follow, heardAlone, type Follows } from './follow.ts';
import { resolve } from './heard/resolve.ts';
import type { HeardSheet } from './heard/resolved.ts';
import { HIGHEST, listen } from './listening.ts';
import { coilRead, type CoilRead } from './measuredCoil.ts';
import { peakOf, widths } from './measuredShape.ts';
import { stopString } from './string/note.ts';
import { voiceOf } from './voice.ts';

/** Of what it was measured: |Z| or the level of the pickup by itself; or the level in the guitar, which has three curves. */
export type MeasuredOf = 'impedance' | 'alone' | 'circuit' | 'reach' | 'placed';

/** A measured curve, and how it was measured. */
export interface MeasuredWish {
  readonly of: MeasuredOf;
  /** Index into the sheet's pickups, of the one that was measured by itself. */
  readonly pickup: number;
  /** Hz, rising. */
  readonly frequencies: Float64Array;
  /** A level's dB over whatever was at hand, or |Z| in dB over 1 Ω. */
  readonly decibels: Float64Array;
  /** What stood at the leads of a pickup by itself. */
  readonly probe: Load;
  /** At which a bridge reads inductance, Hz. */
  readonly bridge: number;
  /** Of the pickup while it was measured, °C. */
  readonly celsius: number;
}

/** Both of them; frequencies in Hz, levels in dB, |Z| in dB over 1 Ω. */
export interface MeasuredFigures {
  readonly wish: MeasuredWish;
  /** The predicted one, over the whole of the measured band and a little beyond. */
  readonly frequencies: Float64Array;
  readonly predicted: Float64Array;
  /** What is added to a measured level so that both lie on each other; 0 for |Z|, which has its own. */
  readonly shift: number;
  /** The band in which they are compared, and how many measured points lie in it. */
  readonly band: readonly [from: number, to: number];
  readonly points: number;
  /** Measured over predicted, dB: where most, and root mean square. */
  readonly largest: { readonly frequency: number; readonly db: number };
  readonly rms: number;
  /** Hz; null where a curve has no peak in the band. */
  readonly peaks: { readonly measured: number | null; readonly predicted: number | null };
  /** What meters would have read of the coil that was measured; null for a level in the guitar. */
  readonly read: CoilRead | null;
  /** What follows from that; null where nothing does. */
  readonly follows: Follows | null;
  /** In the guitar, what would move the predicted peak to the measured one; null where nothing is known of both. */
  readonly asIf: AsIf | null;
}

/** Either of the two would do. */
export interface AsIf {
  /** Beside the cable, F; below 0: less. null where even none at all is too much. */
  readonly capacitance: number | null;
  /** Of all coils that sound, over what is reckoned, 1. */
  readonly inductance: number | null;
}

/** Hz up to which a pickup by itself is compared; in the guitar as far as its curves go. */
const FAR = 200_000;
const LOWEST = 20;
/** Fewer measured points in the band are no curve. */
const LEAST_POINTS = 8;
/** Of the predicted curve as it is drawn; and how far beyond the measured one it goes, a ratio. */
const DRAWN = 400;
const BEYOND = 1.5;
/** Of the search for what moves a peak: how often at most, and how close, a share of its frequency. */
const STEPS = 12;
/** Places within an octave of a peak at which it is looked for: 0.2 % apart. */
const FINE = 700;
const CLOSE = 1e-4;

/**
 * A measured curve laid over the predicted one of the sheet as it stands, typed figures and all. What follows from it is said
 * against the coil as its build gives it, as with any reading (see follow).
 *
 * A level is shifted by the mean of the differences, each point with the width in ln f that it stands for: least squares of dB.
 *
 * @param wish units stand at the type
 * @throws RangeError where too little of it lies in the band, or where there is no coil; else as predict does
 */
export function measuredFigures(sheet: Sheet, fields: Fields, wish: MeasuredWish): MeasuredFigures {
  const inGuitar = wish.of === 'circuit' || wish.of === 'reach' || wish.of === 'placed';
  if (inGuitar ? !sheet.pickups.some(isHeard) : !hasCoil(sheet.pickups[wish.pickup]?.build))
    throw new RangeError(
      'A measured curve must have a coil to be compared with; there is none. Put it on, or choose another pickup.',
    );
  const most = inGuitar ? HIGHEST : FAR;
  const kept = wish.frequencies.map((_, i) => i).filter((i) => inBand(wish.frequencies[i]!, most));
  if (kept.length < LEAST_POINTS)
    throw new RangeError(
      `A measured curve must have ${LEAST_POINTS} points or more between 20 Hz and ${most / 1000} kHz; got ${kept.length}. Look at the unit of its frequency.`,
    );
  const frequencies = Float64Array.from(kept, (i) => wish.frequencies[i]!);
  const measured = Float64Array.from(kept, (i) => wish.decibels[i]!);
  const [from, to] = [frequencies[0]!, frequencies.at(-1)!];
  const predictedAt = predictor(sheet, fields, wish);
  const there = predictedAt(frequencies);
  const weights = widths(frequencies);
  const mean = there.reduce((sum, level, i) => sum + weights[i]! * (level - measured[i]!), 0);
  const shift = wish.of === 'impedance' ? 0 : mean;
  const off = measured.map((level, i) => level + shift - there[i]!);
  const worst = off.reduce((w, db, i) => (Math.abs(db) > Math.abs(off[w]!) ? i : w), 0);
  // A comb has many.
  const peaks =
    wish.of === 'placed'
      ? { measured: null, predicted: null }
      : peaksOf(frequencies, measured, there, predictedAt);
  const low = Math.max(LOWEST, from / BEYOND);
  const span = Math.log(Math.min(most, to * BEYOND) / low);
  const drawn = Float64Array.from({ length: DRAWN }, (_, i) => low * Math.exp((span * i) / (DRAWN - 1)));
  return {
    wish,
    frequencies: drawn,
    predicted: predictedAt(drawn),
    shift,
    band: [from, to],
    points: kept.length,
    largest: { frequency: frequencies[worst]!, db: off[worst]! },
    rms: Math.sqrt(off.reduce((sum, db, i) => sum + weights[i]! * db * db, 0)),
    peaks,
    ...followed(sheet, fields, wish, frequencies, measured),
    asIf:
      inGuitar && peaks.measured !== null && peaks.predicted !== null
        ? asIf(sheet, fields, wish, frequencies, measured)
        : null,
  };
}

const inBand = (frequency: number, most: number): boolean =>
  frequency >= LOWEST * (1 - 1e-9) && frequency <= most * (1 + 1e-9);

/**
 * Hz: the predicted peak as fine as it is known, and the measured one so far from it as the same points show both: what they
 * miss of a peak, which no parabola fits far down, is missed in both.
 */
function peaksOf(
  frequencies: Float64Array,
  measured: Float64Array,
  there: Float64Array,
  predictedAt: Curve,
): MeasuredFigures['peaks'] {
  const [seen, same] = [peakOf(frequencies, measured), peakOf(frequencies, there)];
  if (same === null) return { measured: seen, predicted: null };
  const about = Float64Array.from({ length: FINE }, (_, i) => same * 2 ** ((2 * i) / (FINE - 1) - 1));
  const levels = predictedAt(about);
  const top = levels.reduce((t, level, i) => (level > levels[t]! ? i : t), 0);
  const predicted = about[top]!;
  return { measured: seen && (seen * predicted) / same, predicted };
}

type Curve = (frequencies: Float64Array) => Float64Array;

/** The predicted curve at any rising frequencies, Hz; dB. */
function predictor(sheet: Sheet, fields: Fields, wish: MeasuredWish): Curve {
  const { of, pickup: index, probe } = wish;
  if (of !== 'impedance' && of !== 'alone') return inTheGuitar(resolve(sheet, fields), of);
  const heard = heardAlone(sheet, sheet.pickups[index]!, fields[index] ?? null);
  const alone = new Alone(heard, probe, weightsOf(sheet.instrument, heard, sheet.listen.string));
  return (frequencies) => frequencies.map(of === 'alone' ? alone.levelDb : alone.impedanceDb);
}

function inTheGuitar(sheet: HeardSheet, of: 'circuit' | 'reach' | 'placed'): Curve {
  const { instrument, listen: listening, pickups } = sheet;
  const members = pickups.flatMap(({ sounds }, p) => (sounds ? [p] : []));
  const note = stopString(instrument, listening.string, listening.fret);
  return (frequencies) => {
    const heard = listen(sheet, note, frequencies, { most: 1, members });
    const { circuitDb, reachDb, placedDb } = voiceOf(sheet, heard, members, '');
    return { circuit: circuitDb, reach: reachDb, placed: placedDb }[of];
  };
}

/** By how much capacitance, or inductance, the predicted curve peaks where the measured one does. */
function asIf(
  sheet: Sheet,
  fields: Fields,
  { of }: MeasuredWish,
  frequencies: Float64Array,
  measured: Float64Array,
): AsIf {
  const peak = peakOf(frequencies, measured)!;
  const whole = resolve(sheet, fields);
  const { cable, input } = whole.harness;
  const had = cable.length * cable.capacitancePerMetre + input.capacitance;
  const curve = of as 'circuit' | 'reach';
  const off = (changedSheet: HeardSheet): number | null => {
    const found = peakOf(frequencies, inTheGuitar(changedSheet, curve)(frequencies));
    return found && (peak / found) ** 2 - 1;
  };
  const capacitance = searched(had, (C) =>
    off({
      ...whole,
      harness: { ...whole.harness, cable: { ...cable, length: 0 }, input: { ...input, capacitance: C } },
    }),
  );
  const inductance = searched(1, (k) =>
    off({ ...whole, pickups: whole.pickups.map((pickup) => changed(pickup, k, null)) }),
  );
  return { capacitance: capacitance === null ? null : capacitance - had, inductance };
}

/** Where `off` is 0: a secant, since 1/f² grows nearly linearly with capacitance and inductance; null where it finds none. */
function searched(start: number, off: (value: number) => number | null): number | null {
  let [a, b] = [start, 1.1 * start];
  let [atA, atB] = [off(a), off(b)];
  for (let i = 0; i < STEPS; i++) {
    if (atA === null || atB === null || atA === atB) return null;
    if (Math.abs(atB) < CLOSE) return b;
    const next = b - (atB * (b - a)) / (atB - atA);
    if (!(next > 0)) return null;
    [a, atA] = [b, atB];
    b = next;
    atB = off(b);
  }
  return null;
}

function followed(
  sheet: Sheet,
  fields: Fields,
  { of, pickup: index, probe, bridge, celsius }: MeasuredWish,
  frequencies: Float64Array,
  measured: Float64Array,
): Pick<MeasuredFigures, 'read' | 'follows'> {
  if (of !== 'impedance' && of !== 'alone') return { read: null, follows: null };
  const field = fields[index] ?? null;
  const heard = heardAlone(sheet, asBuilt(sheet.pickups[index]!), field);
  const weights = weightsOf(sheet.instrument, heard, sheet.listen.string);
  const read = coilRead(heard, weights, { of, frequencies, measured, probe, bridge });
  const { resistance, inductance, capacitance, peak } = read;
  const nothing = resistance === null && inductance === null && capacitance === null && peak === null;
  return {
    read,
    follows: nothing ? null : follow(sheet, index, field, { ...read, probe, bridge, celsius }),
  };
}
