/** A cover and a base plate under a pickup's coils and strings, as a few loops. */
import type { Coupling } from '../charges/assemble.ts';
import type { BuiltPickup } from '../build/build.ts';
import { placedPlates, type PlacedPlate } from '../build/placedPlates.ts';
import { plateMesh } from '../plates/plateMesh.ts';
import {
  resistanceFactor,
  plateModes,
  platesOf,
  type PlateModes,
  type Plates,
} from '../plates/plateModes.ts';
import { coilFlux, coreFlux } from '../plates/plateSources.ts';
import type { Filaments } from '../coil/winding.ts';
import { Kept } from '../../numerics/kept.ts';
import { dot } from '../../numerics/vector.ts';

/** What one coil is to the loops, each of 1 Ω: H per turn and ampere of loop, in the sense of the winding. */
export interface LoopCoupling {
  /** The coil in air, and what its cores add at low frequency. */
  readonly air: Float64Array;
  readonly core: Float64Array;
}

/** Plates with their loops, and what every coil is to these, in the coils' order. */
export interface SolvedCover {
  readonly plates: Plates;
  readonly modes: PlateModes;
  readonly coils: readonly LoopCoupling[];
}

/** What a coil of a solved pickup brings. */
interface Driving {
  readonly filaments: Filaments;
  readonly density: Float64Array;
  readonly direction: 1 | -1;
}

/**
 * @param build checked
 * @param coupling the matrix of its poles and bars
 * @param coils in the order of its rows
 * @param fineness of the plates' mesh; 1 meets the accuracy that the tests state
 * @returns null for a build without cover and base plate
 */
export function solveCover(
  build: BuiltPickup,
  coupling: Coupling,
  coils: readonly Driving[],
  fineness = 1,
): SolvedCover | null {
  const placed = placedPlates(build);
  if (placed.length === 0) return null;
  return solvePlates(platesFor(placed, fineness), placed, coupling, coils);
}

/** The same with plates of any shape. @param square resistance of a square of each, Ω; @param shapes with their holes */
export function solvePlates(
  plates: Plates,
  shapes: readonly PlacedPlate[],
  coupling: Coupling,
  coils: readonly Driving[],
): SolvedCover {
  const factor = resistanceFactor(
    plates,
    shapes.map(({ square }) => square),
  );
  const signed = (flux: Float64Array, i: number): Float64Array =>
    flux.map((value) => coils[i]!.direction * value);
  const air = coils.map(({ filaments }, i) => signed(coilFlux(plates, filaments), i));
  const core = coreFlux(
    plates,
    shapes,
    coupling,
    coils.map(({ density }) => density),
  ).map(signed);
  const modes = plateModes(plates, factor, [...air, ...core]);
  const seen = (flux: Float64Array): Float64Array =>
    Float64Array.from(modes.shape, (shape) => dot(shape, flux));
  return { plates, modes, coils: coils.map((_, i) => ({ air: seen(air[i]!), core: seen(core[i]!) })) };
}

/** Of the last shapes: metal and thickness, poles and coils change without them. */
const kept = new Kept<Plates>(6);

function platesFor(placed: readonly PlacedPlate[], fineness: number): Plates {
  const key = JSON.stringify([fineness, placed.map(({ square: _, ...shape }) => shape)]);
  return kept.of(key, () => platesOf(plateMesh(placed, fineness)));
}
