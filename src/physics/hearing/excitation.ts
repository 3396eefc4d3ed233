/** What tones do to the ear's filters: the excitation pattern. */
import { CENTRES, erbWidth } from './erb.ts';

/** Tones as they reach the inner ear, frequencies (Hz) ascending. */
export interface Tones {
  readonly frequencies: Float64Array;
  /** Of each, as a multiple of the power at 0 dB SPL. */
  readonly powers: Float64Array;
}

/** dB an ERB at which a filter's two sides are alike. */
const LEVEL = 51;
/** How much flatter the lower side becomes with each dB, of the filter at 1 kHz. */
const FLATTER = 0.35;
/** Slope of a filter, 4 f/ERB: that of a rounded exponential whose equivalent rectangle is one ERB. */
const slopeAt = (f: number): number => (4 * f) / erbWidth(f);
const SLOPE_1K = slopeAt(1000);
/** The flattest lower side, so that no level turns it round. */
const FLATTEST = 0.1;
/** A filter lets nothing that matters through beyond so many times its slope: −250 dB. */
const BEYOND = 60;

/**
 * Power that comes out of each of the ear's filters (`CENTRES`), dB, −∞ where there are no tones.
 *
 * Each is a rounded exponential, (1 + pg) e^(−pg) with g the distance from its centre as a share of it; p above the centre is
 * 4 f/ERB, and below it goes down with the level of the tone, which is counted with all others within half an ERB of it.
 * Digits: 1e-6 dB against the worked tones of the tests. Source: [GlasbergMoore1990], [MooreGlasbergBaer1997].
 */
export function excitationPattern(tones: Tones): Float64Array {
  const { frequencies, powers } = tones;
  const levels = levelsPerErb(tones);
  return CENTRES.map((centre) => {
    const above = slopeAt(centre);
    let sum = 0;
    for (let i = 0; i < frequencies.length; i++) {
      const g = (frequencies[i]! - centre) / centre;
      const below = Math.max(FLATTEST * above, above * (1 - (FLATTER / SLOPE_1K) * (levels[i]! - LEVEL)));
      const pg = g < 0 ? -below * g : above * g;
      if (pg < BEYOND) sum += powers[i]! * (1 + pg) * Math.exp(-pg);
    }
    return 10 * Math.log10(sum);
  });
}

/** Level (dB) of all tones within half an ERB of each. */
function levelsPerErb({ frequencies, powers }: Tones): Float64Array {
  let first = 0;
  let next = 0;
  let sum = 0;
  return frequencies.map((f) => {
    const half = 0.5 * erbWidth(f);
    while (next < frequencies.length && frequencies[next]! <= f + half) sum += powers[next++]!;
    while (frequencies[first]! < f - half) sum -= powers[first++]!;
    // What is left of the taking away may be a rounding below nothing.
    return 10 * Math.log10(Math.max(sum, Number.MIN_VALUE));
  });
}
