/** The view across the strings: what is drawn stands where it stands over the pickup. */
import { describe, expect, it } from 'vitest';
import { fieldQuestion } from '../../src/physics/fieldQuestion.ts';
import { placedPlates } from '../../src/physics/magnetics/build/placedPlates.ts';
import { stringHeights } from '../../src/physics/magnetics/overPickup/stringHeights.ts';
import { type StringAbove } from '../../src/physics/magnetics/overPickup/stringLine.ts';
import { setAt } from '../../src/sheet/edit.ts';
import type { Pole, Sheet } from '../../src/sheet/sheet.ts';
import type { PickupOutcome } from '../../src/state/types.ts';
import { coverCut } from '../../src/ui/across/coverCut.ts';
import { polePath } from '../../src/ui/across/pole.ts';
import { acrossRoom, acrossView, keptAcross, poleAt } from '../../src/ui/across/view.ts';
import { balanced, describeAcross, faultsAcross, rowNames } from '../../src/ui/across/words.ts';
import { builtSheet } from '../fixtures/builtSheet.ts';
import { exampleSheet } from '../fixtures/sheet.ts';
import { readPath } from '../plot/pathReader.ts';

const rods = builtSheet('six staggered rods');
const covered = setAt(rods, ['pickups', 0, 'build', 'cover'], {
  metal: 'brass',
  thickness: 0.0005,
  clearance: 0.0004,
  holes: 'every row',
});
const two = builtSheet('slugs and screws beside an alnico bar');
/** px; places across are rounded to 0.05 mm for the field, not for the eye. */
const ROUNDED = 0.2;

describe('the drawing', () => {
  it.each([300, 366, 560, 640, 760, 1200])(
    'at %s px wide keeps within its width, to a stated scale',
    (width) => {
      for (const sheet of [rods, two, exampleSheet(), covered]) {
        const view = acrossView(sheet, 0, 0, width, []);
        expect(view.x(-view.half)).toBeGreaterThanOrEqual(0);
        expect(view.x(view.half)).toBeLessThanOrEqual(width);
        // [exact] CSS: 96 px are an inch.
        const [drawn = 0, real = 0] = view.ratio.split(' : ').map(Number);
        expect(view.scale * 0.0254).toBeCloseTo((96 * drawn) / real, 9);
      }
    },
  );

  it('has every string at the place and height for which the field is computed [exact]', () => {
    const sheets: Sheet[] = [rods, two, setAt(rods, ['pickups', 0, 'slant'], 0.2)];
    for (const sheet of sheets) {
      const view = acrossView(sheet, 0, 0, 640, []);
      const { build, strings } = fieldQuestion(sheet, 0)!;
      const untuned = { length: 1, tension: 1, frequency: 1, place: 0.1 };
      const heights = stringHeights(
        build,
        strings.map((s): StringAbove => ({ ...s, ...untuned })),
      );
      view.strings.forEach(({ x, y }, i) => {
        expect(Math.abs(x - view.x(strings[i]!.y))).toBeLessThan(ROUNDED);
        expect(Math.abs(y - view.z(heights[i]!))).toBeLessThan(ROUNDED);
      });
    }
  });

  it('has the cover where it is computed, open over the poles, and the flatwork within it [exact]', () => {
    const view = acrossView(covered, 0, 0, 640, []);
    const { build } = covered.pickups[0]!;
    const parts = coverCut(build!, 0, view);
    const [sheet] = placedPlates(fieldQuestion(covered, 0)!.build);
    const xs = parts.flat().map(({ x }) => x);
    expect(Math.min(...xs)).toBeCloseTo(view.x(-sheet!.halfY - 0.00025), 6);
    expect(Math.max(...xs)).toBeCloseTo(view.x(sheet!.halfY + 0.00025), 6);
    const top = parts[0]!.map(({ y }) => y);
    expect(Math.min(...top)).toBeCloseTo(view.z(0.0009), 6);
    // The drawing ends above the wall's foot.
    expect(Math.max(...top)).toBeCloseTo(view.z(view.cut), 6);
    expect(parts).toHaveLength(7);
    for (let k = 0; k < 6; k++) {
      const pole = view.x(poleAt(build!, k));
      expect(parts.some((part) => part.some(({ x }) => x < pole) && part.some(({ x }) => x > pole))).toBe(
        false,
      );
    }
    expect(view.x(-view.flatwork)).toBeGreaterThan(view.x(-sheet!.halfY + 0.00025));
    const closed = setAt(covered, ['pickups', 0, 'build', 'cover', 'holes'], 'none');
    expect(coverCut(closed.pickups[0]!.build!, 0, view)).toHaveLength(1);
    expect(coverCut(rods.pickups[0]!.build!, 0, view)).toEqual([]);
  });

  it('has the heights of the poles on one line with room for each, down to a phone’s width', () => {
    for (const width of [342, 366, 393, 560, 760]) {
      const view = acrossView(rods, 0, 0, width, []);
      expect(view.heights).toHaveLength(1);
      const columns = [0, 1, 2, 3, 4, 5].map(view.column);
      columns.slice(1).forEach((x, k) => expect(columns[k]! - x).toBeGreaterThanOrEqual(54));
      expect(columns[5]! - 27).toBeGreaterThanOrEqual(0);
      expect(columns[0]! + 27).toBeLessThanOrEqual(width);
    }
    expect(acrossView(rods, 0, 0, 296, []).heights).toHaveLength(2);
  });

  it('has bass on the left, the arc through the undersides, and poles under their strings', () => {
    const view = acrossView(rods, 0, 0, 640, []);
    const xs = view.strings.map(({ x }) => x);
    expect(xs.toSorted((a, b) => b - a)).toEqual(xs);
    const { x, y } = view.arc;
    for (const dot of view.strings) {
      const nearest = x.reduce(
        (best, at, i) => (Math.abs(at - dot.x) < Math.abs(x[best]! - dot.x) ? i : best),
        0,
      );
      expect(Math.abs(y[nearest]! - dot.under)).toBeLessThan(1e-6);
    }
    const build = rods.pickups[0]!.build!;
    expect(poleAt(build, 0)).toBeGreaterThan(0);
    expect(poleAt(build, 0) - poleAt(build, 5)).toBeCloseTo(5 * build.pitch, 12);
  });

  it('keeps its height whatever gap is set, to a smaller scale where it must [exact]', () => {
    for (const width of [296, 366, 560, 760]) {
      const made = acrossRoom(rods, 0, 0);
      const before = acrossView(rods, 0, 0, width, [], made);
      for (const gap of [0.001, 0.004, 0.006, 0.012]) {
        const moved = setAt(rods, ['pickups', 0, 'build', 'gapBass'], gap);
        const room = keptAcross(made, acrossRoom(moved, 0, 0));
        const view = acrossView(moved, 0, 0, width, [], room, before.foot);
        expect(view.height, `${width} px, ${gap} m`).toBe(
          acrossView(rods, 0, 0, width, [], made, before.foot).height,
        );
        expect(Math.min(...view.strings.map(({ y }) => y))).toBeGreaterThan(100);
        expect(view.foot).toBeLessThanOrEqual(before.foot + 0.01);
      }
    }
  });

  it('takes in levels of any size', () => {
    for (const most of [0, 1, 5.9, 6.1, 30, 80]) {
      const { level, span } = acrossView(rods, 0, 0, 640, [most, -most, NaN]);
      expect(span).toBeGreaterThanOrEqual(most);
      expect(level.to(span)).toBeLessThan(level.to(-span));
    }
  });
});

describe('a pole', () => {
  const pole: Pole = rods.pickups[0]!.build!.rows[0]!.pole;
  /** px per m: path text has two decimals. */
  const SCALE = 1e5;
  const of = (change: Partial<Pole>, deepest = 0.1): readonly [number, number][] =>
    readPath(polePath({ ...pole, ...change }, SCALE, deepest)).flatMap(({ points }) => points);

  it.each([
    ['flat', 0],
    ['chamfered', 0.001],
    ['coned', 0.001],
    ['domed', 0.001],
  ] as const)('%s is as wide and as long as it is, and the same on both sides [exact]', (shape, size) => {
    const points = of({ tip: { shape, size } });
    const xs = points.map(([x]) => x);
    const ys = points.map(([, y]) => y);
    expect(Math.max(...xs) - Math.min(...xs)).toBeCloseTo(SCALE * pole.diameter, 1);
    expect(Math.max(...xs)).toBeCloseTo(-Math.min(...xs), 9);
    expect(Math.min(...ys)).toBeCloseTo(0, 9);
    expect(Math.max(...of({ tip: { shape, size } }, 0.004).map(([, y]) => y))).toBeCloseTo(0.004 * SCALE, 1);
    expect(Math.max(...ys)).toBeCloseTo(SCALE * pole.length, 1);
  });
});

describe('the balance', () => {
  const outcome = (levels: number[]): PickupOutcome => ({
    coils: [],
    strings: levels.map((level) => ({ level, widths: [0.012], field: null })),
  });

  it('against the mean adds up to nothing, against a string leaves it at nothing [exact]', () => {
    const some = outcome([50, 60, 70, 30, 35, 29]);
    expect(balanced(some, 'their mean', 3).reduce((sum, db) => sum + db, 0)).toBeCloseTo(0, 12);
    const against = balanced(some, 'the chosen string', 3);
    expect(against[2]).toBe(0);
    // Twice the level is 20 log 2 = 6.02 dB.
    expect(balanced(outcome([2, 1]), 'the chosen string', 2)[0]).toBeCloseTo(20 * Math.log10(2), 12);
  });

  it('leaves a silent string out', () => {
    const levels = balanced(outcome([50, 0, 50]), 'their mean', 1);
    expect(levels).toEqual([0, NaN, 0]);
    expect(balanced(undefined, 'their mean', 1)).toEqual([]);
    expect(describeAcross('neck', null, levels, 'their mean')).toBe(
      'neck pickup seen along the strings, not built; level against their mean: string 1 0.0 dB, string 3 0.0 dB',
    );
  });

  it('names rows by what stands in them', () => {
    expect(rowNames(rods.pickups[0]!.build!)).toEqual(['rods']);
    expect(rowNames(two.pickups[0]!.build!)).toEqual(['screws towards the neck', 'slugs towards the bridge']);
  });

  it('says what is wrong with gaps and heights of the pickup that is shown, once', () => {
    const at = (pickup: number, ...rest: (string | number)[]) => ['pickups', pickup, 'build', ...rest];
    const high = {
      path: at(0, 'rows', 0, 'pole', 'heights', 4),
      message: 'Pole 5 must stay below string 5.',
    };
    const others = [
      { path: at(1, 'rows', 0, 'pole', 'heights', 4), message: 'of another pickup' },
      { path: at(0, 'rows', 0, 'turns'), message: 'of something else' },
    ];
    expect(faultsAcross([high, ...others, high], 0)).toEqual([high.message]);
  });
});
