/** Whether two sounds of the same notes are heard to differ, by what they do to the ear's filters. */
import { CENTRES } from './erb.ts';
import { thresholdDb, transmissionDb } from './ear.ts';
import { excitationPattern } from './excitation.ts';
import { LISTENED_AT } from './justHeard.ts';

/** Parts of a note that are compared by themselves: its first 0.2 s, and the rest of it. */
export const PARTS = ['attack', 'body'] as const;
export type NotePart = (typeof PARTS)[number];

/** One note as it leaves the cable or the loudspeaker. */
export interface NoteTones {
  /** 1 is the highest. */
  readonly string: number;
  readonly fret: number;
  /** Of its partials, ascending, Hz. */
  readonly frequencies: Float64Array;
  /** Mean power of every partial over each part, V². */
  readonly powers: Readonly<Record<NotePart, Float64Array>>;
}

/** What is heard of two sounds of the same notes at equal loudness. */
export interface HeardDifference {
  /** Centres of the ear's filters, Hz. */
  readonly frequencies: Float64Array;
  /** By how much `b` excites each of the ear's filters more than `a`, dB: of the note and part where most. */
  readonly curve: Float64Array;
  /** The largest of them, dB with its sign, and the centre of its filter, Hz. */
  readonly most: number;
  readonly at: number;
  /** Of which note and part it is; 0 and 'attack' where nothing differs. */
  readonly string: number;
  readonly fret: number;
  readonly part: NotePart;
}

/** A note as it excites the ear's filters, dB at each of them; what lies below the threshold of hearing is raised to it. */
export interface NotePatterns {
  readonly string: number;
  readonly fret: number;
  readonly patterns: Readonly<Record<NotePart, Float64Array>>;
}

/** From V² to a multiple of the power at 0 dB SPL, by which the loudest note's attack comes at LISTENED_AT; 0 for silence. */
export function listeningGain(notes: readonly NoteTones[]): number {
  const loudest = Math.max(...notes.map(({ powers }) => powers.attack.reduce((sum, p) => sum + p, 0)));
  return loudest > 0 ? 10 ** (LISTENED_AT / 10) / loudest : 0;
}

const THRESHOLDS = CENTRES.map(thresholdDb);

/** @param gain from V² to a multiple of the power at 0 dB SPL */
export const patternsOf = (notes: readonly NoteTones[], gain: number): readonly NotePatterns[] =>
  notes.map((note) => ({
    string: note.string,
    fret: note.fret,
    patterns: { attack: patternOf(note, 'attack', gain), body: patternOf(note, 'body', gain) },
  }));

/**
 * The largest difference of excitation anywhere on the ear's scale, which is what differences of resonance are heard by
 * [GagneZurek1988]. What lies below the threshold of hearing in both counts for nothing.
 *
 * @param a, b notes, each once; those that only one of them has are left out; V²
 * @param louder by how much `b` is, dB, which is taken off it
 */
export function heardDifference(
  a: readonly NoteTones[],
  b: readonly NoteTones[],
  louder: number,
): HeardDifference {
  const gain = listeningGain(a);
  return patternDifference(patternsOf(a, gain), patternsOf(b, gain * 10 ** (-louder / 10)));
}

/** The same of patterns. */
export function patternDifference(a: readonly NotePatterns[], b: readonly NotePatterns[]): HeardDifference {
  const curve = new Float64Array(CENTRES.length);
  let found: Pick<HeardDifference, 'most' | 'at' | 'string' | 'fret' | 'part'> = {
    ...{ most: 0, at: CENTRES[0]!, part: 'attack' },
    ...{ string: 0, fret: 0 },
  };
  for (const note of a) {
    const same = b.find(({ string, fret }) => string === note.string && fret === note.fret);
    if (!same) continue;
    for (const part of PARTS) {
      const [from, to] = [note.patterns[part], same.patterns[part]];
      for (let i = 0; i < curve.length; i++) {
        const by = to[i]! - from[i]!;
        if (Math.abs(by) > Math.abs(curve[i]!)) curve[i] = by;
        if (Math.abs(by) <= Math.abs(found.most)) continue;
        found = { most: by, at: CENTRES[i]!, string: note.string, fret: note.fret, part };
      }
    }
  }
  return { frequencies: CENTRES.slice(), curve, ...found };
}

function patternOf({ frequencies, powers }: NoteTones, part: NotePart, gain: number): Float64Array {
  const inside = powers[part].map((power, i) => power * gain * 10 ** (transmissionDb(frequencies[i]!) / 10));
  return excitationPattern({ frequencies, powers: inside }).map((dB, i) => Math.max(dB, THRESHOLDS[i]!));
}
