import { describe, expect, it } from 'vitest';
import { getAt, sameData, setAt } from '../../src/sheet/edit.ts';
import { fullestSheet as sheet } from '../fixtures/fullestSheet.ts';

describe('setAt', () => {
  it('[exact] changes what it names and shares all else', () => {
    const next = setAt(sheet, ['pickups', 1, 'rows', 0, 'reach', 'width'], 0.0123);
    expect(getAt(next, ['pickups', 1, 'rows', 0, 'reach', 'width'])).toBe(0.0123);
    expect(getAt(sheet, ['pickups', 1, 'rows', 0, 'reach', 'width'])).not.toBe(0.0123);
    const [a, b] = [sheet.pickups[1]!, next.pickups[1]!];
    for (const shared of [
      [sheet.instrument, next.instrument],
      [sheet.harness, next.harness],
      [sheet.listen, next.listen],
      [sheet.pickups[0], next.pickups[0]],
      [sheet.pickups[2], next.pickups[2]],
      [a.rows[1], b.rows[1]],
      [a.rows[0]!.coil, b.rows[0]!.coil],
    ])
      expect(shared[1]).toBe(shared[0]);
    expect(next).toStrictEqual({
      ...sheet,
      pickups: sheet.pickups.map((p, i) =>
        i === 1
          ? {
              ...p,
              rows: p.rows.map((r, j) => (j === 0 ? { ...r, reach: { ...r.reach, width: 0.0123 } } : r)),
            }
          : p,
      ),
    });
    expect(Array.isArray(next.pickups)).toBe(true);
  });

  it('[exact] is the very same sheet when nothing changes', () => {
    expect(setAt(sheet, ['listen', 'fret'], sheet.listen.fret)).toBe(sheet);
    expect(
      setAt(
        sheet,
        ['harness', 'controls', 0, 'bleed', 'capacitance'],
        sheet.harness.controls[0]!.bleed!.capacitance,
      ),
    ).toBe(sheet);
  });

  it('reaches whole groups, list entries and what may be null', () => {
    const bare = setAt(sheet, ['harness', 'controls', 2, 'tone'], null);
    expect(getAt(bare, ['harness', 'controls', 2, 'tone'])).toBeNull();
    expect(getAt(setAt(sheet, ['listen', 'chord', 3], null), ['listen', 'chord', 3])).toBeNull();
    expect(setAt(sheet, ['title'], 'Other').title).toBe('Other');
  });

  it('throws on a path that leads nowhere', () => {
    const bare = setAt(sheet, ['harness', 'controls', 2, 'tone'], null);
    expect(() => setAt(bare, ['harness', 'controls', 2, 'tone', 'position'], 1)).toThrow(
      'Path must lead to a part of the sheet; got harness.controls.2.tone.position.',
    );
    expect(() => getAt(sheet, ['pickups', 3])).toThrow('got pickups.3.');
    // Neither inherited names nor the prototype are parts of a sheet, whatever the types would say.
    for (const path of [['__proto__', 'x'], ['constructor'], ['pickups', 'length', 'x'], ['toString']])
      expect(() => setAt(sheet, path as unknown as ['title'], 'x')).toThrow(RangeError);
    expect(({} as Record<string, unknown>)['x']).toBeUndefined();
  });

  it('knows its paths and their values when it is compiled', () => {
    // @ts-expect-error: there is no such field
    expect(() => setAt(sheet, ['listen', 'loudness'], 1)).toThrow(RangeError);
    // @ts-expect-error: a fret is a number
    setAt(sheet, ['listen', 'fret'], 'twelve');
    const width: number = getAt(sheet, ['pickups', 0, 'rows', 0, 'reach', 'width']);
    expect(width).toBeGreaterThan(0);
  });
});

it('[exact] sameData compares what is said, not who says it', () => {
  expect(sameData(sheet, structuredClone(sheet))).toBe(true);
  expect(sameData(sheet, setAt(sheet, ['listen', 'fret'], 1))).toBe(false);
  expect(sameData([], {})).toBe(false);
  expect(sameData({ a: undefined }, { b: undefined })).toBe(false);
  expect(sameData(null, {})).toBe(false);
  expect(sameData(NaN, NaN)).toBe(true);
});
