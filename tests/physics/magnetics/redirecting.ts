/** Bodies of the finite-element cases of steel that redirects the field (tests/reference/redirecting). */
import { readFileSync } from 'node:fs';
import type { Body } from '../../../src/physics/magnetics/bodies/body.ts';
import type { Neighbour } from '../../../src/physics/magnetics/bodies/boxCuts.ts';
import { assemble } from '../../../src/physics/magnetics/charges/assemble.ts';
import { solveCharges } from '../../../src/physics/magnetics/charges/chargeSolver.ts';
import { remanenceLoad } from '../../../src/physics/magnetics/charges/load.ts';
import { secondHarmonic } from '../../../src/physics/magnetics/charges/secondHarmonic.ts';
import { boxBodies } from '../../../src/physics/magnetics/pickup/boxBodies.ts';
import { MU0 } from '../../../src/physics/numerics/constants.ts';
import { meshOf, pole } from './reference.ts';
import type { Solved, SpatialLine } from './reference.ts';

export interface Cylinder {
  readonly shape: 'cylinder';
  readonly diameter_mm: number;
  readonly x_mm: number;
  readonly y_mm: number;
  readonly z_mm: readonly [number, number];
  readonly mu_r: number;
  readonly Br_T: readonly [number, number, number];
}

export interface Box {
  readonly shape: 'box';
  readonly x_mm: readonly [number, number];
  readonly y_mm: readonly [number, number];
  readonly z_mm: readonly [number, number];
  readonly mu_r: number;
  readonly Br_T: readonly [number, number, number];
}

export interface Case {
  readonly bodies: readonly (Cylinder | Box | { readonly shape: string })[];
  readonly lines: Readonly<Record<string, SpatialLine>>;
  readonly gain_over_same_without_the_part?: Readonly<Record<string, number | string>>;
  readonly L_per_turn2_H?: number;
}

export const cases = JSON.parse(
  readFileSync(new URL('../../reference/redirecting/three-dimensional.json', import.meta.url), 'utf8'),
) as Readonly<Record<string, Case>>;

/** What is at least so permeable is steel, what is less a ferrite. */
const STEEL = 50;
const FERRITE = 1.3;

export interface Built {
  readonly bodies: readonly Body[];
  readonly mu: readonly number[];
  /** A/m. */
  readonly remanence: readonly { readonly x: number; readonly y: number; readonly z: number }[];
}

const isCylinder = (body: { readonly shape: string }): body is Cylinder => body.shape === 'cylinder';
const isBox = (body: { readonly shape: string }): body is Box => body.shape === 'box';

/** Bodies at the default mesh: poles, then boxes. */
export function built(parts: Case['bodies'], fineness = 1): Built {
  const cylinders = parts.filter(isCylinder);
  const boxes = parts.filter(isBox);
  const meshes = new Map<string, ReturnType<typeof meshOf>>();
  const poles = cylinders.map(({ diameter_mm, x_mm, y_mm, z_mm: [bottom, top] }) => {
    const r = 0.5 * diameter_mm;
    const key = `${r} ${bottom} ${top}`;
    const mesh =
      meshes.get(key) ??
      meshOf([
        [0, bottom],
        [r, bottom],
        [r, top],
        [0, top],
      ]);
    meshes.set(key, mesh);
    return pole(mesh, 1e-3 * x_mm, 1e-3 * y_mm);
  });
  const neighbours = cylinders.map(({ diameter_mm, x_mm, y_mm, z_mm: [bottom, top] }): Neighbour => ({
    x: 1e-3 * x_mm,
    y: 1e-3 * y_mm,
    bottom: 1e-3 * bottom,
    top: 1e-3 * top,
    radius: 0.5e-3 * diameter_mm,
  }));
  const size = ([from, to]: readonly [number, number]): number => 1e-3 * (to - from);
  const middle = ([from, to]: readonly [number, number]): number => 0.5e-3 * (from + to);
  const placed = boxes.map(({ x_mm, y_mm, z_mm, mu_r }) => ({
    size: { x: size(x_mm), y: size(y_mm), z: size(z_mm) },
    centre: { x: middle(x_mm), y: middle(y_mm), z: middle(z_mm) },
    joins: mu_r > STEEL,
    stiff: mu_r < FERRITE,
  }));
  const all = [...cylinders, ...boxes];
  return {
    bodies: [...poles, ...boxBodies(placed, neighbours, fineness)],
    mu: all.map(({ mu_r }) => mu_r),
    remanence: all.map(({ Br_T: [x, y, z] }) => ({ x: x / MU0, y: y / MU0, z: z / MU0 })),
  };
}

/** The static field of such bodies. */
export function fieldOf({ bodies, mu, remanence }: Built): Solved {
  const coupling = assemble(bodies);
  const density = solveCharges(coupling, mu, remanenceLoad(coupling, remanence));
  return { coupling, density, second: secondHarmonic(coupling, mu, density) };
}
