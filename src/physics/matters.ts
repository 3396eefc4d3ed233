/** What a step of one dimension or part does, by the engine's own figures on either side of it. */
import type { Sheet } from '../sheet/sheet.ts';
import type { CurveFeatures } from './circuit/features.ts';
import type { Fields } from './heard/fieldAnswer.ts';
import { resolve } from './heard/resolve.ts';
import type { HeardSheet } from './heard/resolved.ts';
import { heardNotes, notesLoudness } from './heardNotes.ts';
import { heardDifference, type NoteTones } from './hearing/heardDifference.ts';
import { outcomeOf } from './outcome.ts';
import { stopString } from './string/note.ts';
import { circuitFeatures } from './voice.ts';

/** What a step does; see `effectOf`. */
export interface Effect {
  /** Largest difference of what the ear gets of any note, dB at equal loudness, with its sign; and at which frequency, Hz. */
  readonly pattern: number;
  readonly at: number;
  /** Of the phrase, dB. */
  readonly level: number;
  /** Of the circuit, a share; null where there is none on one side. */
  readonly resonance: number | null;
  /** Of the string that gains or loses most against the mean of all, dB; and which, 1 is the highest. */
  readonly balance: number;
  readonly string: number;
  /** Of the open string that it shifts most, cents; null without a build. */
  readonly pull: number | null;
}

/** A sheet by what a step can do to it. */
export interface Looked {
  readonly notes: readonly NoteTones[];
  /** See notesLoudness. */
  readonly loudness: number;
  /** Hz. */
  readonly resonance: number | null;
  /** Of the open strings over the pickup, dB; string 1 first. */
  readonly levels: readonly number[];
  /** Cents; null without a build. */
  readonly pulls: readonly (number | null)[];
}

/** Level of a string that no coil hears, V. */
const NOTHING = 1e-12;

/** Levels in dB, pulls in cents. @param pickup from 0; heard alone where the selector does not let it through. @throws as resolve */
export function lookedAt(asked: Sheet, fields: Fields, pickup: number): Looked {
  const sheet = resolve(heardWith(asked, pickup), fields);
  const notes = heardNotes(sheet);
  const { strings } = outcomeOf(sheet.instrument, sheet.pickups[pickup]!);
  return {
    notes,
    loudness: notesLoudness(notes),
    resonance: resonanceOf(sheet),
    levels: strings.map(({ level }) => 20 * Math.log10(Math.max(NOTHING, level))),
    pulls: strings.map(({ field }) => field && field.centsTowards),
  };
}

/** The sheet with a pickup let through (its index): as the selector has it where it does, else alone. */
export const heardWith = (sheet: Sheet, pickup: number): Sheet =>
  sheet.pickups[pickup]?.sounds
    ? sheet
    : { ...sheet, pickups: sheet.pickups.map((one, i) => ({ ...one, sounds: i === pickup })) };

/** Of the circuit of what sounds, Hz; null where there is none. */
export const resonanceOf = (sheet: HeardSheet): number | null =>
  featuresOf(sheet).resonance?.frequency ?? null;

/** Of the circuit of what sounds, Hz and dB. */
export function featuresOf(sheet: HeardSheet): CurveFeatures {
  const members = sheet.pickups.flatMap(({ sounds }, index) => (sounds ? [index] : []));
  const { string, fret } = sheet.listen;
  const note = stopString(sheet.instrument, string, fret);
  return circuitFeatures(sheet, note, members);
}

/**
 * What a step does: the difference from `from` to `to`, times `share`. With the sheets one step below and one above and a half it is
 * a central difference.
 */
export function effectOf(from: Looked, to: Looked, share: number): Effect {
  const louder = to.loudness - from.loudness;
  const { most, at } = heardDifference(from.notes, to.notes, louder);
  const by = to.levels.map((level, i) => level - from.levels[i]!);
  const mean = by.reduce((sum, db) => sum + db, 0) / by.length;
  const off = by.map((db) => share * (db - mean));
  const string = farthest(off);
  const pulls = to.pulls.flatMap((cents, i) => {
    const was = from.pulls[i];
    return typeof cents === 'number' && typeof was === 'number' ? [share * (cents - was)] : [];
  });
  return {
    ...{ pattern: share * most, at, level: share * louder },
    resonance: from.resonance && to.resonance ? share * Math.log(to.resonance / from.resonance) : null,
    ...{ balance: off[string] ?? 0, string: string + 1 },
    pull: pulls.length > 0 ? pulls[farthest(pulls)]! : null,
  };
}

/** Which of them is farthest from nothing. */
const farthest = (values: readonly number[]): number =>
  values.reduce((most, value, i) => (Math.abs(value) > Math.abs(values[most]!) ? i : most), 0);
