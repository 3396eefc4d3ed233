/** What is said of how close a pickup may sit. */
import { describe, expect, it } from 'vitest';
import { checkSheet } from '../../src/sheet/check.ts';
import { raise } from '../fixtures/mods.ts';
import { advice } from '../../src/ui/close/words.ts';
import { builtSheet } from '../fixtures/builtSheet.ts';

const sheet = builtSheet('six rods');
const build = sheet.pickups[0]!.build!;
const names = ['1 E4', '2 B3', '3 G3', '4 D3', '5 A2', '6 E2'];
const closest = (by: number, touches = false) => ({
  gapBass: build.gapBass - by,
  gapTreble: build.gapTreble - by,
  raise: by,
  string: 6,
  shift: -1,
  touches,
});

describe('the advice', () => {
  it('rounds to a setting towards the safe side, never closer [exact]', () => {
    for (const by of [0.00047, -0.00047, 0.0004, -0.0004, -0.00001]) {
      const found = advice(build, closest(by), 1, names);
      expect(found.by).toBeLessThanOrEqual(by + 1e-9);
      expect(found.by).toBeGreaterThan(by - 5e-5);
    }
    expect(advice(build, closest(0.00047), 1, names)).toEqual({
      by: 0.00045,
      doing: 'raise it by 0.45 mm',
      done: 'raised by 0.45 mm',
      says: '2.15 mm at the bass side, 1.55 mm at the treble side. Closer, string 6 E2 goes flat by more.',
    });
    expect(advice(build, closest(-0.00163), 1, names).doing).toBe('lower it by 1.65 mm');
  });

  it('says nothing is to do where it sits already', () => {
    expect(advice(build, closest(0), 1, names).doing).toBe('');
    expect(advice(build, closest(0.00003), 1, names).doing).toBe('');
  });

  it('leaves the sheet within its limits, and says that poles are in the way', () => {
    const found = advice(build, closest(0.0017, true), 20, names);
    const set = raise(sheet, 0, found.by);
    expect(set).not.toBe(sheet);
    expect(checkSheet(set).ok).toBe(true);
    expect(set.pickups[0]!.build!.gapTreble).toBeCloseTo(0.0005, 9);
    expect(found.says).toContain('no string shifts by 20.0 cents');
  });

  it('says when no way down is far enough', () => {
    expect(advice(build, null, 0.1, names)).toMatchObject({ by: 0, doing: '' });
  });
});
