/** What is added to a build can be built at once: in every preset and from every start, one part after the other. */
import { describe, expect, it } from 'vitest';
import { checkBuild } from '../../src/physics/magnetics/build/checkBuild.ts';
import { fieldQuestion } from '../../src/physics/fieldQuestion.ts';
import { blocksOf, pickupParts, type BlockPart } from '../../src/shape/parts.ts';
import type { PickupBuild } from '../../src/sheet/build.ts';
import { STARTING_BUILDS, withBuild } from '../../src/sheet/builds.ts';
import { checkSheet } from '../../src/sheet/check.ts';
import type { Pickup, Sheet } from '../../src/sheet/sheet.ts';
import {
  STEEL_STARTS,
  withStartingBar,
  withStartingSteel,
  type SteelStart,
} from '../../src/sheet/startingBlocks.ts';
import { steelNames } from '../../src/sheet/steelWords.ts';
import { PRESETS } from '../fixtures/presets.ts';
import { exampleSheet } from '../fixtures/sheet.ts';

interface Given {
  readonly name: string;
  readonly sheet: Sheet;
  readonly index: number;
}

const given: readonly Given[] = [
  ...STARTING_BUILDS.map((start) => ({
    name: start.name,
    sheet: withBuild(exampleSheet(), 0, start),
    index: 0,
  })),
  ...PRESETS.flatMap(({ name, data }) => {
    const checked = checkSheet(data);
    if (!checked.ok) throw new Error(checked.message);
    const { sheet } = checked;
    // A first part is put to what has none of steel yet.
    return sheet.pickups.flatMap((pickup, index) =>
      pickup.build!.steel.length > 0 ? [] : [{ name: `${name}, ${pickup.name}`, sheet, index }],
    );
  }),
];

const put = ({ sheet, index, name }: Given, build: PickupBuild): Given => ({
  name,
  index,
  sheet: { ...sheet, pickups: sheet.pickups.map((p, i) => (i === index ? { ...p, build } : p)) },
});
const pickupOf = ({ sheet, index }: Given): Pickup => sheet.pickups[index]!;
const offsetsOf = ({ rows }: Pickup): readonly number[] => rows.map(({ offset }) => offset);

/** Shares of volume, m³, that two blocks have in common. */
function common(a: BlockPart, b: BlockPart): number {
  return (['x', 'y', 'z'] as const)
    .map((axis) => {
      const apart = Math.abs(a.centre[axis] - b.centre[axis]);
      return Math.max(0, Math.min(a.size[axis], b.size[axis], (a.size[axis] + b.size[axis]) / 2 - apart));
    })
    .reduce((product, length) => product * length, 1);
}

/** The check takes it, no two blocks share room, and the engine finds no part in another's way. */
function expectBuildable(one: Given): void {
  expect(checkSheet(one.sheet), one.name).toStrictEqual({ ok: true, sheet: one.sheet });
  const blocks = blocksOf(pickupParts(pickupOf(one).build!, []));
  blocks.forEach((a, i) =>
    blocks.slice(i + 1).forEach((b) => expect(common(a, b), one.name).toBeLessThan(1e-15)),
  );
  expect(checkBuild(fieldQuestion(one.sheet, one.index)!.build), one.name).toEqual([]);
}

const WORD = { 'keeper plate': 'plate', wall: 'wall', blade: 'blade' } as const;

describe('a part to begin with', () => {
  it.each(STEEL_STARTS)('[exact] a %s can be built, and is called what it is', (start) => {
    for (const one of given) {
      const build = withStartingSteel(pickupOf(one), start);
      expect(build, one.name).not.toBeNull();
      const after = put(one, build!);
      expectBuildable(after);
      expect(steelNames(build!, offsetsOf(pickupOf(after))), one.name).toEqual([WORD[start]]);
    }
  });

  it('[exact] bars can be built, up to eight, and then no ninth is offered', () => {
    for (const one of given) {
      let now = one;
      for (;;) {
        const build = withStartingBar(pickupOf(now));
        if (!build) break;
        now = put(now, build);
        expectBuildable(now);
      }
      expect(pickupOf(now).build!.bars.length, one.name).toBe(8);
    }
  });

  it('[exact] steel of every kind and bars can be built together, in any order', () => {
    const orders: readonly (readonly (SteelStart | 'bar')[])[] = [
      ['keeper plate', 'wall', 'wall', 'bar', 'bar', 'blade', 'keeper plate', 'wall'],
      ['bar', 'bar', 'wall', 'keeper plate', 'wall', 'blade'],
      ['blade', 'bar', 'wall', 'wall', 'keeper plate', 'bar', 'bar'],
    ];
    for (const one of given)
      for (const order of orders) {
        let now = one;
        for (const what of order) {
          const pickup = pickupOf(now);
          const build = what === 'bar' ? withStartingBar(pickup) : withStartingSteel(pickup, what);
          // There may be no room left for it; then it is not offered.
          if (!build) continue;
          now = put(now, build);
          expectBuildable(now);
        }
        expect(pickupOf(now).build!.steel.length, one.name).toBeGreaterThanOrEqual(3);
      }
  });

  it('[exact] a keeper touches the lowest feet, winding or block, and reaches past the poles', () => {
    for (const one of given) {
      const before = pickupOf(one).build!;
      const feet = before.rows.flatMap(({ pole, window }) => [
        Math.min(...pole.heights) - pole.length,
        window.bottom,
      ]);
      const lowest = Math.min(...feet, ...before.bars.map(({ top, thickness }) => top - thickness));
      const [plate] = withStartingSteel(pickupOf(one), 'keeper plate')!.steel;
      expect(plate!.top, one.name).toBeCloseTo(lowest, 12);
      const outermost = ((before.rows[0]!.pole.heights.length - 1) / 2) * before.pitch;
      expect(plate!.length / 2, one.name).toBeGreaterThan(outermost + before.rows[0]!.pole.diameter / 2);
    }
  });

  it('[exact] two walls stand on either side, two side magnets as well with their norths inwards', () => {
    const one = given.find(({ name }) => name === 'six rods')!;
    let now = put(one, withStartingSteel(pickupOf(one), 'wall')!);
    now = put(now, withStartingSteel(pickupOf(now), 'wall')!);
    const [first, second] = pickupOf(now).build!.steel;
    expect(second).toEqual({ ...first, offset: -first!.offset });
    for (let i = 0; i < 3; i++) now = put(now, withStartingBar(pickupOf(now))!);
    const [, ...sides] = pickupOf(now).build!.bars;
    // Not turned, north is towards the nut, where x is positive.
    expect(sides.map(({ turned, offset }) => turned === offset > 0)).toEqual([true, true]);
    expect(sides[0]!.offset).toBe(-sides[1]!.offset);
  });

  it('[exact] a blade takes the place of the poles of one row, in its coil', () => {
    const one = given.find(({ name }) => name.startsWith('slugs and screws'))!;
    const once = put(one, withStartingSteel(pickupOf(one), 'blade')!);
    const twice = put(once, withStartingSteel(pickupOf(once), 'blade')!);
    const kinds = [one, once, twice].map((now) => pickupOf(now).build!.rows.map(({ pole }) => pole.kind));
    expect(kinds).toEqual([
      ['screw', 'slug'],
      ['none', 'slug'],
      ['none', 'none'],
    ]);
    expect(pickupOf(twice).build!.steel.map(({ offset }) => offset)).toEqual(offsetsOf(pickupOf(one)));
  });
});
