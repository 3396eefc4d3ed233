/** What follows from meters' readings of a pickup: how its coils differ from what the build gives. */
import type { Pickup, RowBuild, Sheet } from '../sheet/sheet.ts';
import { Alone, leadCapacitance, leadResistance, UNLOADED, weightsOf, type Load } from './alone.ts';
import { fieldsOf } from './field.ts';
import { FieldError } from './fieldFaults.ts';
import { PACKING } from './fieldQuestion.ts';
import type { FieldAnswer } from './heard/fieldAnswer.ts';
import { resolve } from './heard/resolve.ts';
import type { HeardPickup } from './heard/resolved.ts';
import {
  copperRise,
  meanTurn,
  overallDiameter,
  resistancePerMetre,
  woundRadius,
} from './magnetics/coil/wire.ts';
import { steelThatReads, type SteelReading } from './steelFit.ts';

/** As meters show them; null for what was not read. */
export interface Readings {
  /** At the leads, Ω at the pickup's own temperature, °C. */
  readonly resistance: number | null;
  readonly celsius: number;
  /** In series, H, at the bridge's frequency, Hz. */
  readonly inductance: number | null;
  readonly bridge: number;
  /** Across the leads with nothing else there, F. */
  readonly capacitance: number | null;
  /** Of the level with the probe at the leads, Hz; where C was read, it only confirms. */
  readonly peak: number | null;
  readonly probe: Load;
}

/** A coil's figures as the readings have them, Ω at 20 °C, H at low frequency, F; null where they tell nothing. */
export interface ReadCoil {
  readonly resistance: number | null;
  readonly inductance: number | null;
  readonly capacitance: number | null;
}

/** All ratios are what is read over what was reckoned; several coils are taken to differ alike. */
export interface Follows {
  readonly resistance: number | null;
  readonly inductance: number | null;
  readonly capacitance: number | null;
  readonly peak: number | null;
  /** Turns over those of the build, and which reading says so; null without a build or such a reading. */
  readonly turns: { readonly ratio: number; readonly by: 'inductance' | 'resistance' } | null;
  /** The wire's bare diameter over the build's: with as many turns as L says, or where only R is known as many as planned. */
  readonly wire: number | null;
  /** Which permeability of its steel would explain L; null where no core is of steel, or L was not read. */
  readonly steel: SteelReading | null;
  /** Of every coil, F; null where neither C nor a peak says so. */
  readonly coilCapacitance: number | null;
  /** Whether the peak lies higher than any capacitance allows. */
  readonly beyond: boolean;
  readonly coils: readonly ReadCoil[];
}

/** Rounds in which inductance and capacitance, which each reading mixes, settle to a millionth. */
const ROUNDS = 4;
const STEPS = 12;
const CLOSE = 1e-6;
/** Solves of the field with other turns: what is left after two is below a thousandth. */
const REWINDS = 2;
/** F; a winding with less would not be one. */
const LEAST = 1e-13;

/** A pickup as its build gives it: figures that were typed in are set aside; without a build they are all there is. */
export const asBuilt = (pickup: Pickup): Pickup =>
  pickup.build
    ? {
        ...pickup,
        rows: pickup.rows.map((row) => ({
          ...row,
          coil: { resistance: null, inductance: null, capacitance: null, coreLoss: null },
        })),
      }
    : pickup;

/** One pickup by itself with nothing left open. */
export const heardAlone = (sheet: Sheet, pickup: Pickup, field: FieldAnswer | null): HeardPickup =>
  resolve({ ...sheet, pickups: [pickup] }, [field]).pickups[0]!;

/** Inductances times k, 1, and each capacitance C, F; null leaves them. */
export function changed(pickup: HeardPickup, k: number, C: number | null): HeardPickup {
  return {
    ...pickup,
    rows: pickup.rows.map(({ coil, core, ...row }) => ({
      ...row,
      coil: { ...coil, inductance: k * coil.inductance, capacitance: C ?? coil.capacitance },
      ...(core && { core: { ...core, scale: k * core.scale } }),
    })),
  };
}

/**
 * What the readings (units stand at the type) of the sheet's pickup, counted from 0, say of it.
 * @throws as fieldsOf does, for the build as it is; never for one with other turns
 */
export function follow(sheet: Sheet, index: number, field: FieldAnswer | null, read: Readings): Follows {
  const pickup = asBuilt(sheet.pickups[index]!);
  const heard = heardAlone(sheet, pickup, field);
  const weights = weightsOf(sheet.instrument, heard, sheet.listen.string);
  const { k, C, beyond } = matched(heard, weights, read);
  const expected = leadResistance(heard);
  const R = read.resistance === null ? null : read.resistance / copperRise(read.celsius);
  const bare = new Alone(heard, UNLOADED, weights);
  const peak = new Alone(heard, read.probe, weights).features().resonance;
  const turns = turnsOf(sheet, pickup, field, R === null ? null : R / expected, k, C, read);
  return {
    resistance: R === null ? null : R / expected,
    inductance: read.inductance === null ? null : read.inductance / bare.readInductance(read.bridge),
    capacitance: read.capacitance === null ? null : read.capacitance / leadCapacitance(heard),
    peak: read.peak === null || !peak ? null : read.peak / peak.frequency,
    turns: turns && { ratio: turns.ratio, by: turns.by },
    wire: turns?.wire ?? null,
    steel:
      read.inductance === null ? null : steelOfReading(sheet, pickup, field, read.inductance, C, read.bridge),
    coilCapacitance: C,
    beyond,
    coils: heard.rows.map(({ coil }) => ({
      resistance: R === null ? null : (coil.resistance * R) / expected,
      inductance: read.inductance === null ? null : k * coil.inductance,
      capacitance: C,
    })),
  };
}

interface Matched {
  readonly k: number;
  readonly C: number | null;
  readonly beyond: boolean;
}

/** Inductance and capacitance with which the pickup reads as it did. */
function matched(heard: HeardPickup, weights: readonly number[], read: Readings): Matched {
  let k = 1;
  let C = read.capacitance === null ? null : perCoil(heard, read.capacitance);
  let beyond = false;
  for (let round = 0; round < ROUNDS; round++) {
    if (read.inductance !== null)
      for (let i = 0; i < 3; i++)
        k *= read.inductance / new Alone(changed(heard, k, C), UNLOADED, weights).readInductance(read.bridge);
    if (read.capacitance === null && read.peak !== null) {
      const found = capacitanceAt(heard, weights, k, C, read.probe, read.peak);
      beyond = found === null;
      C = found;
    }
    if (read.inductance === null || C === null) break;
  }
  return { k, C, beyond };
}

/** Of every coil, F, when so many farads are read at the leads. */
const perCoil = ({ rows, join }: HeardPickup, read: number): number =>
  rows.length === 1 ? read : join === 'series' ? read * rows.length : read / rows.length;

/**
 * F of every coil with which the level peaks at so many Hz: 1/f² grows nearly linearly with it, so that a secant finds it.
 * @returns null where none does
 */
function capacitanceAt(
  heard: HeardPickup,
  weights: readonly number[],
  k: number,
  start: number | null,
  probe: Load,
  peak: number,
): number | null {
  const off = (C: number): number | null => {
    const found = new Alone(changed(heard, k, C), probe, weights).features().resonance;
    return found && (peak / found.frequency) ** 2 - 1;
  };
  let a = start ?? heard.rows[0]!.coil.capacitance;
  let atA = off(a);
  let b = 1.3 * a;
  let atB = off(b);
  for (let i = 0; i < STEPS; i++) {
    if (atA === null || atB === null || atA === atB) return null;
    if (Math.abs(atB) < CLOSE) return b;
    const next = b - (atB * (b - a)) / (atB - atA);
    [a, atA] = [b, atB];
    // A winding without any is tried before it is given up.
    b = Math.max(LEAST, next);
    if (a === LEAST && b === LEAST) return null;
    atB = off(b);
  }
  return b;
}

/** Turns, and the wire that then has the resistance. @param ratio of R at 20 °C @param k of L, both 1 */
function turnsOf(
  sheet: Sheet,
  pickup: Pickup,
  field: FieldAnswer | null,
  ratio: number | null,
  k: number,
  C: number | null,
  read: Readings,
): { ratio: number; by: 'inductance' | 'resistance'; wire: number | null } | null {
  const { build } = pickup;
  if (!build || !field) return null;
  // Wound R of so many times the turns, of every coil alike.
  const wound = (times: number): number =>
    leadResistance({
      ...heardAlone(sheet, pickup, field),
      rows: heardAlone(sheet, pickup, field).rows.map((row, r) => ({
        ...row,
        coil: { ...row.coil, resistance: woundResistance(build.rows[r]!, times) },
      })),
    });
  const planned = wound(1);
  if (read.inductance !== null) {
    let times = Math.sqrt(k);
    for (let i = 0; i < REWINDS; i++) {
      const L = rewoundInductance(sheet, pickup, times, C, read.bridge);
      if (L === null) break;
      times *= Math.sqrt(read.inductance / L);
    }
    const wire = ratio === null ? null : Math.sqrt(wound(times) / (ratio * planned));
    return { ratio: times, by: 'inductance', wire };
  }
  if (ratio === null) return null;
  let times = ratio;
  for (let i = 0; i < STEPS; i++) times *= (ratio * planned) / wound(times);
  return { ratio: times, by: 'resistance', wire: 1 / Math.sqrt(ratio) };
}

/** Ω of a row's coil with so many times its turns in the same window. */
function woundResistance({ window, turns, wire }: RowBuild, times: number): number {
  const overall = overallDiameter(wire.conductor, wire.enamel);
  const outer = woundRadius(window.inner, window.top - window.bottom, times * turns, overall, PACKING);
  return times * turns * meanTurn({ ...window, outer, x: 0, y: 0 }) * resistancePerMetre(wire.conductor);
}

/** @param inductance that was read, H @param C of every coil, F; null: as reckoned @param bridge Hz */
function steelOfReading(
  sheet: Sheet,
  pickup: Pickup,
  field: FieldAnswer | null,
  inductance: number,
  C: number | null,
  bridge: number,
): SteelReading | null {
  return steelThatReads(
    pickup,
    field,
    inductance,
    (other, there) => bridgeReads(sheet, other, there, C, bridge),
    (other) => solvedAlone(sheet, other),
  );
}

/** What a bridge reads of a pickup by itself, H. */
function bridgeReads(
  sheet: Sheet,
  pickup: Pickup,
  field: FieldAnswer | null,
  C: number | null,
  bridge: number,
): number {
  const heard = heardAlone(sheet, pickup, field);
  const weights = weightsOf(sheet.instrument, heard, sheet.listen.string);
  return new Alone(changed(heard, 1, C), UNLOADED, weights).readInductance(bridge);
}

/** The field of a pickup by itself; null where it can't be built. */
function solvedAlone(sheet: Sheet, pickup: Pickup): FieldAnswer | null {
  try {
    return fieldsOf({ ...sheet, pickups: [pickup] })[0] ?? null;
  } catch (error) {
    if (error instanceof FieldError) return null;
    throw error;
  }
}

/** What the bridge would read with so many times the turns, H; null where they find no room. */
function rewoundInductance(
  sheet: Sheet,
  pickup: Pickup,
  times: number,
  C: number | null,
  bridge: number,
): number | null {
  const build = {
    ...pickup.build!,
    rows: pickup.build!.rows.map((row) => ({ ...row, turns: Math.round(times * row.turns) })),
  };
  const rewound = { ...pickup, build };
  const field = solvedAlone(sheet, rewound);
  return field && bridgeReads(sheet, rewound, field, C, bridge);
}
