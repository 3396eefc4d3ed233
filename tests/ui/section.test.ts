/** The section's geometry: to scale, and nothing in the way of anything else. */
import { describe, expect, it } from 'vitest';
import { STARTING_BUILDS, withBuild } from '../../src/sheet/builds.ts';
import type { PoleTip } from '../../src/sheet/build.ts';
import type { Pickup, PickupBuild, Sheet } from '../../src/sheet/sheet.ts';
import { withStartingBar, withStartingSteel, type SteelStart } from '../../src/sheet/startingBlocks.ts';
import { coverRim } from '../../src/shape/cover.ts';
import { pickupParts } from '../../src/shape/parts.ts';
import { stringUnderside } from '../../src/shape/stringCourse.ts';
import { acrossView } from '../../src/ui/across/view.ts';
import { faceGaps } from '../../src/ui/close/words.ts';
import { BlockMeasures } from '../../src/ui/section/blockMeasures.ts';
import { builtSection } from '../../src/ui/section/built.ts';
import type { Measure, MeasureInput } from '../../src/ui/section/measure.ts';
import { measures } from '../../src/ui/section/measures.ts';
import { keptExtent, sectionExtent, sectionView, type SectionView } from '../../src/ui/section/view.ts';
import { builtSheet } from '../fixtures/builtSheet.ts';
import { exampleSheet } from '../fixtures/sheet.ts';

/** A pixel of CSS is 1/96 of an inch, an inch 25.4 mm (CSS Values and Units, 5.2). */
const PER_MM = 96 / 25.4;
/** What the drawing is given on pages of 320, 390, 900 and 1440 px. */
const WIDTHS = [296, 366, 597, 820];

interface Drawn {
  readonly view: SectionView;
  readonly all: readonly Measure[];
}

/** All rings, those of bars and steel as well. */
function every(input: MeasureInput, places = new BlockMeasures(), resting = true): readonly Measure[] {
  const placed = measures(input);
  return [...placed, ...places.find(input, placed, '', resting)];
}

function draw(sheet: Sheet, width: number, places?: BlockMeasures): Drawn {
  const pickup = sheet.pickups[0]!;
  const build = pickup.build!;
  const { string } = sheet.listen;
  const view = sectionView(sheet, null, 0, width, sectionExtent(sheet, 0));
  const built = builtSection(build, string, [], view);
  const under = stringUnderside(sheet.instrument, pickup, build, string);
  return { view, all: every({ pickup, build, index: 0, string, under, view, built }, places) };
}

const onString = (sheet: Sheet, string: number): Sheet => ({
  ...sheet,
  listen: { ...sheet.listen, string },
});

const tipped = (sheet: Sheet, tip: PoleTip): Sheet => ({
  ...sheet,
  pickups: sheet.pickups.map((p) => ({
    ...p,
    build: p.build && {
      ...p.build,
      rows: p.build.rows.map((row) => ({ ...row, pole: { ...row.pole, tip } })),
    },
  })),
});

/** With parts as they are added. */
function more(sheet: Sheet, ...what: readonly (SteelStart | 'bar')[]): Sheet {
  return what.reduce((now, one) => {
    const [pickup, ...others] = now.pickups as [Pickup, ...Pickup[]];
    const build = one === 'bar' ? withStartingBar(pickup) : withStartingSteel(pickup, one);
    return build ? { ...now, pickups: [{ ...pickup, build }, ...others] } : now;
  }, sheet);
}

describe.each(STARTING_BUILDS)('$name', (start) => {
  const plain = withBuild(exampleSheet(), 0, start);
  const sheets = [
    plain,
    onString(plain, 6),
    onString(plain, 1),
    tipped(plain, { shape: 'chamfered', size: 1e-3 }),
    more(plain, 'keeper plate'),
    more(plain, 'wall', 'wall', 'keeper plate'),
    more(plain, 'bar', 'bar', 'bar', 'wall', 'keeper plate'),
    more(plain, 'blade', 'bar'),
  ];

  it.each(WIDTHS)('[exact] at %i px it is drawn to the scale that it states, along and up alike', (width) => {
    for (const sheet of sheets) {
      const { view } = draw(sheet, width);
      const [paper, real] = view.ratio!.split(' : ').map(Number);
      const expected = (paper! / real!) * PER_MM;
      expect(Math.abs(view.x.to(0.001) - view.x.to(0))).toBeCloseTo(expected, 9);
      expect(view.z.to(0) - view.z.to(0.001)).toBeCloseTo(expected, 9);
    }
  });

  it.each(WIDTHS)('at %i px every ring stands in the drawing, with room for a finger', (width) => {
    for (const sheet of sheets) {
      const { view, all } = draw(sheet, width);
      for (const { key, handle } of all) {
        expect(handle.x, key).toBeGreaterThanOrEqual(0);
        expect(handle.x, key).toBeLessThanOrEqual(width);
        expect(handle.y, key).toBeGreaterThan(0);
        expect(handle.y, key).toBeLessThan(view.height);
      }
      // WCAG 2.2, 2.5.8: targets of 24 px, or as far apart.
      all.forEach((a, i) =>
        all.slice(i + 1).forEach((b) => {
          const apart = Math.hypot(a.handle.x - b.handle.x, a.handle.y - b.handle.y);
          expect(apart, `${a.key} and ${b.key}`).toBeGreaterThanOrEqual(24);
        }),
      );
    }
  });

  it('steel has rings for thickness, width and place; of many parts each has one for its thickness', () => {
    for (const what of ['keeper plate', 'wall', 'blade'] as const) {
      const keys = draw(more(plain, what), 820).all.map(({ key }) => key);
      for (const field of ['thickness', 'width', 'offset']) expect(keys, what).toContain(`steel 0 ${field}`);
    }
    const many = more(plain, 'bar', 'bar', 'wall', 'keeper plate');
    const keys = draw(many, 820).all.map(({ key }) => key);
    const { bars, steel } = many.pickups[0]!.build!;
    steel.forEach((_, i) => expect(keys).toContain(`steel ${i} thickness`));
    bars.forEach((_, i) => expect(keys).toContain(`bar ${i} thickness`));
  });

  it('no figure on the drawing lies over another or over a ring', () => {
    for (const width of [597, 820])
      for (const sheet of sheets.slice(4)) {
        const { all, view } = draw(sheet, width);
        if (view.tabled) continue;
        const blocks = all.filter(({ key }) => /^(bar|steel)/.test(key));
        const boxes = all.flatMap(({ key, place, before }) => {
          if (!place) return [];
          // A figure such as «12.5 mm» in 14 px, and what stands before it.
          const wide = 56 + 7 * before.length;
          const left = { start: place.x, middle: place.x - wide / 2, end: place.x - wide }[place.anchor];
          return [{ key, left, right: left + wide, top: place.y - 10, bottom: place.y + 10 }];
        });
        const ours = boxes.filter(({ key }) => blocks.some((one) => one.key === key));
        for (const a of ours) {
          for (const b of boxes)
            if (a !== b)
              expect(
                a.left >= b.right || b.left >= a.right || a.top >= b.bottom || b.top >= a.bottom,
                `${a.key} and ${b.key}`,
              ).toBe(true);
          for (const { key, handle } of all)
            expect(
              handle.x < a.left || handle.x > a.right || handle.y < a.top || handle.y > a.bottom,
              `${a.key} and the ring of ${key}`,
            ).toBe(true);
        }
      }
  });

  it('[exact] a ring moves by the pixels that its figure says', () => {
    const places = new BlockMeasures();
    for (const measure of draw(plain, 597, places).all) {
      const step = 2e-4;
      const { path, value } = measure.change(measure.value + step);
      const next = structuredClone(plain) as unknown as Record<string, unknown>;
      let node = next;
      for (const key of path.slice(0, -1)) node = node[key] as Record<string, unknown>;
      node[path.at(-1)!] = value;
      // The drawing keeps its place while something is dragged.
      const extent = sectionExtent(plain, 0);
      const moved = next as unknown as Sheet;
      const pickup = moved.pickups[0]!;
      const view = sectionView(moved, null, 0, 597, extent);
      const built = builtSection(pickup.build!, moved.listen.string, [], view);
      const under = stringUnderside(moved.instrument, pickup, pickup.build!, moved.listen.string);
      const input = {
        pickup,
        build: pickup.build!,
        index: 0,
        string: moved.listen.string,
        under,
        view,
        built,
      };
      const after = every(input, places, false).find(({ key }) => key === measure.key)!;
      expect(after.value - measure.value, measure.key).toBeCloseTo(step, 9);
      const went = after.handle[measure.along] - measure.handle[measure.along];
      expect(went, measure.key).toBeCloseTo(step * measure.pixelsPerUnit, 6);
    }
  });

  it('[exact] a gap dragged stays on hundredths of a millimetre at both sides', () => {
    const gap = draw(plain, 597).all.find(({ key }) => key === 'gap')!;
    const { gapBass, gapTreble } = gap.change(gap.value - 1.3e-4).value as PickupBuild;
    const before = plain.pickups[0]!.build!;
    expect(gapBass).toBeCloseTo(before.gapBass - 1.3e-4, 12);
    expect(gapTreble).toBeCloseTo(before.gapTreble - 1.3e-4, 12);
  });
});

it('[exact] a chamfer of 1 mm is 1 mm high and leaves a land 2 mm narrower than the pole', () => {
  const sheet = tipped(withBuild(exampleSheet(), 0, STARTING_BUILDS[0]!), { shape: 'chamfered', size: 1e-3 });
  const { view } = draw(sheet, 597);
  const { outline, half, top } = builtSection(sheet.pickups[0]!.build!, 3, [], view).rows[0]!;
  const land = outline.filter(({ y }) => Math.abs(y - top) < 1e-6).map(({ x }) => x);
  const mm = view.scale / 1000;
  expect(Math.max(...land) - Math.min(...land)).toBeCloseTo(2 * half - 2 * mm, 6);
  expect(outline.some(({ y }) => Math.abs(y - top - mm) < 1e-6)).toBe(true);
});

it('[exact] the drawing has room for what is deepest and highest, and keeps it while that shrinks', () => {
  const sheet = withBuild(exampleSheet(), 0, STARTING_BUILDS[5]!);
  const extent = sectionExtent(sheet, 0)!;
  // The screws, 21 mm; the thickest string above its gap.
  expect(extent.depth).toBeCloseTo(0.021, 9);
  const shorter = sectionView(onString(sheet, 1), null, 0, 597, extent);
  expect(shorter.z.to(0)).toBe(sectionView(sheet, null, 0, 597, extent).z.to(0));
  expect(sectionExtent(exampleSheet(), 0)).toBeNull();
});

it('[exact] keeps its height whatever is moved, to a smaller scale where it must, and all of it stays in view', () => {
  for (const start of STARTING_BUILDS)
    for (const width of WIDTHS) {
      const sheet = withBuild(exampleSheet(), 0, start);
      const build = sheet.pickups[0]!.build!;
      const made = sectionExtent(sheet, 0)!;
      const { height } = sectionView(sheet, null, 0, width, made);
      const { z } = sectionView(sheet, null, 0, width, made, height);
      for (const by of [-1e-3, 0, 2e-3, 4e-3, 10e-3]) {
        const gaps = { gapBass: build.gapBass + by, gapTreble: build.gapTreble + by };
        const moved = { ...sheet, pickups: [{ ...sheet.pickups[0]!, build: { ...build, ...gaps } }] };
        const extent = keptExtent(made, sectionExtent(moved, 0)!, width);
        const view = sectionView(moved, null, 0, width, extent, height);
        expect(view.height, `${start.name}, ${width} px, ${by} m`).toBe(height);
        expect(view.string - view.bellHeight - view.stringThick / 2).toBeGreaterThanOrEqual(0);
        expect(view.bottom).toBeLessThanOrEqual(height);
        // What is moved by little moves nothing else.
        if (by <= 2e-3) expect(view.z.to(0)).toBe(z.to(0));
      }
    }
});

describe('the lower flange of a bobbin', () => {
  it('[exact] is drawn as thick as it is computed: a cover ends where it does', () => {
    let drawn = 0;
    for (const start of STARTING_BUILDS) {
      const sheet = withBuild(exampleSheet(), 0, start);
      const { build } = sheet.pickups[0]!;
      const view = sectionView(sheet, null, 0, 820, sectionExtent(sheet, 0));
      const rim = coverRim(pickupParts(build!, []));
      builtSection(build!, 3, [], view).rows.forEach(({ flanges }, r) => {
        const { bottom } = build!.rows[r]!.window;
        // A bar right under the winding takes the flange's room.
        if (build!.bars.some(({ top }) => bottom - top < bottom - rim)) return;
        const lower = flanges[1]!;
        expect(lower.y + lower.height).toBeCloseTo(view.z.to(rim), 9);
        drawn++;
      });
    }
    expect(drawn).toBeGreaterThan(2);
  });
});

describe('the gap is one figure in every drawing: from the pole’s face to the underside of its string', () => {
  it.each(['six rods', 'six staggered rods', 'steel poles over a ceramic bar'])(
    '%s: section, across and how close it may sit [exact]',
    (name) => {
      const sheet = builtSheet(name);
      const pickup = sheet.pickups[0]!;
      const build = pickup.build!;
      const under = (n: number): number => stringUnderside(sheet.instrument, pickup, build, n);
      const close = faceGaps(build, under);
      const across = acrossView(sheet, 0, 0, 597, []);
      // Of the view across: px from a pole's top to the string over it.
      const perMetre = (across.z(0) - across.z(0.001)) / 0.001;
      close.forEach((gap, i) => {
        const listen = { ...sheet.listen, string: i + 1 };
        const { all } = draw({ ...sheet, listen }, 597);
        const section = all.find(({ key }) => key === 'gap')!.value;
        // It is shown to a hundredth of a millimetre.
        expect(Math.abs(section - gap)).toBeLessThan(5.1e-6);
        const drawn = across.z(build.rows[0]!.pole.heights[i]!) - across.strings[i]!.under;
        expect(Math.abs(drawn / perMetre - gap)).toBeLessThan(1e-9);
      });
    },
  );
});

it('the words of two rows’ heights keep off each other, and stand where they have room', () => {
  // «h −0.00 mm» as it is drawn for fingers, with what it keeps from its neighbour, px.
  const wide = 88;
  const sheet = builtSheet('slugs and screws beside an alnico bar');
  const worded = [400, 500, 560, 576, 597, 640, 700, 820, 900].filter((width) => {
    const [one, other] = draw(sheet, width).all.filter(({ key }) => key.startsWith('height '));
    expect(one!.before).toBe(other!.before);
    if (one!.before === '') return false;
    expect(Math.abs(one!.place!.x - other!.place!.x), `${width} px`).toBeGreaterThanOrEqual(2 * wide);
    return true;
  });
  expect(worded.length).toBeGreaterThan(0);
});
