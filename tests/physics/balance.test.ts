import { describe, expect, it } from 'vitest';
import { balance, NEAR_DB } from '../../src/physics/balance.ts';
import { predict } from '../../src/physics/predict.ts';
import { phraseLevel } from '../../src/physics/soundingLive.ts';
import { setAt } from '../../src/sheet/edit.ts';
import type { BalanceWish, PickupBuild, Sheet } from '../../src/sheet/sheet.ts';
import { builtSheet } from '../fixtures/builtSheet.ts';
import { exampleSheet } from '../fixtures/sheet.ts';
import { solved as solver } from '../fixtures/solved.ts';

/** A pickup alone, as that of a bench. */
function rods(): Sheet {
  const sheet = builtSheet('six rods');
  return { ...sheet, pickups: [{ ...sheet.pickups[0]!, sounds: true }] };
}
const RODS = rods();

const wish = (more: Partial<BalanceWish>): BalanceWish => ({
  ...{ pickup: 0, by: 'poles', of: 'movement', slope: 0, cents: 4, than: 1 },
  ...{ heights: [-0.004, 0.005], gaps: [0.0005, 0.015] },
  ...more,
});

/** By the door that everybody uses: levels (dB) and the largest shift (cents) of the first pickup's open strings. */
function said(build: PickupBuild, sheet = RODS) {
  const built = setAt(sheet, ['pickups', 0, 'build'], build);
  const { strings } = predict(built, solver.fields(built)).pickups[0]!;
  const cents = strings.flatMap(({ field }) => [field!.centsTowards, field!.centsAcross].map(Math.abs));
  return { levels: strings.map(({ level }) => 20 * Math.log10(level)), pull: Math.max(...cents) };
}
const mean = (values: readonly number[]): number => values.reduce((sum, v) => sum + v, 0) / values.length;
const spread = (levels: readonly number[]): number => Math.max(...levels) - Math.min(...levels);
/** Sum of squares of what lies between the levels and a level, dB². */
const squares = (levels: readonly number[], level: number): number =>
  levels.reduce((sum, db) => sum + (db - level) ** 2, 0);

describe('balance', () => {
  it('[exact] by poles: all strings as loud as their mean was, by the prediction itself', () => {
    const start = said(RODS.pickups[0]!.build!);
    expect(spread(start.levels)).toBeGreaterThan(3);
    const equal = balance(RODS, wish({}), solver);
    expect(equal).toMatchObject({ reached: true, limits: [] });
    const now = said(equal.build);
    expect(spread(now.levels)).toBeLessThan(2 * NEAR_DB);
    expect(Math.abs(mean(now.levels) - mean(start.levels))).toBeLessThan(NEAR_DB);
    expect(equal.pulls.map(Math.abs)).toEqual([start.pull, now.pull]);
  });

  it('[exact] poles that end give way: the worst on both sides are as far off, and the limit is named', () => {
    const found = balance(RODS, wish({ heights: [-0.0001, 0.0001] }), solver);
    expect(found.reached).toBe(false);
    // The loudest stands as low, and the softest as high, as it goes: none can be nearer to the other.
    const { heights } = found.build.rows[0]!.pole;
    expect(heights[found.after.indexOf(Math.max(...found.after))]).toBe(-1e-4);
    expect(heights[found.after.indexOf(Math.min(...found.after))]).toBe(1e-4);
    expect(found.limits).toContain(
      'The pole under string 6 is as low as it goes, −0.10 mm: a pole stands −0.10 mm high at least.',
    );
    for (const height of heights) expect(Math.abs(height)).toBeLessThan(1.001e-4);
    // A pole that may only sink: all sink to the one that is too soft.
    const sunk = balance(RODS, wish({ heights: [-0.004, 0] }), solver);
    expect(sunk.reached).toBe(true);
    expect(sunk.louder).toBeLessThan(-0.5);
    expect(Math.max(...sunk.build.rows[0]!.pole.heights)).toBeCloseTo(0, 4);
  });

  it('[exact] by gaps: no tilt or height nearby has less left, and what is left is said', () => {
    const level = mean(said(RODS.pickups[0]!.build!).levels);
    const { build, reached, limits } = balance(RODS, wish({ by: 'gaps' }), solver);
    const at = (bass: number, treble: number): number =>
      squares(
        said({ ...build, gapBass: build.gapBass + bass, gapTreble: build.gapTreble + treble }).levels,
        level,
      );
    const least = at(0, 0);
    for (const [bass, treble] of [
      [1e-4, 0],
      [-1e-4, 0],
      [0, 1e-4],
      [0, -1e-4],
    ] as const)
      expect(at(bass, treble)).toBeGreaterThan(least);
    expect(reached).toBe(false);
    expect(limits).toEqual([expect.stringMatching(/^Two gaps only tilt a pickup/)]);
  });

  it('[exact] the gap for a pull: within the cents, and a little nearer no more', () => {
    const { build, reached } = balance(RODS, wish({ by: 'pull', cents: 3 }), solver);
    expect(reached).toBe(true);
    const nearer = (by: number): number =>
      said({ ...build, gapBass: build.gapBass - by, gapTreble: build.gapTreble - by }).pull;
    expect(nearer(0)).toBeLessThanOrEqual(3);
    expect(nearer(3e-5)).toBeGreaterThan(3);
    expect(balance(RODS, wish({ by: 'pull', cents: 3, gaps: [0.0005, 0.003] }), solver)).toMatchObject({
      reached: false,
      limits: ['A gap is 3.00 mm at most, and more would be needed. Take weaker magnets.'],
    });
  });

  it('[exact] by turns: one pickup as loud as another', () => {
    const other = setAt(RODS, ['pickups', 0, 'build', 'rows', 0, 'turns'], 5000).pickups[0]!;
    const two = { ...RODS, pickups: [other, RODS.pickups[0]!] };
    const found = balance(two, wish({ by: 'turns', than: 1 }), solver);
    // The same but for its turns: found again.
    expect(found).toMatchObject({ reached: true, limits: [] });
    const planted = RODS.pickups[0]!.build!.rows[0]!.turns;
    expect(Math.abs(found.build.rows[0]!.turns / planted - 1)).toBeLessThan(2e-3);
    expect(found.before[0]).toBeCloseTo(20 * Math.log10(5000 / planted), 0);
    expect(() => balance(two, wish({ by: 'turns', than: 0 }), solver)).toThrow(/move all strings/);
  });

  it('[exact] an even strum on a slope: each lower string so much louder, by loudness', () => {
    const { build, reached } = balance(RODS, wish({ of: 'strum', slope: 0.5 }), solver);
    expect(reached).toBe(true);
    const built = setAt(RODS, ['pickups', 0, 'build'], build);
    // Of each string by itself, by the loudness of what is rendered.
    const loudness = [1, 6].map((string) => {
      const listen = { ...built.listen, play: 'string', string, fret: 0, seconds: 0.5 } as const;
      return phraseLevel({ ...built, listen }, solver.fields(built)).loudness!;
    });
    expect(Math.abs(loudness[1]! - loudness[0]! - 2.5)).toBeLessThan(0.3);
  });

  it('what can’t be moved is said to be so', () => {
    expect(() => balance(exampleSheet(), wish({}), solver)).toThrow(/must have a build/);
    const hand = setAt(RODS, ['pickups', 0, 'reachBy'], 'hand');
    expect(() => balance(hand, wish({}), solver)).toThrow(/left to the build/);
    const blade = setAt(RODS, ['pickups', 0, 'build', 'rows', 0, 'pole', 'kind'], 'none');
    expect(() => balance(blade, wish({}), solver)).toThrow(/a blade or a bar can’t be moved/);
  });
});
