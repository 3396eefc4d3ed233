/** What a maker takes to the workbench as figures: the wire of every coil, and what meters will read of one pickup. */
import { hasCoil } from '../shape/hasCoil.ts';
import { coverTop } from '../shape/cover.ts';
import { faceUnder } from '../shape/faces.ts';
import { pickupParts } from '../shape/parts.ts';
import { polePlace } from '../shape/poleRow.ts';
import { isFitted, upAt } from '../shape/singlePole.ts';
import type { Tops } from '../shape/poleRow.ts';
import { BARE_WINDING, LEADS_AND_METAL } from '../shape/selfCapacitance.ts';
import type { Pickup, RowBuild, Sheet } from '../sheet/sheet.ts';
import { Alone, leadCapacitance, leadResistance, UNLOADED, weightsOf, type Load } from './alone.ts';
import { asBuilt, changed, follow, heardAlone, type Follows, type Readings } from './follow.ts';
import { chargedBy } from './charged.ts';
import type { CurveFeatures } from './circuit/features.ts';
import { fieldQuestion } from './fieldQuestion.ts';
import type { FieldAnswer, FieldCoil, Fields } from './heard/fieldAnswer.ts';
import { copperPerMetre, copperRise, enamelPerMetre, overallDiameter } from './magnetics/coil/wire.ts';
import { probeReading } from './picture/plan.ts';
import { sourcesOf } from './picture/sources.ts';
import { predict } from './predict.ts';
import { steelSpan } from './steelFit.ts';
import type { CoilOutcome, PickupOutcome, Prediction } from './prediction.ts';

/** How it will be measured. */
export interface BenchWish {
  /** Index into the sheet's pickups. */
  readonly pickup: number;
  /** What stands at the leads while the peak is looked for. */
  readonly probe: Load;
  /** At which a bridge reads inductance, Hz. */
  readonly bridge: number;
  /** How far inside its tip a gauss meter's element lies, m. */
  readonly depth: number;
  /** Of the pickup while it is measured, °C. */
  readonly celsius: number;
  /** What was read, units as in Readings. */
  readonly read: Pick<Readings, 'resistance' | 'inductance' | 'capacitance' | 'peak'>;
}

/** A peak of the level, Hz and dB above the level at 20 Hz. */
export type Peak = NonNullable<CurveFeatures['resonance']>;

/** One coil: its wire, and what the circuit has of it. */
export interface BenchCoil {
  /** null without a build. */
  readonly wire: WireFigures | null;
  /** Which pole of the row is up, as the strings over it find it; null without a build. */
  readonly up: 'north' | 'south' | null;
  readonly outcome: CoilOutcome;
}

/** The wire of a coil. */
export interface WireFigures {
  /** m. */
  readonly length: number;
  /** kg of copper, and of the enamel on it. */
  readonly copper: number;
  readonly enamel: number;
  /** With its enamel, m. */
  readonly overall: number;
  /** Turns over those that the window takes, 0–1. */
  readonly fill: number;
}

/** One string's poles. */
export interface BenchString {
  /** Of each row, upright flux density (T; above 0: north is up) where the element of a gauss meter set on the pole lies. */
  readonly tops: readonly number[];
  /** On the string over the row where it is strongest, T. */
  readonly atString: number;
}

/** All of it; coils of every pickup, readings of the one that is wished for. */
export interface BenchFigures {
  readonly wish: BenchWish;
  /** In the sheet's order, a list of coils each; empty of a pickup without any. */
  readonly coils: readonly (readonly BenchCoil[])[];
  /**
   * Of the pickup as it is built, figures that were typed in set aside. At the leads: Ω at its temperature, H as a bridge reads
   * it, F of the windings alone; null without a coil.
   */
  readonly resistance: number | null;
  readonly inductance: number | null;
  readonly capacitance: number | null;
  /** H between which the inductance lies as handbooks have its steel's permeability; null where no core is of a steel that they name. */
  readonly steelSpan: Span | null;
  /** With nothing at the leads, and with the probe; null where there is no peak. */
  readonly unloaded: Peak | null;
  readonly probed: Peak | null;
  /** Hz between which the two lie as finished windings have more or less capacitance than reckoned; null where there is no peak. */
  readonly unloadedSpan: Span | null;
  readonly probedSpan: Span | null;
  /** In the guitar as its controls stand, typed figures and all; null where there is no peak. */
  readonly inGuitar: Peak | null;
  /** String 1 first; null without a build. */
  readonly strings: readonly BenchString[] | null;
  /** What follows from what was read; null where nothing was. */
  readonly follows: Follows | null;
}

/** From and to, Hz or H. */
export type Span = readonly [from: number, to: number];

/**
 * Figures of a checked sheet; units stand at the types.
 * @param prediction of the same sheet and fields
 * @throws as predict does
 */
export function benchFigures(
  sheet: Sheet,
  fields: Fields,
  wish: BenchWish,
  prediction: Prediction = predict(sheet, fields),
): BenchFigures {
  const { instrument, listen } = sheet;
  const given = sheet.pickups[wish.pickup];
  if (!given) {
    throw new RangeError(
      `The pickup must be one of the sheet's ${sheet.pickups.length}; got number ${wish.pickup + 1}.`,
    );
  }
  const field = fields[wish.pickup] ?? null;
  const coils = sheet.pickups.map((one, p) => coilsOf(one, fields[p] ?? null, prediction.pickups[p]!));
  const strings = benchStrings(sheet, wish, field, prediction);
  if (!hasCoil(given.build)) return { wish, coils, strings, ...NO_LEADS };
  const pickup = heardAlone(sheet, asBuilt(given), field);
  const weights = weightsOf(instrument, pickup, listen.string);
  const bare = new Alone(pickup, UNLOADED, weights);
  const span = (load: Load): Span | null => {
    const { capacitance } = pickup.rows[0]!.coil;
    const at = (C: number): number | undefined =>
      new Alone(changed(pickup, 1, C), load, weights).features().resonance?.frequency;
    const [low, high] = [
      at(BARE_WINDING.most * capacitance + LEADS_AND_METAL.most),
      at(BARE_WINDING.least * capacitance),
    ];
    return given.build && low !== undefined && high !== undefined ? [low, high] : null;
  };
  const { read, probe, bridge, celsius } = wish;
  const anything = Object.values(read).some((value) => value !== null);
  return {
    wish,
    coils,
    resistance: leadResistance(pickup) * copperRise(celsius),
    inductance: bare.readInductance(bridge),
    capacitance: leadCapacitance(pickup),
    steelSpan: steelSpan(given, field, (other) =>
      new Alone(heardAlone(sheet, asBuilt(given), other), UNLOADED, weights).readInductance(bridge),
    ),
    unloaded: bare.features().resonance,
    probed: new Alone(pickup, probe, weights).features().resonance,
    unloadedSpan: span(UNLOADED),
    probedSpan: span(probe),
    inGuitar: prediction.voices[wish.pickup]!.features.resonance,
    strings,
    follows: anything ? follow(sheet, wish.pickup, field, { ...read, probe, bridge, celsius }) : null,
  };
}

/** Of a pickup without a coil. */
const NO_LEADS = {
  ...{ resistance: null, inductance: null, capacitance: null, unloaded: null, probed: null },
  ...{ steelSpan: null, unloadedSpan: null, probedSpan: null, inGuitar: null, follows: null },
} as const;

const coilsOf = (
  { build }: Pickup,
  field: FieldAnswer | null,
  outcome: PickupOutcome,
): readonly BenchCoil[] =>
  outcome.coils.map((coil, r): BenchCoil => {
    const row = build?.rows[r];
    const computed = field?.coils[r];
    return {
      wire: row && computed ? wireFigures(row, computed) : null,
      up: row ? poleUp(row, field, r) : null,
      outcome: coil,
    };
  });

/** Length, mass and fill of a coil's wire; units stand at the type. */
function wireFigures({ turns, wire }: RowBuild, { meanTurn, turnsThatFit }: FieldCoil): WireFigures {
  const length = turns * meanTurn;
  const overall = overallDiameter(wire.conductor, wire.enamel);
  return {
    length,
    copper: length * copperPerMetre(wire.conductor),
    enamel: length * enamelPerMetre(wire.conductor, overall),
    overall,
    fill: turns / turnsThatFit,
  };
}

/** A reach of its sign comes of a winding's sense and of the pole under it; of the poles that stand as the row says. */
function poleUp(row: RowBuild, field: FieldAnswer | null, r: number): BenchCoil['up'] {
  if (!field) return null;
  const { wound, up } = row;
  const usual = field.strings.filter((_, i) => isFitted(row.pole, i) && upAt(row, i) === up);
  const area = (usual.length > 0 ? usual : field.strings).reduce((sum, { rows }) => sum + rows[r]!.area, 0);
  return area > 0 === (wound === 'clockwise') ? 'north' : 'south';
}

function benchStrings(
  sheet: Sheet,
  { pickup: index, depth }: BenchWish,
  field: FieldAnswer | null,
  prediction: Prediction,
): readonly BenchString[] | null {
  const pickup = sheet.pickups[index]!;
  const question = fieldQuestion(sheet, index);
  if (!field || !question || !pickup.build) return null;
  const sources = sourcesOf(chargedBy(question.build, field));
  const tips = tipHeights(pickup);
  const lid = coverTop(question.build);
  return sheet.instrument.strings.map((_, i): BenchString => ({
    tops: question.build.rows.map(({ offset, pitch, heights }, r) => {
      const { y: string } = question.strings[i]!;
      const y = heights.length > 0 ? polePlace({ pitch, heights }, i) : string;
      const tip = tips[r]![i] ?? Math.max(lid, faceUnder(question.build, r, i, y));
      return probeReading(sources, offset, y, tip + depth).bz;
    }),
    atString: prediction.pickups[index]!.strings[i]!.field!.fluxDensity,
  }));
}

/** z of what a meter's tip is set on over every pole: the pole, or a cover that has no hole over it. */
function tipHeights({ build, rows }: Pickup): readonly Tops[] {
  const parts = pickupParts(
    build!,
    rows.map(({ offset }) => offset),
  );
  return parts.rows.map(({ heights }, r) => {
    const lid = parts.cover?.holed[r] ? -Infinity : coverTop(parts);
    return heights.map((height) => (height === null ? null : Math.max(height, lid)));
  });
}
