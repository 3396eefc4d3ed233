/** The dip between two humps. */
import { describe, expect, it } from 'vitest';
import { dipAbout } from '../../src/plot/dip.ts';

const x = Array.from({ length: 801 }, (_, i) => -20 + i * 0.05);
/** x² e^(−x²/s²) is 0 at 0 and highest at ± s; with some of a bell it dips. */
const humps = (share: number, s = 5): number[] =>
  x.map((at) => ((at / s) ** 2 + share) * Math.exp(1 - (at / s) ** 2));

describe('the dip between two humps', () => {
  it('lies where the curve is least between them, and is counted from the lower [exact]', () => {
    const found = dipAbout(x, humps(0), 0, 12)!;
    expect(Math.abs(found.x)).toBeLessThan(0.026);
    expect(found.depth).toBeCloseTo(1, 12);
    // (u + h) e^(1 − u), u = x²/s², is highest at u = 1 − h with the value e^h; at 0 it is h e.
    const half = dipAbout(x, humps(0.2), 0, 12)!;
    expect(half.depth).toBeCloseTo(1 - (0.2 * Math.E) / Math.exp(0.2), 4);
    expect(half.value).toBeCloseTo(0.2 * Math.E, 9);
  });

  it('is the same of a curve turned over, and its lower hump decides', () => {
    const turned = humps(0.2).map((v) => -v);
    expect(dipAbout(x, turned, 0, 12)).toEqual(dipAbout(x, humps(0.2), 0, 12));
    const leaning = humps(0.2).map((v, i) => v * (x[i]! < 0 ? 1 : 0.5));
    const found = dipAbout(x, leaning, 0, 12)!;
    expect(found.depth).toBeCloseTo(1 - found.value / (0.5 * Math.exp(0.2)), 4);
    expect(
      dipAbout(
        x,
        humps(0.2).map((v, i) => v * (x[i]! < 0 ? 1 : 0.3)),
        -1,
        12,
      ),
    ).toBeNull();
  });

  it('is none of a bell, of nothing, of a slope, and of what lies beyond', () => {
    const bell = x.map((at) => Math.exp(-((at / 4) ** 2)));
    expect(dipAbout(x, bell, 0, 12)).toBeNull();
    expect(dipAbout(x, bell, 1, 12)).toBeNull();
    expect(
      dipAbout(
        x,
        x.map(() => 0),
        0,
        12,
      ),
    ).toBeNull();
    expect(dipAbout(x, x, 5, 4)).toBeNull();
    expect(dipAbout(x, humps(0.9), 0, 12)).toBeNull();
    expect(dipAbout([], [], 0, 12)).toBeNull();
  });
});
