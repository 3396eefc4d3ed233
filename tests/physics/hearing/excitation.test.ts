import { describe, expect, it } from 'vitest';
import {
  CENTRES,
  erbNumber,
  erbWidth,
  FILTERS,
  frequencyOfErbNumber,
} from '../../../src/physics/hearing/erb.ts';
import { excitationPattern } from '../../../src/physics/hearing/excitation.ts';

const power = (level: number): number => 10 ** (level / 10);

describe('the ear’s scale', () => {
  it('[paper: GlasbergMoore1990, eq. 3 and 4, from memory] within 0.2 % of 24.7 (4.37 F + 1) Hz and of 21.4 lg(4.37 F + 1), F in kHz', () => {
    for (const f of [100, 500, 1000, 4000, 10_000]) {
      expect(Math.abs(erbWidth(f) / (24.7 * (4.37e-3 * f + 1)) - 1)).toBeLessThan(2e-3);
      expect(Math.abs(erbNumber(f) / (21.4 * Math.log10(4.37e-3 * f + 1)) - 1)).toBeLessThan(3e-3);
    }
  });

  it('[exact] an ERB wide is what lies between two numbers one apart; the scale turned round', () => {
    for (const f of [60, 440, 1000, 9000]) {
      expect(frequencyOfErbNumber(erbNumber(f)) / f).toBeCloseTo(1, 12);
      // dE/df = 1/ERB, by a central difference; 21.366 has five digits.
      const slope = (erbNumber(f + 0.01) - erbNumber(f - 0.01)) / 0.02;
      expect(slope * erbWidth(f)).toBeCloseTo(1, 4);
    }
    expect(FILTERS.at(-1)).toBe(39);
  });
});

describe('excitation', () => {
  /**
   * Worked tones of a public implementation of the papers' formulas. Its scale steps by a quarter of an ERB from 1.75 on, and
   * its filters are counted from 0: no other step brings both figures.
   */
  it('[paper: MooreGlasbergBaer1997, worked tones] 1, 2 and 3 kHz at 60, 70 and 80 dB', () => {
    const pattern = excitationPattern({
      frequencies: Float64Array.of(1000, 2000, 3000),
      powers: Float64Array.of(power(60), power(70), power(80)),
    });
    expect(pattern[50]).toBeCloseTo(43.206926, 5);
    expect(pattern[100]).toBeCloseTo(65.388101, 5);
  });

  it('[paper: GlasbergMoore1990, by its definition] at a filter’s centre a tone has its own level; noise has that of one ERB', () => {
    const centre = CENTRES[80]!;
    const tone = excitationPattern({
      frequencies: Float64Array.of(centre),
      powers: Float64Array.of(power(51)),
    });
    expect(tone[80]).toBeCloseTo(51, 9);
    // Tones a hertz apart at 10 dB each: 51 dB an ERB makes both sides of the filter alike; its area is one ERB.
    const each = 51 - 10 * Math.log10(erbWidth(centre));
    const frequencies = Float64Array.from({ length: 6000 }, (_, i) => i + 1);
    const noise = excitationPattern({ frequencies, powers: frequencies.map(() => power(each)) });
    expect(noise[80]).toBeCloseTo(51, 1);
  });

  it('[paper: MooreGlasbergBaer1997] louder, a tone spreads further upwards, and as far downwards', () => {
    const at = (level: number): Float64Array =>
      excitationPattern({ frequencies: Float64Array.of(1000), powers: Float64Array.of(power(level)) });
    const [soft, loud] = [at(40), at(80)];
    const [over, under] = [CENTRES.findIndex((f) => f > 1500), CENTRES.findIndex((f) => f > 700)];
    expect(loud[over]! - soft[over]!).toBeGreaterThan(45);
    expect(loud[under]! - soft[under]!).toBeCloseTo(40, 9);
  });

  it('[exact] without tones there is nothing', () => {
    const pattern = excitationPattern({ frequencies: new Float64Array(0), powers: new Float64Array(0) });
    expect([...pattern].every((level) => level === -Infinity)).toBe(true);
  });
});
