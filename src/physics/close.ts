/** How close a pickup may sit to the strings before a note goes sour. */
import { faceUnder } from '../shape/faces.ts';
import { loweredBy } from '../shape/fretted.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { chargedBy } from './charged.ts';
import type { FieldAnswer } from './heard/fieldAnswer.ts';
import { fieldQuestion } from './fieldQuestion.ts';
import { stringHeights } from './magnetics/overPickup/stringHeights.ts';
import { type StringAbove } from './magnetics/overPickup/stringLine.ts';
import { noteLimits, shiftsWhenRaised, type NoteAbove } from './magnetics/overPickup/stringPull.ts';
import { stopString } from './string/note.ts';

/** Which notes are asked about, and how high the strings lie. */
export interface CloseNotes {
  /** Frets at which every string is stopped, from 0, the open string. */
  readonly frets: readonly number[];
  /** Underside of the strings over the 12th fret, m. */
  readonly action: number;
}

/** One note of one string. */
export interface CloseNote {
  readonly fret: number;
  /**
   * What keeps the pickup from sitting closer: the cents, or a pole or cover that the string would touch. 'beyond': the string does
   * not move over the pickup, which lies past the fret; 'never': 10 mm lower it still shifts too much.
   */
  readonly by: 'cents' | 'touch' | 'beyond' | 'never';
  /** From the face of its pole to the underside of the open string when the pickup sits so close, m; null where it is no limit. */
  readonly gap: number | null;
}

/** How close a pickup may sit before a note goes sour. */
export interface Closeness {
  /** From the poles' plane to the outer strings when the pickup sits as close as it may, m. */
  readonly gapBass: number;
  readonly gapTreble: number;
  /** How far it may be raised from where it is, m; below 0 it must be lowered. */
  readonly raise: number;
  /** The note that shifts most there, and by how much, cents (below 0: flat). Strings from 1. */
  readonly string: number;
  readonly fret: number;
  readonly shift: number;
  /** Whether a pole or a cover comes to a string's underside before any note shifts so far. */
  readonly touches: boolean;
  /** Each note for itself: string 1 first, in the order of the frets asked about. */
  readonly strings: readonly (readonly CloseNote[])[];
}

const OPEN: CloseNotes = { frets: [0], action: 0 };

/**
 * The gap at which the worst note's first partial shifts by so many cents, the worse of its two polarisations; both sides of the
 * pickup move alike. A stopped string is shorter, moves otherwise over the pickup, and lies lower; its tension is the open string's.
 *
 * @param cents above 0
 * @param field of that pickup; null has its charges solved here, as where a string touches a pole: then there is no field
 * @param notes the open strings unless given
 * @returns null when for one of them 10 mm lower is still too close
 * @throws RangeError without a build, BuildError when it can't be computed
 */
export function close(
  sheet: Sheet,
  pickup: number,
  cents: number,
  field: FieldAnswer | null = null,
  notes: CloseNotes = OPEN,
): Closeness | null {
  const question = fieldQuestion(sheet, pickup);
  const place = sheet.pickups[pickup]?.place;
  if (!question || place === undefined)
    throw new RangeError('The pickup must have a build to say how close it may sit; it has none.');
  const { build, slant } = question;
  const { scaleLength } = sheet.instrument;
  const noteOn = (i: number, fret: number): NoteAbove => {
    const { length, tension, frequency } = stopString(sheet.instrument, i + 1, fret);
    const lowered = loweredBy({ scaleLength, action: notes.action }, length, Math.min(place, length));
    return { ...question.strings[i]!, length, tension, frequency, place, lowered };
  };
  const strings = question.strings.map((_, i): StringAbove => noteOn(i, 0));
  const heights = stringHeights(build, strings);
  // The charges know of no strings, so that a pickup that already touches is told how far to go down.
  const solved = chargedBy(build, field);
  const asked = strings.flatMap((_, on) =>
    notes.frets
      .map((fret) => ({ on, fret, note: noteOn(on, fret) }))
      .filter(({ note }) => note.length > place),
  );
  const limits = noteLimits(solved, strings, asked, cents, slant);
  const nearest = limits.reduce((least, limit, k) => {
    if (least < 0 || limit === null) return -1;
    return limit.raise < limits[least]!.raise ? k : least;
  }, 0);
  const limit = limits[nearest];
  if (!limit) return null;
  // Where one touches, another may shift more.
  const shifts = limit.touches
    ? shiftsWhenRaised(solved, strings, asked, limit.raise, slant)
    : limits.map((_, k) => (k === nearest ? limit.shift : 0));
  const worst = shifts.reduce((most, shift, k) => (Math.abs(shift) > Math.abs(shifts[most]!) ? k : most), 0);
  const which = asked[worst]!;
  const noteOf = (on: number, fret: number): CloseNote => {
    const k = asked.findIndex((one) => one.on === on && one.fret === fret);
    const found = limits[k];
    if (!found) return { fret, by: k < 0 ? 'beyond' : 'never', gap: null };
    const face = Math.max(...build.rows.map((_, r) => faceUnder(build, r, on, strings[on]!.y)));
    const under = heights[on]! - 0.5 * strings[on]!.outerDiameter;
    return { fret, by: found.touches ? 'touch' : 'cents', gap: under - found.raise - face };
  };
  return {
    gapBass: build.gapBass - limit.raise,
    gapTreble: build.gapTreble - limit.raise,
    raise: limit.raise,
    string: which.on + 1,
    fret: which.fret,
    shift: shifts[worst]!,
    touches: limit.touches,
    strings: strings.map((_, on) => notes.frets.map((fret) => noteOf(on, fret))),
  };
}
