/** The three figures of the strip: resonance, level and pull, with those of the trial that is compared. Pure. */
import type { Prediction } from '../../state/types.ts';
import { decibels, hertz } from '../drawing/figures.ts';
import { worstPull } from '../section/focusWords.ts';

/** What is looked at, of one trial. */
export interface Looked {
  readonly prediction: Prediction;
  /** The pickup, from 0, and the string, from 1. */
  readonly pickup: number;
  readonly string: number;
}

export interface StripFigure {
  readonly name: string;
  readonly value: string;
  /** The same figure of the other trial; empty where there is none. */
  readonly other: string;
  /** Whether it is past what is allowed. */
  readonly over: boolean;
}

/** For what is not there. */
const NONE = '—';
const NO_COIL = 'no coil';

function resonance({ prediction }: Looked): string {
  const voice = prediction.voices[prediction.sounding];
  const peak = voice?.features.resonance;
  if (peak) return `${hertz(peak.frequency)} ${decibels(peak.heightDb)}`;
  return voice?.reach.rows.length === 0 ? NO_COIL : 'no peak';
}

function level({ prediction, pickup, string }: Looked): string {
  const found = prediction.pickups[pickup];
  const millivolts = found?.strings[string - 1]?.level;
  if (millivolts === undefined) return NONE;
  if (found!.coils.length === 0) return NO_COIL;
  const size = Math.abs(millivolts);
  return `${size < 99.95 ? size.toPrecision(3) : size.toFixed(0)} mV`;
}

function pull({ prediction, pickup }: Looked): string {
  const worst = worstPull(prediction, pickup);
  if (worst && !Number.isFinite(worst.cents)) return 'held fast';
  return worst ? `${Math.abs(worst.cents).toFixed(1)} cents ${worst.cents < 0 ? 'flat' : 'sharp'}` : NONE;
}

/**
 * @param most cents that a string may be pulled
 * @param name of the pickup
 */
export function stripFigures(here: Looked, other: Looked | null, name: string, most: number): StripFigure[] {
  const worst = worstPull(here.prediction, here.pickup);
  const of = worst && here.prediction.openStrings[worst.string - 1];
  const both = (figure: (of: Looked) => string): Pick<StripFigure, 'value' | 'other'> => ({
    value: figure(here),
    other: other ? figure(other) : '',
  });
  return [
    { name: 'resonance', ...both(resonance), over: false },
    { name: `level, ${name}`, ...both(level), over: false },
    {
      name: of ? `pull, ${of.string} ${of.name}` : 'pull',
      ...both(pull),
      over: worst !== null && Math.abs(worst.cents) > most,
    },
  ];
}
