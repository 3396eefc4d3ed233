import { describe, expect, it } from 'vitest';
import {
  formantJustHeard,
  justHeard,
  levelJustHeard,
  peakJustHeard,
} from '../../../src/physics/hearing/justHeard.ts';

const peak = { frequency: 1000, q: 4 };
/** How many times what is just heard, of every figure. */
const times = (to: typeof peak, louder: number): number[] =>
  justHeard(peak, to, louder, 70).map(({ by, just }) => Math.abs(by) / just);

describe('what is just heard', () => {
  it('[paper: GagneZurek1988, abstract] a peak moved by 0.079 F/√Q; of others 14 Hz below 800 Hz and 1.5 % above [paper: KewleyPortWatson1994, abstract]', () => {
    expect(peakJustHeard(peak)).toBeCloseTo(39.5, 9);
    expect([500, 790, 1000, 2000].map(formantJustHeard)).toEqual([14, 14, 15, 30]);
  });

  it('[paper: JesteadtWierGreen1977, from memory] a tone 0.5 dB louder at 80 dB above its threshold, 1 dB at 40, 1.5 dB at 5', () => {
    expect(levelJustHeard(80)).toBeCloseTo(0.5, 1);
    expect(levelJustHeard(40)).toBeCloseTo(0.93, 1);
    expect(levelJustHeard(5)).toBeCloseTo(1.55, 1);
  });

  it('[paper] planted differences come below, at and above it, in their order', () => {
    const moved = (by: number): number =>
      times({ ...peak, frequency: 1000 + by * peakJustHeard(peak) }, 0)[0]!;
    expect([0.5, 1, 2, 4].map(moved).map((t) => Number(t.toFixed(9)))).toEqual([0.5, 1, 2, 4]);
    const sharper = (by: number): number => times({ ...peak, q: by * peak.q }, 0)[3]!;
    expect(sharper(1.1)).toBeCloseTo(0.5, 9);
    expect(sharper(1.2)).toBeCloseTo(1, 9);
    const louder = (by: number): number => times(peak, by).at(-1)!;
    for (const by of [-0.3, 0.3]) expect(louder(by)).toBeLessThan(1);
    for (const by of [-1, 1]) expect(louder(by)).toBeGreaterThan(1);
    for (const by of [-3, 3]) expect(louder(by)).toBeGreaterThan(louder(1));
  });

  it('[exact] identical sounds: nothing; without a resonance, level alone; silent: nothing is said', () => {
    expect(times(peak, 0)).toEqual([0, 0, 0, 0, 0]);
    expect(justHeard(null, peak, 1, 70).map(({ what }) => what)).toEqual(['level']);
    expect(justHeard(peak, null, null, 70)).toEqual([]);
  });

  it('[exact] says where nobody was asked', () => {
    const at = (frequency: number): boolean[] =>
      justHeard({ frequency, q: 4 }, peak, 0, 70).map(({ within }) => within);
    expect(at(1500)).toEqual([true, true, true, true, true]);
    expect(at(4000)).toEqual([false, false, false, false, true]);
  });
});
