import { describe, expect, it } from 'vitest';
import { barsOf, moved, MOST_NOTES, noteIn, withNote, withoutNote } from '../../src/sheet/line.ts';
import { checkSheet } from '../../src/sheet/check.ts';
import { exampleSheet } from '../fixtures/sheet.ts';

const line = [
  { beat: 0, string: 2, fret: 3 },
  { beat: 4.75, string: 1, fret: 12 },
];

describe('a note of the line', () => {
  it('takes its cell, in the order of time and then of strings [exact]', () => {
    const more = withNote(withNote(line, { beat: 0, string: 1, fret: 0 }), { beat: 2, string: 6, fret: 5 });
    expect(more.map(({ beat, string }) => [beat, string])).toEqual([
      [0, 1],
      [0, 2],
      [2, 6],
      [4.75, 1],
    ]);
    expect(line).toHaveLength(2);
  });

  it('replaces the one that stands there, and is left alone when it is the same [exact]', () => {
    const other = withNote(line, { beat: 0, string: 2, fret: 7 });
    expect(noteIn(other, { beat: 0, string: 2 })?.fret).toBe(7);
    expect(other).toHaveLength(2);
    expect(withNote(line, { beat: 0, string: 2, fret: 3 })).toBe(line);
  });

  it('goes [exact]', () => {
    expect(withoutNote(line, { beat: 0, string: 2 })).toEqual([line[1]]);
    expect(withoutNote(line, { beat: 0, string: 3 })).toBe(line);
  });

  it('takes the place of all that a link put into one cell, and they go together [exact]', () => {
    const twice = [line[0]!, { ...line[0]!, fret: 5 }, line[1]!];
    for (const fret of [3, 5, 7])
      expect(withNote(twice, { beat: 0, string: 2, fret })).toEqual([{ beat: 0, string: 2, fret }, line[1]]);
    expect(withoutNote(twice, { beat: 0, string: 2 })).toEqual([line[1]]);
  });

  it('is not the sixty-fifth, and all sixty-four are a sheet’s [exact]', () => {
    let full: ReturnType<typeof withNote> = [];
    for (let i = 0; i < MOST_NOTES; i++)
      full = withNote(full, { beat: i / 4, string: 1 + (i % 6), fret: i % 13 });
    expect(full).toHaveLength(64);
    expect(withNote(full, { beat: 31.75, string: 1, fret: 0 })).toBe(full);
    expect(withNote(full, { beat: 0, string: 1, fret: 5 })).toHaveLength(64);
    const sheet = exampleSheet();
    expect(checkSheet({ ...sheet, listen: { ...sheet.listen, line: full } }).ok).toBe(true);
  });
});

it('whole bars of four beats [exact]', () => {
  expect(barsOf([])).toBe(1);
  expect(barsOf(line)).toBe(2);
  expect(barsOf([{ beat: 31.75, string: 1, fret: 0 }])).toBe(8);
});

it('moving stays on the grid [exact]', () => {
  expect(moved({ string: 1, beat: 0 }, -1, -0.25, 6)).toEqual({ string: 1, beat: 0 });
  expect(moved({ string: 6, beat: 31.5 }, 1, 4, 6)).toEqual({ string: 6, beat: 31.75 });
  expect(moved({ string: 3, beat: 1 }, 1, 0.25, 6)).toEqual({ string: 4, beat: 1.25 });
  expect(moved({ string: 4, beat: 1 }, 1, 0, 4)).toEqual({ string: 4, beat: 1 });
  expect(moved({ string: 7, beat: 1 }, 1, 0, 8)).toEqual({ string: 8, beat: 1 });
});
