/** The figures by which one version of a pickup is told from another: what is heard, and what it comes from. */
import type { Sheet } from '../sheet/sheet.ts';
import type { Fields } from './heard/fieldAnswer.ts';
import { predict } from './predict.ts';
import type { CoilOutcome, Prediction } from './prediction.ts';

/** Over one string; null where there is no such figure, or it is not finite. */
export interface WhyFigures {
  /** Of the open string's first partial at the cable's end, dB, reference as `Voice.circuitDb`. */
  readonly level: number | null;
  /** Hz, and dB above the level at 20 Hz. */
  readonly resonance: number | null;
  readonly height: number | null;
  /** Cents, moving towards the pickup; below 0: flat. */
  readonly pull: number | null;
  /** Mean of the rows' widths, m. */
  readonly reach: number | null;
  /** Means of the rows' widths of the field at the string and 1 mm over the tip, m. */
  readonly fieldWidth: number | null;
  readonly tipWidth: number | null;
  /** What these come from: T on the string; H and Ω of the coils as they are joined. */
  readonly field: number | null;
  readonly inductance: number | null;
  readonly coreLoss: number | null;
}

/** Of what, both from 0; string 1 first. */
export interface WhyPlace {
  readonly pickup: number;
  readonly string: number;
}

/**
 * What is heard is that of the selector's choice where the pickup is part of it, else of the pickup alone.
 * @throws as `predict`
 */
export function whyFigures(sheet: Sheet, fields: Fields, place: WhyPlace): WhyFigures {
  // The level is the open string's, whatever is stopped while one listens.
  const { listen } = sheet;
  const open = { ...sheet, listen: { ...listen, string: place.string + 1, fret: 0 } };
  return figuresOf(predict(open, fields), sheet, place);
}

function figuresOf(prediction: Prediction, sheet: Sheet, { pickup, string }: WhyPlace): WhyFigures {
  const { voices, sounding, pickups } = prediction;
  const voice = voices[sheet.pickups[pickup]?.sounds ? sounding : pickup] ?? voices[sounding]!;
  const outcome = pickups[pickup];
  const over = outcome?.strings[string];
  const { resonance } = voice.features;
  const parallel = sheet.pickups[pickup]?.join === 'parallel';
  return {
    level: voice.reach.rows.length === 0 ? null : finite(voice.partials[0]?.responseDb),
    resonance: finite(resonance?.frequency),
    height: finite(resonance?.heightDb),
    pull: finite(over?.field?.centsTowards),
    reach: mean(over?.widths),
    fieldWidth: mean(over?.field?.widths),
    tipWidth: mean(over?.field?.tipWidths),
    field: finite(over?.field?.fluxDensity),
    inductance: joined(outcome?.coils ?? [], parallel, ({ inductance }) => inductance),
    coreLoss: joined(outcome?.coils ?? [], parallel, ({ coreLoss }) => coreLoss ?? Infinity),
  };
}

const mean = (widths: readonly number[] = []): number | null =>
  finite(widths.reduce((sum, width) => sum + width, 0) / widths.length);

const finite = (value: number | undefined): number | null =>
  value !== undefined && Number.isFinite(value) ? value : null;

function joined(
  coils: readonly CoilOutcome[],
  parallel: boolean,
  of: (coil: CoilOutcome) => number,
): number | null {
  const sum = coils.reduce((s, coil) => s + (parallel ? 1 / of(coil) : of(coil)), 0);
  return coils.length === 0 ? null : finite(parallel ? 1 / sum : sum);
}
