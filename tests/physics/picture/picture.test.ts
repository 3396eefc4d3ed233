/** Pictures against the field engine's own exact evaluation, which is checked against outside references elsewhere. */
import { describe, expect, it } from 'vitest';
import type { BuiltPickup } from '../../../src/physics/magnetics/build/build.ts';
import { BuildError } from '../../../src/physics/magnetics/build/checkBuild.ts';
import type { Vector } from '../../../src/physics/numerics/vector.ts';
import { solvePickup } from '../../../src/physics/magnetics/pickup/solvePickup.ts';
import { stringHeights } from '../../../src/physics/magnetics/overPickup/stringHeights.ts';
import { pictures } from '../../../src/physics/picture.ts';
import { outlineOf } from '../../../src/physics/picture/outline.ts';
import { insideOutline } from '../../../src/shape/outline.ts';
import { planPicture, probeReading, stringSurface } from '../../../src/physics/picture/plan.ts';
import { sectionPicture, sectionPlane } from '../../../src/physics/picture/section.ts';
import { FieldSampler } from '../../../src/plot/planeField.ts';
import { builtSheet } from '../../fixtures/builtSheet.ts';
import { sixRods, stringSet, twoRows } from '../../fixtures/pickups.ts';
import { fluxDensityAt } from '../../fixtures/fluxDensity.ts';
import { fieldSources } from '../../fixtures/fieldSources.ts';

const exact: Vector = { x: 0, y: 0, z: 0 };

/** Seeded, 0–1: a multiplicative congruential generator. */
function numbers(seed: number): () => number {
  let state = seed;
  return () => (state = (state * 16807) % 2147483647) / 2147483647;
}

/** How far a point is from an outline's corners and edges, m. */
function away(outline: Float64Array, u: number, v: number): number {
  let least = Infinity;
  for (let k = 0, l = outline.length - 2; k < outline.length; l = k, k += 2) {
    const du = outline[k]! - outline[l]!;
    const dv = outline[k + 1]! - outline[l + 1]!;
    const t = ((u - outline[l]!) * du + (v - outline[l + 1]!) * dv) / (du * du + dv * dv);
    const s = Math.min(1, Math.max(0, t));
    least = Math.min(least, Math.hypot(u - outline[l]! - s * du, v - outline[l + 1]! - s * dv));
  }
  return least;
}

const builds: readonly (readonly [string, BuiltPickup])[] = [
  ['six rods', sixRods('alnico 5')],
  ['two rows beside a bar', twoRows()],
];

describe.each(builds)('the section of %s', (_, build) => {
  const strings = stringSet();
  const y = sectionPlane(build, strings[4]!.y);
  const sources = fieldSources(build);
  const picture = sectionPicture(sources, y, 0.16);
  const solved = solvePickup(build);
  const sampler = new FieldSampler(picture);
  const B = { u: 0, v: 0 };

  it('lies in the plane of the pole nearest to the string [exact]', () => {
    expect(y).toBeCloseTo(-1.5 * 10.4e-3, 12);
    expect(picture.origin).toBe(0.16);
  });

  it('shows B to 2 % of its strength a millimetre and more from the metal [exact]', () => {
    const next = numbers(20261125);
    let compared = 0;
    for (let i = 0; i < 400; i++) {
      const u = -0.036 + 0.072 * next();
      const v = -0.033 + 0.053 * next();
      if (!sampler.at(u, v, B) || picture.outlines.some((o) => away(o, u, v) < 1e-3)) continue;
      fluxDensityAt(solved, u, y, v, exact);
      // Where the field cancels, against a hundredth of the strongest field that is drawn.
      const strength = Math.max(Math.hypot(exact.x, exact.z), 1.2e-3);
      expect(Math.hypot(B.u - exact.x, B.v - exact.z)).toBeLessThan(0.02 * strength);
      compared++;
    }
    expect(compared).toBeGreaterThan(250);
  });

  it('has values up to the surfaces and none in the metal', () => {
    for (const outline of picture.outlines) {
      for (let k = 0; k < outline.length; k += 2) {
        const next = (k + 2) % outline.length;
        const u = 0.5 * (outline[k]! + outline[next]!);
        const v = 0.5 * (outline[k + 1]! + outline[next + 1]!);
        const size = Math.hypot(outline[next]! - outline[k]!, outline[next + 1]! - outline[k + 1]!);
        // Anticlockwise: outwards is to the right.
        const nu = (outline[next + 1]! - outline[k + 1]!) / size;
        const nv = -(outline[next]! - outline[k]!) / size;
        expect(sampler.at(u - 1e-5 * nu, v - 1e-5 * nv, B)).toBe(false);
        if (picture.outlines.some((o) => insideOutline(o, u + 1e-5 * nu, v + 1e-5 * nv))) continue;
        expect(sampler.at(u + 1e-5 * nu, v + 1e-5 * nv, B)).toBe(true);
        expect(Number.isFinite(B.u) && Number.isFinite(B.v)).toBe(true);
      }
    }
  });

  it('begins flux lines on the surfaces, out of a body and into it about as often [exact]', () => {
    const { starts } = picture;
    let [out, into] = [0, 0];
    for (let k = 0; k < starts.length; k += 3) {
      const [u, v, way] = [starts[k]!, starts[k + 1]!, starts[k + 2]!];
      const nearest = Math.min(...picture.outlines.map((o) => away(o, u, v)));
      expect(nearest).toBeLessThan(2e-4);
      if (way > 0) out++;
      else into++;
    }
    // What leaves a magnet comes back to it: flux is conserved, but for rounding to whole lines and for the third dimension.
    expect(out).toBeGreaterThan(8);
    expect(Math.abs(out - into)).toBeLessThan(0.25 * (out + into));
  });
});

describe.each(builds)('the plan of %s', (_, build) => {
  const strings = stringSet();
  const surface = stringSurface(build, strings);

  it('lies on the axes of the strings [exact]', () => {
    stringHeights(build, strings).forEach((height, i) => {
      expect(surface(strings[i]!.y)).toBeCloseTo(height, 12);
    });
    // The arc rises between the outer strings, by less than its sagitta; beyond them it goes on level.
    expect(surface(0)).toBeGreaterThan(0.5 * (surface(-0.026) + surface(0.026)));
    expect(surface(0.05)).toBe(surface(0.04));
  });

  it('shows |B| to 1 % of its largest, everywhere [exact]', () => {
    const solved = solvePickup(build);
    const plan = planPicture(fieldSources(build), surface);
    const most = Math.max(...plan.values);
    for (let k = 0; k < plan.values.length; k += 41) {
      const y = plan.y0 + Math.floor(k / plan.nx) * plan.step;
      fluxDensityAt(solved, plan.x0 + (k % plan.nx) * plan.step, y, surface(y), exact);
      const B = Math.hypot(exact.x, exact.y, exact.z);
      expect(Math.abs(plan.values[k]! - B)).toBeLessThan(0.01 * most);
    }
  });

  it('agrees with the probe [exact]', () => {
    const sources = fieldSources(build);
    const plan = planPicture(sources, surface);
    const k = 30 * plan.nx + 14;
    const [x, y] = [plan.x0 + 14 * plan.step, plan.y0 + 30 * plan.step];
    const { bx, by, bz } = probeReading(sources, x, y, surface(y));
    expect(Math.abs(Math.hypot(bx, by, bz) - plan.values[k]!)).toBeLessThan(0.01 * Math.max(...plan.values));
  });
});

describe('a probe', () => {
  it('reads B above a pole and within it as the engine has it [exact]', () => {
    const build = sixRods('alnico 5');
    const solved = solvePickup(build);
    const sources = fieldSources(build);
    for (const [x, y, z] of [
      [0, 5.2e-3, 0.75e-3],
      [2e-3, 5.2e-3, 1e-3],
      [0.6e-3, -5.2e-3, -4e-3],
      [9e-3, 0, 3e-3],
    ] as const) {
      fluxDensityAt(solved, x, y, z, exact);
      const { bx, by, bz } = probeReading(sources, x, y, z);
      const strength = Math.hypot(exact.x, exact.y, exact.z);
      expect(Math.hypot(bx - exact.x, by - exact.y, bz - exact.z)).toBeLessThan(1e-9 * strength);
    }
  });

  it('0.5–1 mm above an alnico 5 rod reads 90–150 mT, north above the pole that faces up [practice]', () => {
    const sources = fieldSources(sixRods('alnico 5'));
    for (const z of [0.5e-3, 0.75e-3, 1e-3]) {
      const { bz } = probeReading(sources, 0, 5.2e-3, z);
      expect(bz).toBeGreaterThan(0.09);
      expect(bz).toBeLessThan(0.15);
    }
  });
});

describe('outlines', () => {
  const [rod] = fieldSources(sixRods('alnico 5')).bodies;

  it('are the profile and its mirror image, anticlockwise [exact]', () => {
    const outline = outlineOf(rod!, rod!.y)!;
    const corners = Array.from({ length: outline.length / 2 }, (_, k) =>
      [outline[2 * k]!, outline[2 * k + 1]!].map((x) => Number((1e3 * x).toFixed(6))),
    );
    expect(corners).toEqual([
      [2.425, -17],
      [2.425, 0],
      [-2.425, 0],
      [-2.425, -17],
    ]);
  });

  it('narrow to the chord beside the middle, and end at the rim [exact]', () => {
    const outline = outlineOf(rod!, rod!.y + 1.455e-3)!;
    // 2.425 mm is the hypotenuse of 1.455 and 1.94 (3 : 4 : 5).
    expect(outline[0]).toBeCloseTo(1.94e-3, 9);
    expect(outlineOf(rod!, rod!.y + 2.43e-3)).toBeNull();
  });
});

describe('pictures of a sheet', () => {
  it('are those that were wished for, of a pickup with a build', () => {
    const sheet = builtSheet('six rods');
    const pickup = sheet.pickups.findIndex((p) => p.build !== null);
    const nothing = { pickup, section: false, plan: false, probe: null };
    expect(pictures(sheet, nothing)).toEqual({ section: null, plan: null, probe: null });
    const all = pictures(sheet, { pickup, section: true, plan: true, probe: { x: 0, y: 0, height: 1e-3 } });
    expect(all.section?.bu.some((B) => Math.abs(B) > 0)).toBe(true);
    expect(all.plan?.values.every((B) => B >= 0)).toBe(true);
    expect(all.probe?.height.z).toBe(1e-3);
    const without = { ...sheet, pickups: sheet.pickups.map((p) => ({ ...p, build: null })) };
    const none = pictures(without, { pickup, section: true, plan: true, probe: { x: 0, y: 0, height: 0 } });
    expect(none).toEqual({ section: null, plan: null, probe: null });
  });

  it('refuse a build that cannot be, by name', () => {
    const build = sixRods('alnico 5');
    const [row] = build.rows;
    const wide = { ...build, rows: [{ ...row!, pole: { ...row!.pole, diameter: 12e-3 } }] };
    expect(() => fieldSources(wide)).toThrow(BuildError);
  });
});
