/** By how much two sounds must differ in one figure to be told apart, as listeners were found to do. */

/** A resonance: Hz, and its Q. */
export interface Peak {
  readonly frequency: number;
  readonly q: number;
}

/** One figure of two sounds, beside what was just heard of it. */
export interface JustHeard {
  readonly what: 'resonance' | 'Q' | 'level';
  /** Key of the paper in REFERENCES.md. */
  readonly source: 'GagneZurek1988' | 'KewleyPortWatson1994' | 'Woodhouse2012' | 'JesteadtWierGreen1977';
  /** From the one sound to the other: a share for resonance and Q, dB for level; with its sign. */
  readonly by: number;
  /** What is just heard, in the same; above 0. */
  readonly just: number;
  /** Whether the sounds lie where the listeners were asked. */
  readonly within: boolean;
}

/** dB SPL of the loudest note's attack, as at a small amplifier a step away. */
export const LISTENED_AT = 70;

/** Hz, between which the peaks of [GagneZurek1988] lay. */
const PEAKS = [300, 2000] as const;
/** Hz; from here on a formant is told by a share of it. */
const FORMANT_CORNER = 800;
/** Hz; as high as the formants of [KewleyPortWatson1994] lay. */
const HIGHEST_FORMANT = 3000;

/** Hz by which a peak at f (Hz) must move: 0.079 f/√Q, for f from 300 to 2000 Hz. Source: [GagneZurek1988]. */
export const peakJustHeard = ({ frequency, q }: Peak): number => (0.079 * frequency) / Math.sqrt(q);

/** Hz by which a formant at f (Hz) must move, of trained listeners: 14 Hz below 800 Hz, 1.5 % above. Source: [KewleyPortWatson1994]. */
export const formantJustHeard = (f: number): number => (f < FORMANT_CORNER ? 14 : 0.015 * f);

/**
 * dB by which a tone must be louder, so many dB above its threshold (5 to 80): ΔI/I = 0.463 (I/I₀)^−0.072, the same from 200 to
 * 8000 Hz. Source: [JesteadtWierGreen1977].
 */
export const levelJustHeard = (above: number): number => 10 * Math.log10(1 + 0.463 * 10 ** (-0.0072 * above));

/** Shares by which resonances under plucked strings must move, and their damping. Source: [Woodhouse2012], best listeners (from memory). */
const MODE = 0.01;
const DAMPING = 0.2;

/**
 * What of two sounds was found to be just heard, each figure by itself.
 *
 * @param from, to their resonances; null where there is none
 * @param louder by how much the second is, dB
 * @param above dB over the threshold of hearing at which one listens
 */
export function justHeard(
  from: Peak | null,
  to: Peak | null,
  louder: number | null,
  above: number,
): readonly JustHeard[] {
  const all: JustHeard[] = [];
  if (from && to) {
    const f = from.frequency;
    const by = to.frequency / f - 1;
    const resonance = (source: JustHeard['source'], just: number, within: boolean): void => {
      all.push({ what: 'resonance', source, by, just, within });
    };
    resonance('GagneZurek1988', peakJustHeard(from) / f, f >= PEAKS[0] && f <= PEAKS[1]);
    resonance('KewleyPortWatson1994', formantJustHeard(f) / f, f <= HIGHEST_FORMANT);
    resonance('Woodhouse2012', MODE, f <= PEAKS[1]);
    // What is damped by so much more has a Q by so much less.
    all.push({
      what: 'Q',
      source: 'Woodhouse2012',
      by: to.q / from.q - 1,
      just: DAMPING,
      within: f <= PEAKS[1],
    });
  }
  if (louder !== null)
    all.push({
      ...{ what: 'level', source: 'JesteadtWierGreen1977', by: louder },
      ...{ just: levelJustHeard(above), within: above >= 5 && above <= 80 },
    });
  return all;
}

/**
 * dB of excitation anywhere on the ear's scale. That a resonance is another is just heard when the pattern moves by 1.1 to 1.6 dB: by
 * 0.079 F/√Q [GagneZurek1988], where noise is told from louder noise at 0.4 dB [Miller1947]; that 3 dB are heard without listening for
 * them is common practice.
 */
const SIDE_BY_SIDE = 1;
const PLAIN = 3;

/** How a difference of excitation is heard, in a word. @param size dB, 0 or more */
export const heardWord = (size: number): string =>
  size >= PLAIN ? 'plainly audible' : size >= SIDE_BY_SIDE ? 'audible side by side' : 'hardly audible';
