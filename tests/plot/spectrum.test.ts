import { describe, expect, it } from 'vitest';
import { linearScale, logScale } from '../../src/plot/scale.ts';
import { crest, spectrumPath } from '../../src/plot/spectrum.ts';
import { readPath } from './pathReader.ts';

const x = logScale([50, 5000], [0, 200]);
const y = linearScale([-100, 0], [100, 0]);
const points = (levels: ArrayLike<number>, spacing: number) =>
  readPath(spectrumPath({ levels, spacing, x, y }))
    .flatMap((run) => run.points)
    .map(([px, py]) => ({ x: px, y: py }));

describe('a spectrum', () => {
  it('has every line where lines are far apart, at its place [exact]', () => {
    const drawn = points([0, -20, -40, -60], 500);
    expect(drawn.map((p) => p.y)).toEqual([20, 40, 60]);
    // 500 Hz is a decade above 50 Hz, half of the two decades shown.
    expect(drawn[0]!.x).toBe(100);
  });

  it('keeps the loudest where many fall on one pixel [exact]', () => {
    const levels = new Float32Array(5001).fill(-90);
    levels[4321] = -3;
    const drawn = points(levels, 1);
    expect(Math.min(...drawn.map((p) => p.y))).toBe(3);
    expect(drawn.find((p) => p.y === 3)!.x).toBeCloseTo(x.to(4321), 1);
    expect(drawn.length).toBeLessThanOrEqual(201);
  });

  it('draws silence and what is no number at its lower edge, and nothing outside its range [exact]', () => {
    const drawn = points([0, -Infinity, NaN, 20, -200], 500);
    expect(drawn.map((p) => p.y)).toEqual([100, 100, 0, 100]);
    expect(points([0, -10], 1)).toEqual([]);
    expect(points([], 10)).toEqual([]);
  });
});

describe('the crest of a waveform', () => {
  it('is its greatest sample within the range [exact]', () => {
    const tone = Float32Array.from({ length: 400 }, (_, i) => Math.sin((2 * Math.PI * i) / 100));
    expect(crest(tone, 100, 200)).toBe(125);
    expect(crest(tone, 330, 1000)).toBe(330);
    expect(crest([NaN, 1, 2], 1, 3)).toBe(2);
  });
});
