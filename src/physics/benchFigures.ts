/** What a maker takes to the workbench as figures: the wire of every coil, and what meters will read of one pickup. */
import { coverTop } from '../shape/cover.ts';
import { pickupParts } from '../shape/parts.ts';
import { polePlace } from '../shape/poleRow.ts';
import type { Pickup, RowBuild, Sheet } from '../sheet/sheet.ts';
import { Alone, leadResistance, UNLOADED, weightsOf, type Load } from './alone.ts';
import { chargedBy } from './charged.ts';
import type { CurveFeatures } from './circuit/features.ts';
import { fieldQuestion } from './fieldQuestion.ts';
import type { FieldAnswer, FieldCoil, Fields } from './heard/fieldAnswer.ts';
import { resolve } from './heard/resolve.ts';
import { copperPerMetre, enamelPerMetre, overallDiameter } from './magnetics/coil/wire.ts';
import { probeReading } from './picture/plan.ts';
import { sourcesOf } from './picture/sources.ts';
import { predict } from './predict.ts';
import type { CoilOutcome, Prediction } from './prediction.ts';

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
  /** In the sheet's order, a list of coils each. */
  readonly coils: readonly (readonly BenchCoil[])[];
  /** At the leads: Ω at 20 °C, and H as a bridge reads it. */
  readonly resistance: number;
  readonly inductance: number;
  /** With nothing at the leads, with the probe, and in the guitar as its controls stand; null where there is no peak. */
  readonly unloaded: Peak | null;
  readonly probed: Peak | null;
  readonly inGuitar: Peak | null;
  /** String 1 first; null without a build. */
  readonly strings: readonly BenchString[] | null;
}

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
  const heard = resolve(sheet, fields).pickups;
  const pickup = heard[wish.pickup];
  if (!pickup) {
    throw new RangeError(
      `The pickup must be one of the sheet's ${heard.length}; got number ${wish.pickup + 1}.`,
    );
  }
  const weights = weightsOf(instrument, pickup, listen.string);
  const bare = new Alone(pickup, UNLOADED, weights);
  return {
    wish,
    coils: sheet.pickups.map((one, p) =>
      one.rows.map((_, r): BenchCoil => {
        const row = one.build?.rows[r];
        const coil = fields[p]?.coils[r];
        return {
          wire: row && coil ? wireFigures(row, coil) : null,
          up: row ? poleUp(row, fields[p] ?? null, r) : null,
          outcome: prediction.pickups[p]!.coils[r]!,
        };
      }),
    ),
    resistance: leadResistance(pickup),
    inductance: bare.readInductance(wish.bridge),
    unloaded: bare.features().resonance,
    probed: new Alone(pickup, wish.probe, weights).features().resonance,
    inGuitar: prediction.voices[wish.pickup]!.features.resonance,
    strings: benchStrings(sheet, wish, fields[wish.pickup] ?? null, prediction),
  };
}

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

/** A reach of its sign comes of a winding's sense and of the pole under it. */
function poleUp({ wound }: RowBuild, field: FieldAnswer | null, r: number): BenchCoil['up'] {
  if (!field) return null;
  const area = field.strings.reduce((sum, { rows }) => sum + rows[r]!.area, 0);
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
  return sheet.instrument.strings.map((_, i): BenchString => ({
    tops: question.build.rows.map(({ offset, pitch, heights }, r) => {
      const y = polePlace({ pitch, heights }, i);
      return probeReading(sources, offset, y, tips[r]![i]! + depth).bz;
    }),
    atString: prediction.pickups[index]!.strings[i]!.field!.fluxDensity,
  }));
}

/** z of what a meter's tip is set on over every pole: the pole, or a cover that has no hole over it. */
function tipHeights({ build, rows }: Pickup): readonly (readonly number[])[] {
  const parts = pickupParts(
    build!,
    rows.map(({ offset }) => offset),
  );
  return parts.rows.map(({ heights }, r) => {
    const lid = parts.cover?.holed[r] ? -Infinity : coverTop(parts);
    return heights.map((height) => Math.max(height, lid));
  });
}
