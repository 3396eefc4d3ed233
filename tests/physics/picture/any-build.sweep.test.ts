/** Pictures of many builds: nothing that is not a number reaches a drawing. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { BuiltPickup } from '../../../src/physics/magnetics/build/build.ts';
import type { Tip } from '../../../src/shape/pole.ts';
import { BuildError } from '../../../src/physics/magnetics/build/checkBuild.ts';
import { pictures } from '../../../src/physics/picture.ts';
import { planPicture, stringSurface } from '../../../src/physics/picture/plan.ts';
import { sectionPicture, sectionPlane } from '../../../src/physics/picture/section.ts';
import type { PlanPicture, SectionPicture } from '../../../src/physics/picture/types.ts';
import { filings } from '../../../src/plot/filings.ts';
import { fluxLines } from '../../../src/plot/fluxLines.ts';
import { insideOutline } from '../../../src/shape/outline.ts';
import { STARTING_BUILDS } from '../../../src/sheet/builds.ts';
import { builtSheet } from '../../fixtures/builtSheet.ts';
import { sixRods, stringSet, twoRows } from '../../fixtures/pickups.ts';
import { soakPlan } from '../../soak/tools/plan.ts';
import { fieldSources } from '../../fixtures/fieldSources.ts';

const SCREEN = { x0: 320, perU: -8000, y0: 180, perV: -8000 };

function expectDrawable(section: SectionPicture, plan: PlanPicture): void {
  const { u0, v0, step, nu, bu, bv, outlines, starts } = section;
  let empty = 0;
  for (let k = 0; k < bu.length; k++) {
    if (Number.isFinite(bu[k]) && Number.isFinite(bv[k])) continue;
    const at = [u0 + (k % nu) * step, v0 + Math.floor(k / nu) * step] as const;
    if (!outlines.some((outline) => insideOutline(outline, ...at))) empty++;
  }
  expect(empty).toBe(0);
  expect(starts.every(Number.isFinite)).toBe(true);
  expect(plan.values.every((B) => B >= 0 && B < 3)).toBe(true);
  const lines = fluxLines(section, starts);
  expect(lines.length).toBeGreaterThan(0);
  expect(lines.every((line) => line.every(Number.isFinite))).toBe(true);
  const { strokes } = filings(section, { screen: SCREEN, width: 640, height: 420 });
  expect(strokes.every(Number.isFinite)).toBe(true);
  expect(strokes.length / 6).toBeGreaterThan(300);
}

const { count, seed } = soakPlan('picture/any-build', 4, 1000, 11);

describe('pictures', () => {
  it.each(STARTING_BUILDS.map(({ name }) => name))('of %s can be drawn', (name) => {
    const { section, plan } = pictures(builtSheet(name), {
      pickup: 0,
      section: true,
      plan: true,
      probe: null,
    });
    expectDrawable(section!, plan!);
  });

  const mm = (min: number, max: number) => fc.double({ min: 1e-3 * min, max: 1e-3 * max, noNaN: true });
  const tip: fc.Arbitrary<Tip> = fc.oneof(
    fc.constant<Tip>({ shape: 'flat' }),
    fc.record({ shape: fc.constant('chamfered' as const), width: mm(0.2, 1.5), depth: mm(0.2, 1.5) }),
    fc.record({ shape: fc.constant('coned' as const), flat: mm(0.5, 2.5), depth: mm(0.3, 2) }),
    fc.record({ shape: fc.constant('domed' as const), depth: mm(0.3, 1.4) }),
  );
  const build: fc.Arbitrary<BuiltPickup> = fc
    .tuple(fc.boolean(), tip, fc.array(mm(-1, 1), { minLength: 6, maxLength: 6 }), mm(2.2, 5), mm(8, 13))
    .map(([two, shape, heights, gap, pitch]) => {
      const base = two ? twoRows() : sixRods('alnico 2');
      const rows = base.rows.map((row) => ({ ...row, pitch, heights, pole: { ...row.pole, tip: shape } }));
      return { ...base, rows, gapBass: gap, gapTreble: gap };
    });

  it('of any build can be drawn, or its faults are named', () => {
    let drawn = 0;
    const strings = stringSet();
    fc.assert(
      fc.property(build, fc.integer({ min: 0, max: 5 }), (candidate, string) => {
        try {
          const sources = fieldSources(candidate);
          const y = sectionPlane(candidate, strings[string]!.y);
          const surface = stringSurface(candidate, strings);
          expectDrawable(sectionPicture(sources, y, 0), planPicture(sources, surface));
          drawn++;
        } catch (error) {
          if (!(error instanceof BuildError)) throw error;
        }
      }),
      { seed, numRuns: count },
    );
    expect(drawn).toBeGreaterThan(count / 3);
  });
});
