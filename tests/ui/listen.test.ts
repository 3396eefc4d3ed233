/** The geometry of the maker's own line, and what the scope takes for the lowest note. */
import { describe, expect, it } from 'vitest';
import { predict } from '../../src/physics/predict.ts';
import type { Listen } from '../../src/sheet/sheet.ts';
import { lowestPlayed } from '../../src/ui/listen/lowest.ts';
import { BEGINNING, ringingAt } from '../../src/ui/listen/ringing.ts';
import { cellWords, staff } from '../../src/ui/listen/staff.ts';
import { exampleSheet } from '../fixtures/sheet.ts';

describe('the staff', () => {
  it.each([150, 340, 700, 1400])(
    'has every cell where a click finds it again, %i px wide [exact]',
    (width) => {
      for (const [count, strings] of [
        [1, 6],
        [3, 4],
        [8, 8],
      ] as const) {
        const drawn = staff(width, count, strings);
        expect(drawn.bars).toHaveLength(count);
        for (let string = 1; string <= strings; string++) {
          for (let beat = 0; beat < 4 * count; beat += 0.25) {
            const { x, y } = drawn.place({ string, beat });
            expect(y).toBeLessThan(drawn.height);
            expect(drawn.cellAt(x, y)).toEqual({ string, beat });
          }
        }
      }
    },
  );

  it('holds its bars within the width, wherever one fits [exact]', () => {
    for (const { x } of staff(700, 8, 6).bars) expect(x + staff(700, 8, 6).barWidth).toBeLessThanOrEqual(700);
  });

  it('takes a click beside it for the nearest cell [exact]', () => {
    const drawn = staff(340, 2, 6);
    expect(drawn.cellAt(-50, -50)).toEqual({ string: 1, beat: 0 });
    expect(drawn.cellAt(9999, 9999)).toEqual({ string: 6, beat: 7.75 });
  });
});

it('a cell in words [exact]', () => {
  expect(cellWords({ string: 2, beat: 0 })).toBe('string 2, bar 1, beat 1');
  expect(cellWords({ string: 6, beat: 13.75 })).toBe('string 6, bar 4, beat 2 and three quarters');
});

describe('the lowest note', () => {
  const sheet = exampleSheet();
  const prediction = predict(sheet);
  const lowest = (listen: Partial<Listen>): number =>
    lowestPlayed({ ...sheet, listen: { ...sheet.listen, ...listen } }, prediction);
  /** Hz, equal temperament at A4 = 440 Hz (ISO 16). */
  const E2 = 82.41;

  it('of a chord, a progression and a line, in standard tuning [exact]', () => {
    expect(lowest({ play: 'progression' })).toBeCloseTo(E2, 2);
    expect(lowest({ play: 'chord', chord: [0, 0, 1, 2, 2, 0] })).toBeCloseTo(E2, 2);
    expect(lowest({ play: 'arpeggio', chord: [0, 0, 0, 0, 0, 12] })).toBeCloseTo(110, 1);
    expect(lowest({ play: 'line', line: [{ beat: 0, string: 6, fret: 12 }] })).toBeCloseTo(147, 0);
    expect(lowest({ play: 'line', line: [{ beat: 0, string: 6, fret: 0 }] })).toBeCloseTo(E2, 2);
  });
});

describe('which notes ring', () => {
  const sheet = exampleSheet();
  const at = (listen: Partial<Listen>, seconds: number): number[] =>
    ringingAt(predict({ ...sheet, listen: { ...sheet.listen, ...listen } }).phrase, seconds).map(
      ({ string }) => string,
    );

  it('at the beginning of a strum is the whole chord [exact]', () => {
    const chord = [0, 1, 0, 2, 3, null];
    expect(at({ play: 'chord', chord, strum: 0.06 }, BEGINNING)).toEqual([5, 4, 3, 2, 1]);
  });

  it('goes on from a round to the next until the string is plucked anew [exact]', () => {
    const line = [
      { beat: 0, string: 6, fret: 0 },
      { beat: 2, string: 5, fret: 0 },
    ];
    const heard = (seconds: number) => at({ play: 'line', line, tempo: 60 }, seconds);
    expect(heard(0.5)).toEqual([6, 5]);
    expect(heard(3)).toEqual([6, 5]);
    expect(at({ play: 'scale', string: 5, fret: 3, tempo: 120 }, 0.1)).toEqual([5]);
  });
});
