import { describe, expect, it } from 'vitest';
import type { PoleTip } from '../../src/sheet/build.ts';
import { STARTING_BUILDS } from '../../src/sheet/builds.ts';
import { leverRange, LEVERS, lowered, withLever, withTip } from '../../src/sheet/focusLever.ts';
import { builtSheet } from '../fixtures/builtSheet.ts';

describe.each(STARTING_BUILDS.map((start) => start.name))('%s', (name) => {
  const sheet = builtSheet(name);
  const build = sheet.pickups[0]!.build!;

  it.each(LEVERS)(
    '[exact] by the %s: there and back is the very same build, and nothing else moves',
    (lever) => {
      for (let row = 0; row < build.rows.length; row++) {
        const { value, min, max } = leverRange(build, row, lever)!;
        expect(min).toBeLessThanOrEqual(value);
        expect(max).toBeGreaterThan(value);
        expect(withLever(build, row, lever, value)).toBe(build);
        for (const share of [0, 0.3, 0.9, 1]) {
          const to = min + share * (max - min);
          const moved = withLever(build, row, lever, to);
          expect(leverRange(moved, row, lever)!.value).toBeCloseTo(to, 6);
          const changed = differences(build, moved);
          expect(changed.filter((path) => !OF_LEVER[lever].test(path))).toEqual([]);
          expect(changed.filter((path) => /rows/.test(path) && !path.startsWith(`rows.${row}`))).toEqual([]);
          expect(leverRange(withLever(moved, row, lever, value), row, lever)!.value).toBeCloseTo(value, 6);
        }
      }
      expect(leverRange(build, build.rows.length, lever)).toBe(null);
    },
  );

  it('[exact] both sides of the gap move alike', () => {
    const { max } = leverRange(build, 0, 'gap')!;
    const low = withLever(build, 0, 'gap', max);
    expect(low.gapBass - build.gapBass).toBeCloseTo(low.gapTreble - build.gapTreble, 9);
  });
});

const OF_LEVER = {
  gap: /^gap(Bass|Treble)$/,
  tip: /^rows\.\d\.pole\.tip\.(shape|size)$/,
  diameter: /^rows\.\d\.pole\.(head\.)?diameter$/,
} as const;

/** Paths of all figures that differ. */
function differences(a: unknown, b: unknown, path = ''): string[] {
  if (typeof a !== 'object' || a === null) return Object.is(a, b) ? [] : [path.slice(1)];
  return Object.entries(a).flatMap(([key, value]) =>
    differences(value, (b as Record<string, unknown>)[key], `${path}.${key}`),
  );
}

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
