/** What is said of how close a pickup may sit. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkSheet } from '../../src/sheet/check.ts';
import { raise, withCover } from '../fixtures/mods.ts';
import { advice, closeRows, faceGaps, noteNames } from '../../src/ui/close/words.ts';
import { builtSheet } from '../fixtures/builtSheet.ts';

const sheet = builtSheet('six rods');
const build = sheet.pickups[0]!.build!;
const names = ['1 E4', '2 B3', '3 G3', '4 D3', '5 A2', '6 E2'];
const closest = (by: number, touches = false) => ({
  gapBass: build.gapBass - by,
  gapTreble: build.gapTreble - by,
  raise: by,
  string: 6,
  fret: 0,
  shift: -1,
  touches,
  strings: [],
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

  it('says what limits it: the poles, a cover, or the least gap of the sheet', () => {
    const says = (by: number, touches: boolean, of = build): string =>
      advice(of, closest(by, touches), 20, names).says;
    const limit = '2.1 mm at the bass side, 1.5 mm at the treble side, nothing shifts by 20.0 cents.';
    expect(says(0.0005, true)).toBe(`As close as the poles leave room, ${limit}`);
    const covered = withCover(sheet, 0, 'brass').pickups[0]!.build!;
    expect(says(0.0005, true, covered)).toBe(`As close as the cover and the poles leave room, ${limit}`);
    // At 0.5 mm it is the sheet that lets it no nearer, however much room the poles would leave.
    const least = 'As close as it can be set, 1.1 mm at the bass side, 0.5 mm at the treble side, nothing';
    expect(says(0.0017, true)).toContain(least);
    expect(says(0.0017, false)).toContain(least);
    expect(says(0.0015, false)).toMatch(/Closer, string 6 E2 goes flat by more\.$/);
  });

  it('says when it can be set no lower', () => {
    const low = raise(sheet, 0, -0.00923).pickups[0]!.build!;
    const found = advice(low, { ...closest(0), raise: -0.006 }, 0.2, names);
    expect(found).toEqual({
      by: -0.00317,
      doing: 'lower it by 3.17 mm',
      done: 'lowered by 3.17 mm',
      says: 'As low as it can be set, 15.0 mm at the bass side, 14.4 mm at the treble side, string 6 E2 still goes flat by more than 0.2 cents.',
    });
    const lowest = raise(sheet, 0, -0.0124).pickups[0]!.build!;
    expect(advice(lowest, closest(-0.001), 0.2, names)).toMatchObject({ by: 0, doing: '' });
  });

  it('[exact] can be done on any sheet, whatever the computation says', () => {
    const gap = fc.integer({ min: 50, max: 1500 }).map((hundredths) => hundredths / 1e5);
    const property = fc.property(
      gap,
      gap,
      fc.integer({ min: -1000, max: 1500 }),
      (gapBass, gapTreble, by) => {
        const gaps = { ...build, gapBass, gapTreble };
        const at = { ...sheet, pickups: [{ ...sheet.pickups[0]!, build: gaps }] };
        const found = advice(gaps, closest(by / 1e5), 1, names);
        if (found.doing === '') expect(Math.abs(found.by)).toBeLessThan(2.5e-5);
        else expect(checkSheet(raise(at, 0, found.by))).toMatchObject({ ok: true });
      },
    );
    fc.assert(property, { seed: 12, numRuns: 500 });
  });

  it('leaves the sheet within its limits', () => {
    const found = advice(build, closest(0.0017, true), 20, names);
    const set = raise(sheet, 0, found.by);
    expect(set).not.toBe(sheet);
    expect(checkSheet(set).ok).toBe(true);
    expect(set.pickups[0]!.build!.gapTreble).toBeCloseTo(0.0005, 9);
    expect(found.says).toContain('nothing shifts by 20.0 cents');
  });

  it('names the fret of a stopped note', () => {
    const says = advice(build, { ...closest(0.0002), fret: 12 }, 1, names).says;
    expect(says).toMatch(/Closer, string 6 E2 at fret 12 goes flat by more\.$/);
  });

  it('says when no way down is far enough', () => {
    expect(advice(build, null, 0.1, names)).toMatchObject({ by: 0, doing: '' });
  });
});

describe('the least gap of every note', () => {
  const strings = [
    [
      { fret: 0, by: 'cents', gap: 0.00201 },
      { fret: 5, by: 'touch', gap: 0.00072 },
      { fret: 12, by: 'cents', gap: 0.00312 },
    ],
    [
      { fret: 0, by: 'never', gap: null },
      { fret: 5, by: 'beyond', gap: null },
      { fret: 12, by: 'cents', gap: 0.0026 },
    ],
  ] as const;

  it('is written to a setting on the safe side, and marked where the pickup sits closer', () => {
    expect(closeRows({ ...closest(0), strings }, [0.0026, 0.0026], names)).toEqual([
      {
        name: '1 E4',
        now: '2.60',
        cells: [
          { text: '2.05', over: false },
          { text: '0.75 touches', over: false },
          { text: '3.15 ↓', over: true },
        ],
      },
      {
        name: '2 B3',
        now: '2.60',
        cells: [
          { text: 'never', over: true },
          { text: '–', over: false },
          { text: '2.60', over: false },
        ],
      },
    ]);
    expect(closeRows(null, [], names)).toEqual([]);
    expect(noteNames([0, 5, 12])).toEqual(['open', 'fret 5', 'fret 12']);
  });

  it('is counted from the face of the higher pole to the underside', () => {
    expect(faceGaps(build, (n) => 0.002 + n * 1e-4)).toHaveLength(6);
    const raised = {
      ...build,
      rows: [
        build.rows[0]!,
        { ...build.rows[0]!, pole: { ...build.rows[0]!.pole, heights: [1e-3, 0, 0, 0, 0, 0] } },
      ],
    };
    expect(faceGaps(raised, () => 0.003).map((gap) => Math.round(gap * 1e6))).toEqual([
      2000, 3000, 3000, 3000, 3000, 3000,
    ]);
  });
});
