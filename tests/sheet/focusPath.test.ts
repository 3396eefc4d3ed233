import { describe, expect, it } from 'vitest';
import type { PoleTip } from '../../src/sheet/build.ts';
import { STARTING_BUILDS } from '../../src/sheet/builds.ts';
import { checkSheet } from '../../src/sheet/check.ts';
import { focusPath, largestTip, lowered, withTip } from '../../src/sheet/focusPath.ts';
import { builtSheet } from '../fixtures/builtSheet.ts';

describe.each(STARTING_BUILDS.map((start) => start.name))('%s', (name) => {
  const sheet = builtSheet(name);
  const build = sheet.pickups[0]!.build!;

  it.each(['tip', 'gap'] as const)('[exact] by the %s: every place on the way can be built', (by) => {
    for (let row = 0; row < build.rows.length; row++) {
      const path = focusPath(build, row, by);
      expect(path.least).toBeLessThan(0);
      expect(path.most).toBeGreaterThan(0);
      expect(path.at(0).build).toBe(build);
      for (let u = path.least; u <= path.most; u += (path.most - path.least) / 40) {
        const next = { ...sheet, pickups: [{ ...sheet.pickups[0]!, build: path.at(u).build }] };
        expect(checkSheet({ ...next, pickups: next.pickups.map((p) => ({ ...p, sounds: true })) }).ok).toBe(
          true,
        );
      }
    }
  });

  it('[exact] the tip moves first and alone, then the gap alone, on both sides alike', () => {
    const path = focusPath(build, 0, 'tip');
    const near = path.at(1e-4);
    expect(near.part).toBe('tip');
    expect(near.build.gapBass).toBe(build.gapBass);
    expect(near.build.rows[0]!.pole.tip.size).toBeGreaterThan(build.rows[0]!.pole.tip.size);
    const far = path.at(path.most);
    expect(far.part).toBe('gap');
    expect(far.build.rows[0]!.pole.tip.size).toBeCloseTo(largestTip(build.rows[0]!.pole), 6);
    expect(far.build.gapBass - build.gapBass).toBeCloseTo(far.build.gapTreble - build.gapTreble, 9);
    const close = path.at(path.least);
    expect(close.build.rows[0]!.pole.tip).toStrictEqual({ shape: 'flat', size: 0 });
    expect(close.build.gapBass).toBeLessThan(build.gapBass);
    // Other rows keep their tips.
    expect(far.build.rows.slice(1)).toStrictEqual(build.rows.slice(1));
  });
});

it.each<[PoleTip, number, PoleTip]>([
  [{ shape: 'flat', size: 0 }, 5e-4, { shape: 'chamfered', size: 5e-4 }],
  [{ shape: 'domed', size: 1e-3 }, 5e-4, { shape: 'domed', size: 5e-4 }],
  [{ shape: 'coned', size: 1e-3 }, 0, { shape: 'flat', size: 0 }],
])('[exact] a tip of %j made %d m large', (tip, size, after) => {
  const pole = { ...STARTING_BUILDS[0]!.build.rows[0]!.pole, tip };
  expect(withTip(pole, size).tip).toStrictEqual(after);
});

it('[exact] a pickup is lowered no further than its gaps allow, and never above its strings', () => {
  const build = STARTING_BUILDS[2]!.build;
  const highest = Math.max(...build.rows[0]!.pole.heights);
  expect(lowered(build, 1).gapBass).toBe(0.015);
  expect(lowered(build, -1).gapTreble - highest).toBeCloseTo(0.5e-3, 9);
  expect(lowered(build, 0.3e-3).gapTreble).toBeCloseTo(build.gapTreble + 0.3e-3, 12);
});
