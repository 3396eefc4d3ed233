/** Flux lines in space: how many there are where, and against what the section shows. */
import { describe, expect, it } from 'vitest';
import type { RingBody } from '../../../src/physics/magnetics/bodies/body.ts';
import { ringMesh } from '../../../src/physics/magnetics/bodies/ringMesh.ts';
import { MU0 } from '../../../src/physics/numerics/constants.ts';
import { probeReading } from '../../../src/physics/picture/plan.ts';
import { sectionPicture } from '../../../src/physics/picture/section.ts';
import type { FieldSources } from '../../../src/physics/picture/sources.ts';
import { fieldAround, solidOf, spacePicture } from '../../../src/physics/picture/space.ts';
import { leavingFlux } from '../../../src/physics/picture/spaceStarts.ts';
import type { SpacePicture } from '../../../src/physics/picture/spaceTypes.ts';
import { traceLine } from '../../../src/physics/picture/trace.ts';
import { space } from '../../../src/physics/space.ts';
import { fluxLines } from '../../../src/plot/fluxLines.ts';
import { STARTING_BUILDS } from '../../../src/sheet/builds.ts';
import { clearanceOf } from '../../../src/shape/solid.ts';
import { builtSheet } from '../../fixtures/builtSheet.ts';
import { fieldSources } from '../../fixtures/fieldSources.ts';
import { sixRods, twoRows } from '../../fixtures/pickups.ts';

type Point = readonly [x: number, y: number, z: number];

/** Points of every line. */
const linesOf = ({ points, ends }: SpacePicture): readonly (readonly Point[])[] =>
  Array.from(ends, (end, k) => {
    const from = k === 0 ? 0 : ends[k - 1]!;
    return Array.from({ length: end - from }, (_, i): Point => {
      const at = 3 * (from + i);
      return [points[at]!, points[at + 1]!, points[at + 2]!];
    });
  });

/** How often lines pass upwards through part of a level plane, less how often downwards. */
function passing(picture: SpacePicture, z: number, within: (x: number, y: number) => boolean): number {
  let count = 0;
  for (const line of linesOf(picture)) {
    line.slice(1).forEach((b, i) => {
      const a = line[i]!;
      if (a[2] < z === b[2] < z) return;
      const t = (z - a[2]) / (b[2] - a[2]);
      if (within(a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1]))) count += a[2] < z ? 1 : -1;
    });
  }
  return count;
}

/** Of this radius about the origin, evenly magnetised along z, µ0 M in T: its charge is M cos θ. */
function evenSphere(radius: number, J: number): FieldSources {
  const CORNERS = 48;
  const profile = Array.from({ length: CORNERS + 1 }, (_, k) => {
    const angle = (Math.PI * k) / CORNERS;
    const onAxis = k === 0 || k === CORNERS;
    return { r: onAxis ? 0 : radius * Math.sin(angle), z: -radius * Math.cos(angle) };
  });
  const mesh = ringMesh(profile);
  const body: RingBody = { kind: 'ring', mesh, x: 0, y: 0, z: 0 };
  const density = new Float64Array(3 * mesh.n);
  for (let j = 0; j < mesh.n; j++) {
    const r = mesh.nodeR[j]! + mesh.nodeR[j + 1]!;
    const z = mesh.nodeZ[j]! + mesh.nodeZ[j + 1]!;
    density[j] = ((J / MU0) * z) / Math.hypot(r, z);
  }
  return {
    coupling: { bodies: [body], offsets: Int32Array.of(0, 3 * mesh.n) },
    bodies: [body],
    materials: [],
    laws: [],
    density,
    second: new Float64Array(2 * mesh.n),
    offsets: Int32Array.of(0, 3 * mesh.n),
    offsets2: Int32Array.of(0),
  };
}

describe('an evenly magnetised sphere', () => {
  const RADIUS = 6e-3;
  const J = 1;
  const sources = evenSphere(RADIUS, J);
  const picture = spacePicture(sources, 0);
  /** Starts lie OFF outside, where a little has turned back: of a dipole's flux as much as 1/r. */
  const OUT = RADIUS / (RADIUS + 1.5e-4);
  /** Flux through the cap above polar angle θ, Wb: ⅔ J cos θ over the cap. */
  const flux = (sine2: number): number => (2 / 3) * J * Math.PI * RADIUS ** 2 * sine2;

  it('has a line for every share of its flux [exact]', () => {
    expect(picture.share).toBe(5e-7);
    expect(Math.abs(picture.ends.length - (OUT * flux(1)) / picture.share)).toBeLessThan(2);
  });

  it('is the same every time', () => {
    expect(spacePicture(sources, 0)).toEqual(picture);
  });

  it('has lines r = R sin²θ [exact]', () => {
    for (const line of linesOf(picture)) {
      const R = Math.max(...line.map(([x, y, z]) => Math.hypot(x, y, z)));
      // Others are lost before they are farthest out.
      if (R > 0.1) continue;
      line.forEach(([x, y, z]) => {
        const r = Math.hypot(x, y, z);
        const sine = Math.hypot(x, y) / r;
        const steep = Math.hypot(1, 2 * Math.sqrt(1 - sine * sine) * (R / r) * sine);
        // The field of charge on 48 cones instead of a sphere is right to 0.3 % from OFF on; the longest line has 0.25 m.
        expect(Math.abs(r - R * sine * sine) / steep).toBeLessThan(5e-5);
      });
    }
  });

  it('has as many lines in a disc above it as flux [exact]', () => {
    const z = 8e-3;
    for (const rho of [2e-3, 4e-3, 6e-3, 1e-2, 1.5e-2]) {
      const through = flux((RADIUS * rho * rho) / Math.hypot(rho, z) ** 3) / picture.share;
      const count = passing(picture, z, (x, y) => Math.hypot(x, y) < rho);
      expect(Math.abs(count - through)).toBeLessThan(2 + 0.5 * Math.sqrt(through));
    }
  });
});

describe.each([
  ['six rods', sixRods('alnico 5')],
  ['two rows beside a bar', twoRows()],
] as const)('around %s', (name, build) => {
  const sources = fieldSources(build);
  const picture = spacePicture(sources, 0);
  const solids = sources.bodies.map(solidOf);

  it('no body keeps flux: as much leaves as enters [exact]', () => {
    const { faces, total } = leavingFlux(sources.bodies, solids, fieldAround(sources));
    const net = faces
      .flatMap(({ rows }) => rows.flatMap(({ samples }) => samples))
      .reduce((sum, { flux }) => sum + flux, 0);
    // What goes over from metal to metal is not counted, and differs as samples on either side of it fall.
    expect(Math.abs(net)).toBeLessThan((name === 'six rods' ? 1e-4 : 0.03) * total);
  });

  it('every line begins at a body, and ends at one or far away', () => {
    const away = solids.map(clearanceOf);
    const least = ([x, y, z]: Point): number => Math.min(...away.map((of) => of(x, y, z)));
    for (const line of linesOf(picture)) {
      expect(least(line[0]!)).toBeLessThan(2e-4);
      const last = line.at(-1)!;
      const long = line.slice(1).reduce((sum, [x, y, z], i) => {
        const [a, b, c] = line[i]!;
        return sum + Math.hypot(x - a, y - b, z - c);
      }, 0);
      expect(least(last) < 1e-5 || Math.hypot(...last) > 0.29 || long > 0.9).toBe(true);
    }
  });

  it('as many lines pass through the plane of the strings as flux [exact]', () => {
    const z = 3e-3;
    for (const [halfX, halfY] of [
      [5e-3, 31e-3],
      [15e-3, 10e-3],
      [30e-3, 40e-3],
    ] as const) {
      const N = 40;
      let through = 0;
      for (let i = 0; i < N; i++) {
        for (let j = 0; j < N; j++) {
          const x = (2 * (i + 0.5) * halfX) / N - halfX;
          const y = (2 * (j + 0.5) * halfY) / N - halfY;
          through += (probeReading(sources, x, y, z).bz * 4 * halfX * halfY) / (N * N);
        }
      }
      const count = passing(picture, z, (x, y) => Math.abs(x) < halfX && Math.abs(y) < halfY);
      // Thrown at random they would be off by the square root of how many there are; they are laid evenly.
      const all = Math.abs(through / picture.share);
      expect(Math.abs(count - through / picture.share)).toBeLessThan(2 + 0.5 * Math.sqrt(all));
    }
  });
});

it('runs as the lines of the section do in its own plane [exact]', () => {
  const six = sixRods('alnico 5');
  const one = { ...six, rows: [{ ...six.rows[0]!, heights: [0] }] };
  const sources = fieldSources(one);
  const section = sectionPicture(sources, 0, 0);
  const field = fieldAround(sources);
  const solids = sources.bodies.map(solidOf);
  const away = solids.map(clearanceOf);
  const lines = fluxLines(section, section.starts);
  let compared = 0;
  for (const line of lines) {
    const near = (i: number): number => Math.min(...away.map((of) => of(line[i]!, 0, line[i + 1]!)));
    let start = 0;
    while (start < line.length && near(start) < 1e-3) start += 2;
    if (start >= line.length) continue;
    const { points } = traceLine({ field, solids }, { x: line[start]!, y: 0, z: line[start + 1]! }, 1);
    let length = 0;
    for (let k = 0; k < points.length; k += 3) {
      if (k > 0) length += Math.hypot(points[k]! - points[k - 3]!, points[k + 2]! - points[k - 1]!);
      const [u, v] = [points[k]!, points[k + 2]!];
      expect(Math.abs(points[k + 1]!)).toBeLessThan(1e-6);
      // Closer to the metal the section is less right than that, and beyond its edge there is nothing.
      const metal = Math.min(...away.map((of) => of(u, 0, v)));
      if (metal < 1e-3 || Math.abs(u) > 0.03 || v > 0.018 || v < -0.03) break;
      let off = Infinity;
      for (let i = start + 2; i < line.length; i += 2) {
        const [du, dv] = [line[i]! - line[i - 2]!, line[i + 1]! - line[i - 1]!];
        const t = ((u - line[i - 2]!) * du + (v - line[i - 1]!) * dv) / (du * du + dv * dv);
        const s = Math.min(1, Math.max(0, t));
        off = Math.min(off, Math.hypot(u - line[i - 2]! - s * du, v - line[i - 1]! - s * dv));
      }
      // The section's field is right to 2 %: a line goes astray by as much of its way at most.
      expect(off).toBeLessThan(1e-6 + 0.02 * length);
      compared++;
    }
  }
  expect(compared).toBeGreaterThan(200);
});

it('has nothing around a pickup without a build, and the plane under the chosen string', () => {
  const sheet = builtSheet(STARTING_BUILDS[0]!.name);
  const bare = { ...sheet, pickups: sheet.pickups.map((pickup) => ({ ...pickup, build: null })) };
  expect(space(bare, { pickup: 0 })).toBeNull();
  const first = sheet.pickups.findIndex(({ build }) => build !== null);
  const drawn = space({ ...sheet, listen: { ...sheet.listen, string: 1 } }, { pickup: first });
  expect(drawn!.plane).toBeGreaterThan(0.02);
  expect(drawn!.solids.length).toBeGreaterThan(0);
});
