/** Open chords on a neck of any tuning, found as a player finds them. */

/** Fret of string 1, 2, …; null for a string that is not played. */
export type Frets = readonly (number | null)[];

export interface Chord {
  readonly name: string;
  /** Pitch class from C. */
  readonly root: number;
  /** Semitones from the root to the third: 4 major, 3 minor. */
  readonly third: 3 | 4;
}

const chord = (name: string, root: number, third: 3 | 4): Chord => ({ name, root, third });

/** In the order in which they are offered. */
export const CHORDS: readonly Chord[] = [
  chord('E', 4, 4),
  chord('A', 9, 4),
  chord('D', 2, 4),
  chord('G', 7, 4),
  chord('C', 0, 4),
  chord('Em', 4, 3),
  chord('Am', 9, 3),
  chord('Dm', 2, 3),
];

/** What four fingers reach from the nut. */
const OPEN = 4;
const OCTAVE = 12;

const classOf = (midi: number): number => ((midi % OCTAVE) + OCTAVE) % OCTAVE;

/** The lowest fret at which a string sounds one of the pitch classes. */
function lowestFret(open: number, classes: readonly number[]): number {
  return Math.min(...classes.map((wanted) => classOf(wanted - open)));
}

interface Shape {
  readonly frets: Frets;
  /** Whether root, third and fifth all sound. */
  readonly whole: boolean;
}

/** With the root on the string `bass` (from 0), above it on every string the lowest fret that belongs to the chord. */
function shapeFrom(strings: readonly number[], { root, third }: Chord, bass: number): Shape {
  const triad = [root, root + third, root + 7];
  const rootFret = lowestFret(strings[bass]!, [root]);
  const frets = strings.map((open, i) => (i > bass ? null : i === bass ? rootFret : lowestFret(open, triad)));
  const reach = Math.max(OPEN, rootFret);
  const times = (wanted: number): number =>
    frets.filter((fret, i) => fret !== null && classOf(strings[i]! + fret - wanted) === 0).length;
  for (const missing of triad.filter((wanted) => times(wanted) === 0)) {
    // Where it lies nearest, on a string whose note another one sounds too.
    const able = strings
      .map((open, i) => ({ i, fret: lowestFret(open, [missing]) }))
      .filter(({ i, fret }) => i < bass && fret <= reach && times(strings[i]! + frets[i]!) > 1);
    const [best] = able.sort((a, b) => a.fret - b.fret);
    if (best) frets[best.i] = best.fret;
  }
  return { frets, whole: triad.every((wanted) => times(wanted) > 0) };
}

/**
 * The chord on open strings (MIDI notes, string 1 first): the root on the lowest string that has it within four frets,
 * the strings below it unplayed, and above it on every string the lowest fret that belongs to the chord. In standard
 * tuning these are the shapes that every chord book prints. Where too few strings are left above such a root for all
 * three notes, as on a bass, it is taken on a lower string, farther up.
 */
export function chordShape(strings: readonly number[], chord: Chord): Frets {
  const roots = strings.map((open, i) => ({ i, fret: lowestFret(open, [chord.root]) }));
  const near = roots.filter(({ fret }) => fret <= OPEN).toReversed();
  const far = roots.filter(({ fret }) => fret > OPEN).sort((a, b) => a.fret - b.fret || b.i - a.i);
  const shapes = [...near, ...far].map(({ i }) => shapeFrom(strings, chord, i));
  return (shapes.find(({ whole }) => whole) ?? shapes[0]!).frets;
}

/** What is strummed as a progression, a bar each: G, D, E minor, C. */
export const PROGRESSION: readonly Chord[] = ['G', 'D', 'Em', 'C'].map((name) =>
  CHORDS.find((one) => one.name === name)!,
);

/** The name of an open chord on these strings; nothing when it is none of them. */
export function chordName(strings: readonly number[], frets: Frets): string | undefined {
  return CHORDS.find((one) => chordShape(strings, one).every((fret, i) => fret === frets[i]))?.name;
}
