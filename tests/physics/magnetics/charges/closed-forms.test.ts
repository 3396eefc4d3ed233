import { describe, expect, it } from 'vitest';
import { cylinderFluxDensity } from '../cylinder.ts';
import { rectangleNormalField } from '../../../../src/physics/magnetics/kernels/rectangle.ts';
import { gaussLegendre } from '../../../../src/physics/numerics/quadrature.ts';
import { boxFluxDensity } from '../box.ts';

const RADIUS = 2.375e-3;
const LENGTH = 17.5e-3;
const field = { radial: 0, axial: 0 };

/** H of both charged end discs by brute quadrature, an independent way to the same field (outside: B = µ0 H). */
function discs(r: number, z: number): { radial: number; axial: number } {
  const { x, w } = gaussLegendre(100);
  const steps = 400;
  let radial = 0;
  let axial = 0;
  for (const side of [1, -1]) {
    x.forEach((t, i) => {
      const rho = 0.5 * RADIUS * (1 + t);
      const weight = (0.5 * RADIUS * w[i]! * rho * 2 * Math.PI) / steps;
      for (let k = 0; k < steps; k++) {
        const phi = (2 * Math.PI * (k + 0.5)) / steps;
        const dx = r - rho * Math.cos(phi);
        const dy = rho * Math.sin(phi);
        const dz = z - side * 0.5 * LENGTH;
        const d3 = (dx * dx + dy * dy + dz * dz) ** 1.5;
        radial += (side * weight * dx) / (4 * Math.PI * d3);
        axial += (side * weight * dz) / (4 * Math.PI * d3);
      }
    });
  }
  return { radial, axial };
}

describe('uniformly magnetised cylinder', () => {
  it('the elementary formula on the axis, to 1e-12 [exact]', () => {
    for (const above of [-9e-3, -1e-3, 1e-4, 1e-3, 5e-3, 0.1]) {
      const elementary =
        0.5 * ((above + LENGTH) / Math.hypot(above + LENGTH, RADIUS) - above / Math.hypot(above, RADIUS));
      cylinderFluxDensity(1, RADIUS, LENGTH, 0, above + LENGTH / 2, field);
      expect(Math.abs(field.axial - elementary)).toBeLessThan(1e-12);
      expect(field.radial).toBe(0);
    }
  });

  it('printed figures for Ø 4.75 × 17.5 mm, 1 T, 0–5 mm above the top [exact, elementary formula, computed]', () => {
    [495.458, 301.901, 174.264, 104.655, 67.05, 45.599].forEach((mT, mm) => {
      cylinderFluxDensity(1, RADIUS, LENGTH, 0, mm * 1e-3 + LENGTH / 2, field);
      expect(Math.abs(field.axial * 1e3 - mT)).toBeLessThan(0.0006);
    });
  });

  it('charged end discs by quadrature, off the axis, to 1e-9 [exact]', () => {
    for (const [r, above] of [
      [1e-3, 2e-3],
      [2.375e-3, 1.5e-3],
      [3.1e-3, 1e-3],
      [8e-3, 2e-3],
      [4e-3, -9e-3],
    ] as const) {
      const z = above + LENGTH / 2;
      const wanted = discs(r, z);
      cylinderFluxDensity(1, RADIUS, LENGTH, r, z, field);
      expect(Math.abs(field.axial - wanted.axial)).toBeLessThan(1e-9);
      expect(Math.abs(field.radial - wanted.radial)).toBeLessThan(1e-9);
    }
  });
});

describe('uniformly magnetised box', () => {
  const size = { x: 12.7e-3, y: 60e-3, z: 3.2e-3 };
  const out = { x: 0, y: 0, z: 0 };

  it('charged faces by quadrature, each direction of magnetisation, to 1e-9 [exact]', () => {
    const { x, w } = gaussLegendre(160);
    const axes = ['x', 'y', 'z'] as const;
    const point = { x: 9e-3, y: 22e-3, z: 8e-3 };
    for (const along of axes) {
      const [u, v] = axes.filter((axis) => axis !== along) as ['x' | 'y' | 'z', 'x' | 'y' | 'z'];
      const wanted = { x: 0, y: 0, z: 0 };
      for (const side of [1, -1]) {
        x.forEach((s, i) =>
          x.forEach((t, j) => {
            const source = { x: 0, y: 0, z: 0 };
            source[along] = (side * size[along]) / 2;
            source[u] = (s * size[u]) / 2;
            source[v] = (t * size[v]) / 2;
            const weight = (side * w[i]! * w[j]! * size[u] * size[v]) / 4;
            const d = { x: point.x - source.x, y: point.y - source.y, z: point.z - source.z };
            const d3 = Math.hypot(d.x, d.y, d.z) ** 3;
            for (const axis of axes) wanted[axis] += (weight * d[axis]) / (4 * Math.PI * d3);
          }),
        );
      }
      const polarisation = { x: 0, y: 0, z: 0 };
      polarisation[along] = 1;
      boxFluxDensity(polarisation, size, point, out);
      for (const axis of axes) expect(Math.abs(out[axis] - wanted[axis])).toBeLessThan(1e-9);
    }
  });

  it('H at the centre of a cube is −M/3, so B is ⅔ of the polarisation [exact: cubic symmetry]', () => {
    boxFluxDensity({ x: 0, y: 0, z: 1 }, { x: 1, y: 1, z: 1 }, { x: 0, y: 0, z: 0 }, out);
    expect(out.z).toBeCloseTo(2 / 3, 13);
  });

  it('a rectangle takes all of a charge close above it and half of the sphere’s 4π [exact]', () => {
    expect(rectangleNormalField(0, 0, 1e-9, 1, 1)).toBeCloseTo(0.5, 8);
    // The six faces of a cube share the flux of a charge at its centre.
    expect(rectangleNormalField(0, 0, 1, 1, 1)).toBeCloseTo(1 / 6, 14);
  });
});
