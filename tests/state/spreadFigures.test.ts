import { describe, expect, it } from 'vitest';
import type { Mattering } from '../../src/state/matters.svelte.ts';
import { mattersRows } from '../../src/state/mattersRows.ts';
import { counts, gathered, lessThanOwn, quantile, spreadWords } from '../../src/state/spreadFigures.ts';
import { exampleSheet } from '../fixtures/sheet.ts';

const side = (levels: readonly number[], own: readonly number[]) => ({
  curves: levels.map((db) => Float64Array.of(db, 2 * db)),
  louder: Float64Array.from(levels),
  own: Float64Array.from(own),
  nominal: Float64Array.of(0, 0),
});

/** In two parts, as it comes. */
const parts = (nominal: number, own: readonly number[]) =>
  [0, 2].map((from) => ({
    from,
    frequencies: Float64Array.of(100, 1000),
    sheet: side([from - 2, from - 1], [own[0]!]),
    other: side([0, 0], [own[1]!]),
    between: Float64Array.of(-3, 5),
    nominal,
  }));

describe('many makes together', () => {
  it('[exact] bands hold nine in ten, sizes ascend, without sign', () => {
    const found = gathered(parts(-4, [-2, 1]));
    expect([...found.sheet.louder]).toEqual([-2, -1, 0, 1]);
    expect(found.sheet.band.low[0]).toBeCloseTo(-1.85, 12);
    expect(found.sheet.band.high[1]).toBeCloseTo(1.7, 12);
    expect([...found.own]).toEqual([1, 1, 2, 2]);
    expect([...found.between!]).toEqual([3, 3, 5, 5]);
    expect(found.nominal).toBe(4);
    expect(quantile(Float64Array.of(1, 2, 4), 0.75)).toBe(3);
    expect(counts(found.between!, 2, 2)).toEqual([0, 4]);
  });

  it('[exact] less than half of one’s own pairs differ by is less than one’s own', () => {
    const said = (nominal: number): string => spreadWords(gathered(parts(nominal, [-2, 1])), 'B', 'A');
    expect(said(-1.2)).toBe(
      'Two of your own differ by 1.5 dB, half of them by more (nine pairs in ten by 1.0 to 2.0 dB): audible side by side. B beside A, as they are drawn, differs by 1.2 dB, and as you would make them by 3.0 to 5.0 dB in nine pairs of ten: less than two of your own would differ.',
    );
    expect(said(4)).toMatch(/differs by 4.0 dB.*: more than two of your own would differ\.$/);
    expect(lessThanOwn(gathered(parts(1.6, [-2, 1])))).toBe(false);
    const alone = { ...parts(0, [2, 2])[0]!, other: null, between: null, nominal: null };
    expect(lessThanOwn(gathered([alone]))).toBeNull();
    expect(spreadWords(gathered([alone]), 'A', '')).toMatch(
      /^Two of your own differ by 2.0 dB.*: audible side by side\.$/,
    );
  });
});

describe('steps ranked', () => {
  const step = (name: string, level: number, pull: number | null, way: 'up' | 'down' = 'up'): Mattering => ({
    step: {
      ...{ name, by: '2 %', up: exampleSheet(), down: exampleSheet() },
      ...{ words: ['more', 'less'], trial: true },
    },
    way,
    effect: { pattern: 1.26, at: 4100, level, resonance: -0.02, balance: -0.123, string: 6, pull },
  });

  it('[exact] the largest first, with its sign and which way it goes; what has no such figure is left out', () => {
    const all = [step('turns', 0.1, null), step('gap', -0.4, 0.3, 'down'), step('cable', 0, 0)];
    const rows = mattersRows(all, 'level');
    expect(rows.map(({ name, size, text }) => [name, size, text])).toEqual([
      ['gap −2 %', -1, '−0.40 dB'],
      ['turns +2 %', 0.25, '+0.10 dB'],
      ['cable +2 %', 0, '0.00 dB'],
    ]);
    expect(mattersRows(all, 'pull').map(({ name }) => name)).toEqual(['gap −2 %', 'cable +2 %']);
    expect(mattersRows(all, 'what is heard')[0]!.text).toBe('+1.3 dB, 4.1 kHz');
    expect(mattersRows(all, 'resonance')[0]!.text).toBe('−2.00 %');
    expect(mattersRows(all, 'balance')[0]!.text).toBe('−0.12 dB, string 6');
    expect(mattersRows([], 'pull')).toEqual([]);
  });
});
