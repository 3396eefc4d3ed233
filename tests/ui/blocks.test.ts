/** Bars and steel as they are drawn: cut, beside the plane of the cut, or hidden below. */
import { describe, expect, it } from 'vitest';
import { hatchPolygon, hatchSteel, rectangle } from '../../src/plot/hatch.ts';
import { alongRow, rowCrossing, stringAcross } from '../../src/shape/stringCourse.ts';
import type { BarMagnet, PickupBuild, SteelBox } from '../../src/sheet/build.ts';
import type { Sheet } from '../../src/sheet/sheet.ts';
import { blocksAcross } from '../../src/ui/across/blocksAcross.ts';
import { blocksBelow } from '../../src/ui/across/blocksBelow.ts';
import { acrossView } from '../../src/ui/across/view.ts';
import { taken } from '../../src/ui/plan/map.ts';
import { PlanBlockMeasures } from '../../src/ui/plan/blockMeasures.ts';
import { halves, planView } from '../../src/ui/plan/view.ts';
import { builtSection, type Built } from '../../src/ui/section/built.ts';
import { sectionExtent, sectionView } from '../../src/ui/section/view.ts';
import { builtSheet } from '../fixtures/builtSheet.ts';

const WALL: SteelBox = {
  steel: 'low-carbon, annealed',
  width: 0.001,
  length: 0.062,
  thickness: 0.01,
  offset: 0.0085,
  across: 0,
  top: -0.003,
};
const BAR: BarMagnet = {
  magnet: { grade: 'ceramic 5', charge: 1 },
  direction: 'across the width',
  turned: false,
  width: 0.006,
  length: 0.02,
  thickness: 0.006,
  offset: 0.012,
  across: 0.015,
  top: -0.006,
};

function withBlocks(more: Partial<PickupBuild>, slant = 0): Sheet {
  const sheet = builtSheet('six rods');
  const pickups = sheet.pickups.map((p, i) =>
    i === 0 ? { ...p, slant, build: { ...p.build!, ...more } } : p,
  );
  return { ...sheet, pickups };
}

function cut(sheet: Sheet, string: number): Built {
  const now = { ...sheet, listen: { ...sheet.listen, string } };
  const view = sectionView(now, null, 0, 820, sectionExtent(now, 0));
  return builtSection(now.pickups[0]!.build!, string, [], view);
}

describe('the section along a string', () => {
  it('[exact] cuts a block that lies under the string, and shows one that does not beside it', () => {
    const sheet = withBlocks({ bars: [BAR], steel: [WALL] });
    // The bar lies from 5 to 25 mm on the treble side; strings are 10.4 mm apart at the most.
    expect([1, 6].map((string) => cut(sheet, string).bars[0]!.cut)).toEqual([true, false]);
    expect([1, 6].map((string) => cut(sheet, string).steel[0]!.cut)).toEqual([true, true]);
    expect(cut(sheet, 1).bars[0]!.letters.map(({ text }) => text)).toEqual(['N', 'S']);
    expect(cut(sheet, 6).bars[0]!.letters).toEqual([]);
  });

  it('[exact] has a block where a row of the same offset is, slanted as well', () => {
    const sheet = withBlocks({ steel: [WALL] }, 0.2);
    const view = sectionView(sheet, null, 0, 820, sectionExtent(sheet, 0));
    const { instrument, listen, pickups } = sheet;
    const x = view.x.to(rowCrossing(instrument, pickups[0]!, WALL.offset, listen.string));
    const { box } = builtSection(pickups[0]!.build!, listen.string, [], view).steel[0]!;
    expect(box.x + box.width / 2).toBeCloseTo(x, 9);
  });

  it('[exact] of a bar magnetised along its length shows the end that is looked at: the treble one', () => {
    const bar: BarMagnet = { ...BAR, direction: 'along the length' };
    for (const [turned, text] of [
      [false, 'N'],
      [true, 'S'],
    ] as const)
      expect(cut(withBlocks({ bars: [{ ...bar, turned }] }), 1).bars[0]!.letters).toMatchObject([{ text }]);
  });
});

it('[exact] a string crosses a slanted row where Pythagoras has it', () => {
  const { instrument } = builtSheet('six rods');
  const pickup = { place: 0.1, slant: 0.25 };
  for (const offset of [-0.009, 0, 0.02]) {
    const x = rowCrossing(instrument, pickup, offset, 2);
    const y = stringAcross(instrument, 2, x);
    const along = alongRow(instrument, pickup, offset, 2);
    expect(Math.hypot(along, offset)).toBeCloseTo(Math.hypot(x - pickup.place, y), 12);
    expect(Math.sign(along)).toBe(1);
  }
});

describe('the plan', () => {
  it('[exact] hides what lies under a coil, and shows walls and blades', () => {
    const keeper = { ...WALL, width: 0.016, thickness: 0.001, offset: 0, top: -0.017 };
    const blade = { ...WALL, width: 0.003, thickness: 0.016, offset: 0, top: 0 };
    const { blocks } = planView(withBlocks({ steel: [keeper, WALL, blade] }), 0, 400);
    expect(blocks.map(({ hidden }) => hidden)).toEqual([true, false, false]);
  });

  it('[exact] says the poles of a bar as it is magnetised, the nut on the left', () => {
    const bar: BarMagnet = { ...BAR, width: 0.012, length: 0.06, offset: 0, across: 0, top: -0.02 };
    const said = (direction: BarMagnet['direction'], turned: boolean): unknown => {
      const [block] = planView(withBlocks({ bars: [{ ...bar, direction, turned }] }), 0, 400).blocks;
      return block!.letters.map(({ text, x, y }) => [text, Math.sign(Math.round(x)), Math.sign(y)]);
    };
    expect(said('across the width', false)).toEqual([
      ['N', -1, 0],
      ['S', 1, 0],
    ]);
    // The treble side is on top, where y is negative.
    expect(said('along the length', true)).toEqual([
      ['S', 0, -1],
      ['N', 0, 1],
    ]);
    expect(said('through the thickness', false)).toEqual([['N', 0, 1]]);
  });
});

describe('the rings on the plan', () => {
  const sheet = withBlocks({ bars: [BAR, { ...BAR, offset: -0.012 }], steel: [WALL] }, 0.1);
  const rings = (
    now: Sheet,
    measures: PlanBlockMeasures,
    resting = true,
    width = 349,
  ): ReturnType<PlanBlockMeasures['find']> => {
    const view = planView(now, 0, width, halves(sheet, 0, null));
    return measures.find(now.pickups[0]!, 0, view, taken(view), '', resting);
  };

  it.each([349, 366, 597])('at %i px stand apart from one another, and each part has one', (width) => {
    const all = rings(sheet, new PlanBlockMeasures(), true, width);
    const view = planView(sheet, 0, width, halves(sheet, 0, null));
    for (const key of ['bars 0 length', 'bars 1 length', 'steel 0 length'])
      expect(all.map((ring) => ring.key)).toContain(key);
    const others = [...taken(view), ...all];
    for (const ring of all) {
      expect(ring.x).toBeGreaterThan(0);
      expect(ring.x).toBeLessThan(width);
      for (const other of others)
        // WCAG 2.2, 2.5.8.
        if (other !== ring) expect(Math.hypot(other.x - ring.x, other.y - ring.y)).toBeGreaterThanOrEqual(24);
    }
  });

  it('[exact] a ring moves along the screen by the pixels that its figure says', () => {
    const measures = new PlanBlockMeasures();
    for (const ring of rings(sheet, measures)) {
      const step = 2e-4;
      const next = structuredClone(sheet) as unknown as Record<string, unknown>;
      let node = next;
      for (const key of ring.path.slice(0, -1)) node = node[key] as Record<string, unknown>;
      node[ring.path.at(-1)!] = ring.value + step;
      const after = rings(next as unknown as Sheet, measures, false).find(({ key }) => key === ring.key)!;
      expect(after[ring.along] - ring[ring.along], ring.key).toBeCloseTo(step * ring.pixelsPerUnit, 6);
    }
  });
});

describe('the view across', () => {
  const keeper = { ...WALL, width: 0.016, thickness: 0.001, offset: 0, top: -0.017 };
  const blade = { ...WALL, width: 0.003, thickness: 0.016, offset: 0, top: 0 };

  it('[exact] cuts the blade of its row, sees a wall behind it, and names what lies below the break', () => {
    const sheet = withBlocks({ steel: [keeper, WALL, blade] });
    const { build } = sheet.pickups[0]!;
    const view = acrossView(sheet, 0, 0, 600, []);
    const drawn = blocksAcross(build!, 0, view);
    expect(drawn.map((block) => block.cut)).toEqual([false, true]);
    for (const { y, height, x, width } of drawn) {
      expect(y + height).toBeCloseTo(view.z(view.cut), 9);
      expect(x + width / 2).toBeCloseTo(300, 9);
    }
    expect(blocksBelow(build!, [0], view)).toEqual(['steel plate 1.0 mm thick']);
  });

  it('[exact] has room for a block that is longer than the bobbin', () => {
    const sheet = withBlocks({ steel: [{ ...WALL, length: 0.1 }] });
    const view = acrossView(sheet, 0, 0, 600, []);
    const [drawn] = blocksAcross(sheet.pickups[0]!.build!, 0, view);
    expect(drawn!.x).toBeGreaterThan(0);
    expect(drawn!.x + drawn!.width).toBeLessThan(600);
  });
});

it('[exact] steel is lined in pairs, three tenths of their spacing apart', () => {
  const corners = rectangle(0, 0, 100, 60);
  const single = hatchPolygon(corners, { spacing: 8 });
  const pairs = hatchSteel(corners, { spacing: 8 });
  expect(pairs.slice(0, single.length)).toEqual(single);
  const level = ({ x1, y1 }: { x1: number; y1: number }): number => (x1 + y1) / Math.SQRT2;
  const levels = pairs.map(level).toSorted((a, b) => a - b);
  const gaps = new Set(levels.slice(1).map((v, i) => (v - levels[i]!).toFixed(6)));
  expect([...gaps].toSorted()).toEqual(['2.400000', '5.600000']);
});
