/** Reads the finite-element fields and compares lines with them. */
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { assemble } from '../../../src/physics/magnetics/charges/assemble.ts';
import type { Coupling } from '../../../src/physics/magnetics/charges/assemble.ts';
import type { Body } from '../../../src/physics/magnetics/bodies/body.ts';
import { chargeField } from '../../../src/physics/magnetics/charges/chargeField.ts';
import { solveCharges } from '../../../src/physics/magnetics/charges/chargeSolver.ts';
import { MU0 } from '../../../src/physics/numerics/constants.ts';
import { remanenceLoad } from '../../../src/physics/magnetics/charges/load.ts';
import { MAGNETS } from '../../../src/physics/magnetics/materials/materials.ts';
import { secondHarmonic } from '../../../src/physics/magnetics/charges/secondHarmonic.ts';
import { ringMesh } from '../../../src/physics/magnetics/bodies/ringMesh.ts';
import type { RingMesh } from '../../../src/physics/magnetics/bodies/ringMesh.ts';

const folder = fileURLToPath(new URL('../../reference/finite-element/', import.meta.url));

export function read<T>(name: string, as: (data: unknown) => T = (data) => data as T): T {
  return as(JSON.parse(readFileSync(`${folder}${name}.json`, 'utf8')));
}

export interface SpatialLine {
  readonly points_mm: readonly (readonly [number, number, number])[];
  readonly Bx_T: readonly number[];
  readonly By_T: readonly number[];
  readonly Bz_T: readonly number[];
}

export interface AxialCase {
  readonly axis_z_mm: readonly number[];
  readonly axis_Bz_T: readonly number[];
  readonly bodies: readonly {
    readonly profile_rz_mm: readonly (readonly [number, number])[];
    readonly mu_r: number;
    readonly Br_z_T: number;
  }[];
  readonly lines: Readonly<
    Record<
      string,
      {
        readonly r_mm: readonly number[];
        readonly Bz_T: readonly number[];
        readonly Bradial_T: readonly number[];
      }
    >
  >;
}

/** A mesh from a profile in millimetres at the default fineness. */
export function meshOf(profile: readonly (readonly [number, number])[], fineness = 1): RingMesh {
  return ringMesh(
    profile.map(([r, z]) => ({ r: 1e-3 * r, z: 1e-3 * z })),
    fineness,
  );
}

/** What the references of alnico rods are made of: they give rods these recoil permeabilities, not the grades'. */
export const materialOf = (grade: 'alnico 5' | 'alnico 2'): (typeof MAGNETS)['alnico 5'] => ({
  ...MAGNETS[grade],
  recoil: grade === 'alnico 5' ? 3 : 6,
});

/** Ø 4.85 × 17 mm, its top at 0. */
export const rod = (): RingMesh =>
  meshOf([
    [0, -17],
    [2.425, -17],
    [2.425, 0],
    [0, 0],
  ]);

export function pole(mesh: RingMesh, x = 0, y = 0, z = 0): Body {
  return { kind: 'ring', mesh, x, y, z };
}

export interface Solved {
  readonly coupling: Coupling;
  readonly density: Float64Array;
  readonly second?: Float64Array;
}

/** Static field of linear bodies: µr and remanence (T) with its axis. */
export function solved(
  bodies: readonly Body[],
  laws: readonly { readonly mu: number; readonly Br: number; readonly axis?: 'x' | 'z' }[],
): Solved {
  const coupling = assemble(bodies);
  const load = remanenceLoad(
    coupling,
    laws.map(({ Br, axis }) => ({ x: axis === 'x' ? Br / MU0 : 0, y: 0, z: axis === 'x' ? 0 : Br / MU0 })),
  );
  const mu = laws.map((law) => law.mu);
  const density = solveCharges(coupling, mu, load);
  return { coupling, density, second: secondHarmonic(coupling, mu, density) };
}

const H = { x: 0, y: 0, z: 0 };

/** B outside the bodies, T, at a point in millimetres. */
export function fluxDensity(
  field: Solved,
  x: number,
  y: number,
  z: number,
): readonly [number, number, number] {
  chargeField(field.coupling, field.density, 1e-3 * x, 1e-3 * y, 1e-3 * z, H, field.second);
  return [MU0 * H.x, MU0 * H.y, MU0 * H.z];
}

/** Largest difference of any component along a line, as a share of the largest |Bz| on it. */
export function worstOnLine(
  line: SpatialLine,
  at: (x: number, y: number, z: number) => readonly [number, number, number],
): number {
  let worst = 0;
  let peak = 0;
  line.points_mm.forEach(([x, y, z], i) => {
    const [bx, by, bz] = at(x, y, z);
    const difference = [bx - line.Bx_T[i]!, by - line.By_T[i]!, bz - line.Bz_T[i]!];
    worst = Math.max(worst, ...difference.map(Math.abs));
    peak = Math.max(peak, Math.abs(line.Bz_T[i]!));
  });
  return worst / peak;
}
