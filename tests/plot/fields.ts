/** Plane fields with known lines, for the tests of pictures. */
import type { PlaneField } from '../../src/plot/planeField.ts';

/** A function on a lattice over [−half, half]², with bodies cut out; a node of value is kept next to every outline. */
export function onLattice(
  at: (u: number, v: number) => readonly [number, number],
  half: number,
  step: number,
  outlines: readonly Float64Array[] = [],
): PlaneField {
  const n = Math.round((2 * half) / step) + 1;
  const bu = new Float32Array(n * n);
  const bv = new Float32Array(n * n);
  for (let j = 0; j < n; j++) {
    for (let i = 0; i < n; i++) {
      const [a, b] = at(-half + i * step, -half + j * step);
      bu[j * n + i] = a;
      bv[j * n + i] = b;
    }
  }
  return { u0: -half, v0: -half, step, nu: n, nv: n, bu, bv, outlines };
}

/** A small upright dipole at the origin, in the plane through its axis: B ∝ (3 u v, 2 v² − u²)/r⁵. */
export const dipole = (u: number, v: number): readonly [number, number] => {
  const r2 = u * u + v * v;
  const r5 = r2 * r2 * Math.sqrt(r2);
  return r5 === 0 ? [NaN, NaN] : [(3 * u * v) / r5, (2 * v * v - u * u) / r5];
};

/** A regular polygon of `n` corners about the origin. */
export const polygon = (radius: number, n: number): Float64Array =>
  Float64Array.from({ length: 2 * n }, (_, k) => {
    const angle = (2 * Math.PI * Math.floor(k / 2)) / n;
    return radius * (k % 2 === 0 ? Math.cos(angle) : Math.sin(angle));
  });
