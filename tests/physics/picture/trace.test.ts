/** Lines in space against fields whose lines are known in closed form. */
import { describe, expect, it } from 'vitest';
import { ringField } from '../../../src/physics/magnetics/kernels/ringKernel.ts';
import { traceLine, type FieldAt } from '../../../src/physics/picture/trace.ts';
import type { Solid } from '../../../src/shape/solid.ts';

/** A point dipole along z, of any strength. */
const dipole: FieldAt = (x, y, z, out) => {
  const r2 = x * x + y * y + z * z;
  const r5 = r2 ** 2.5;
  out.x += (3 * x * z) / r5;
  out.y += (3 * y * z) / r5;
  out.z += (3 * z * z - r2) / r5;
};

const CORNERS = 720;
/** About the origin, of this radius, m: corners so close that its sides lie 5e-6 of it within. */
const ball = (radius: number): Solid => ({
  kind: 'round',
  x: 0,
  y: 0,
  profile: Float64Array.from({ length: 2 * (CORNERS + 1) }, (_, k) => {
    const angle = (Math.PI * (k >> 1)) / CORNERS;
    return k % 2 === 0 ? radius * Math.sin(angle) : -radius * Math.cos(angle);
  }),
});

/** What traceLine says of itself, for a line 10 cm long, m. */
const STATED = 5e-5;

describe('a line of a dipole', () => {
  const RADIUS = 5e-3;
  const solids = [ball(RADIUS)];

  it.each([12, 20, 30, 45, 70])(
    'is r = R sin²θ from a start at %i°, and ends where it began below [exact]',
    (degrees) => {
      const start = (degrees * Math.PI) / 180;
      const azimuth = 0.7;
      const r0 = RADIUS * 1.02;
      const R = r0 / Math.sin(start) ** 2;
      const from = {
        x: r0 * Math.sin(start) * Math.cos(azimuth),
        y: r0 * Math.sin(start) * Math.sin(azimuth),
        z: r0 * Math.cos(start),
      };
      const { points, end } = traceLine({ field: dipole, solids }, from, 1);
      expect(end).toBe(0);
      for (let k = 0; k < points.length; k += 3) {
        const [x, y, z] = [points[k]!, points[k + 1]!, points[k + 2]!];
        const r = Math.hypot(x, y, z);
        const sine = Math.hypot(x, y) / r;
        // Straight across the line: by the gradient of r − R sin²θ.
        const steep = Math.hypot(1, 2 * Math.sqrt(1 - sine * sine) * (R / r) * sine);
        expect(Math.abs(r - R * sine * sine) / steep).toBeLessThan(STATED);
        // It stays in its plane.
        expect(Math.abs(x * Math.sin(azimuth) - y * Math.cos(azimuth))).toBeLessThan(1e-9);
      }
      const [x, y, z] = points.slice(-3) as [number, number, number];
      expect(Math.hypot(x, y, z)).toBeCloseTo(RADIUS, 5);
      // On the ball R sin²θ = RADIUS, below as above.
      expect(Math.asin(Math.hypot(x, y) / RADIUS)).toBeCloseTo(Math.asin(Math.sqrt(RADIUS / R)), 2);
      expect(z).toBeLessThan(0);
    },
  );

  it('is the same line against the field [exact]', () => {
    const from = { x: 2e-3, y: 0, z: 5e-3 };
    const there = traceLine({ field: dipole, solids }, from, 1).points;
    const [x, y, z] = there.slice(-3) as [number, number, number];
    const out = 1 + 1e-9;
    const back = traceLine({ field: dipole, solids }, { x: x * out, y: y * out, z: z * out }, -1).points;
    const [bx, by, bz] = back.slice(-3) as [number, number, number];
    // It passes the start and goes on to the ball, where R sin²θ = RADIUS.
    const R = Math.hypot(from.x, from.z) ** 3 / from.x ** 2;
    expect(Math.hypot(bx, by, bz)).toBeCloseTo(RADIUS, 5);
    expect(Math.atan2(bx, bz)).toBeCloseTo(Math.asin(Math.sqrt(RADIUS / R)), 2);
    expect(by).toBeCloseTo(0, 9);
  });
});

it('stays on the axis of a charged ring until it is lost [exact]', () => {
  const mode = { radial: 0, axial: 0, azimuthal: 0 };
  const other = { radial: 0, axial: 0, azimuthal: 0 };
  const ring: FieldAt = (x, y, z, out) => {
    const r = Math.hypot(x, y);
    ringField(r, z, 4e-3, mode, other);
    out.x += r > 0 ? (mode.radial * x) / r : 0;
    out.y += r > 0 ? (mode.radial * y) / r : 0;
    out.z += mode.axial;
  };
  const { points, end } = traceLine({ field: ring, solids: [] }, { x: 0, y: 0, z: 1e-3 }, 1);
  expect(end).toBe(-1);
  expect(points.at(-1)).toBeGreaterThanOrEqual(0.3);
  for (let k = 0; k < points.length; k += 3) {
    expect(Math.hypot(points[k]!, points[k + 1]!)).toBeLessThan(1e-15);
    if (k > 0) expect(points[k + 2]!).toBeGreaterThan(points[k - 1]!);
  }
});

it('ends at the surface of whatever stands in its way, however thin [exact]', () => {
  const up: FieldAt = (_x, _y, _z, out) => {
    out.z += 1;
  };
  const plate: Solid = { kind: 'block', x: 0, y: 0, z: 0.02, size: { x: 0.01, y: 0.01, z: 5e-4 } };
  const cone: Solid = {
    kind: 'round',
    x: 0.03,
    y: 0,
    profile: Float64Array.of(0, 0.01, 5e-3, 0.01, 0, 0.02),
  };
  const from = (x: number): { x: number; y: number; z: number } => ({ x, y: 0, z: 0 });
  const onPlate = traceLine({ field: up, solids: [cone, plate] }, from(4e-3), 1);
  expect(onPlate.end).toBe(1);
  expect(onPlate.points.at(-1)).toBeCloseTo(0.02 - 2.5e-4, 5);
  const above = { x: 0.0325, y: 0, z: 0.1 };
  const onCone = traceLine({ field: up, solids: [cone, plate] }, above, -1);
  expect(onCone.end).toBe(0);
  expect(onCone.points.at(-1)).toBeCloseTo(0.015, 5);
  expect(traceLine({ field: up, solids: [cone, plate] }, from(6e-3), 1).end).toBe(-1);
});

it('stops where there is no field', () => {
  const none: FieldAt = () => {};
  const line = traceLine({ field: none, solids: [] }, { x: 0, y: 0, z: 0 }, 1);
  expect(line).toEqual({ points: [0, 0, 0], end: -1 });
});
