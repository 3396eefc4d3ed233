/** Static charges of a set of bodies, with every alnico magnet on its demagnetisation curve. */
import type { Coupling } from './assemble.ts';
import { meanMagnetisation } from './bodyMean.ts';
import { solveCharges } from './chargeSolver.ts';
import { MU0 } from './constants.ts';
import { chordLaw, chordTo } from './demagnetisation.ts';
import type { LinearLaw } from './demagnetisation.ts';
import { remanenceLoad } from './load.ts';
import type { MagnetMaterial } from './materials.ts';
import { zoneCorrection } from './rodZones.ts';
import { secondHarmonic } from './secondHarmonic.ts';

/** What a body is made of; a magnet lies along one axis. */
export type BodyMaterial =
  | {
      readonly kind: 'magnet';
      readonly material: MagnetMaterial;
      readonly charge: number;
      readonly axis: 'x' | 'y' | 'z';
      readonly sign: 1 | -1;
    }
  | {
      readonly kind: 'linear';
      readonly law: LinearLaw;
      readonly axis: 'x' | 'y' | 'z';
      readonly sign: 1 | -1;
    };

/** Charges on all bodies, and what the magnets ended on. */
export interface MagnetSolution {
  /** Density of every unknown, A/m. */
  readonly density: Float64Array;
  /** Their second harmonics, see secondHarmonic. */
  readonly second: Float64Array;
  /** The linear law that every body ended on. */
  readonly laws: readonly LinearLaw[];
  /** Mean B (T) and H (A/m) of every body along its axis of magnetisation. */
  readonly working: readonly { readonly B: number; readonly H: number }[];
}

/** The chord's permeability settles to this; the field follows it some ten times less closely. */
const SETTLED = 1e-4;
const MOST_ROUNDS = 60;

/**
 * Share of the way to the next chord. Pickups settle in three or four whole steps; a weak magnet that a strong one drives
 * past its coercivity swings between two chords, and settles in small ones.
 */
function relaxation(round: number): number {
  return round < 6 ? 1 : round < 12 ? 0.5 : 0.2;
}

/** Residual of the charges while the chords settle: ten times below what SETTLED sees. */
const ROUGH = 1e-5;
/** Load line to start from: a rod four times as long as thick (B/µ0H about −10). */
const FIRST_SLOPE = -10 * MU0;

/**
 * @throws RangeError when the bodies overlap, or when a magnet's working point does not settle
 * Each round solves a linear problem and moves every curved magnet's chord to its mean load line.
 */
export function solveMagnets(coupling: Coupling, materials: readonly BodyMaterial[]): MagnetSolution {
  let laws = materials.map((m) =>
    m.kind === 'linear' ? m.law : chordLaw(m.material, m.charge, FIRST_SLOPE),
  );
  const curved = materials.some((m) => m.kind === 'magnet' && m.material.law === 'curved');
  let density: Float64Array | undefined;
  for (let round = 0; round < MOST_ROUNDS; round++) {
    // While chords still move, a rough solution shows them where to.
    density = solveLinear(coupling, materials, laws, density, curved ? ROUGH : undefined);
    const solved = density;
    const working = materials.map((m, b) => workingPoint(coupling, solved, b, m, laws[b]!));
    const next = materials.map((m, b) => {
      if (m.kind === 'linear') return laws[b]!;
      const { B, H } = working[b]!;
      // In a strong foreign field there is no load line through zero; then the chord simply goes to this H.
      const onCurve =
        H < 0 && B > 0 ? chordLaw(m.material, m.charge, B / H) : chordTo(m.material, m.charge, H);
      const share = relaxation(round);
      return { ...onCurve, mu: onCurve.mu ** share * laws[b]!.mu ** (1 - share) };
    });
    const change = Math.max(...next.map((law, b) => Math.abs(law.mu / laws[b]!.mu - 1)));
    if (change <= SETTLED) {
      if (curved) density = solveLinear(coupling, materials, laws, density);
      correctRods(coupling, materials, laws, density);
      const mu = laws.map((law) => law.mu);
      return { density, second: secondHarmonic(coupling, mu, density), laws, working };
    }
    laws = next;
  }
  throw new RangeError(
    'A magnet must have a working point on its curve; none was found. Check grade and charge.',
  );
}

function solveLinear(
  coupling: Coupling,
  materials: readonly BodyMaterial[],
  laws: readonly LinearLaw[],
  start?: Float64Array,
  tolerance?: number,
): Float64Array {
  const magnetisation = materials.map((m, b) => {
    const M = (m.sign * laws[b]!.remanence) / MU0;
    return { x: m.axis === 'x' ? M : 0, y: m.axis === 'y' ? M : 0, z: m.axis === 'z' ? M : 0 };
  });
  const mu = laws.map((law) => law.mu);
  return solveCharges(coupling, mu, remanenceLoad(coupling, magnetisation), start, tolerance);
}

/** Adds to every alnico rod's charges what its zones make of them. */
function correctRods(
  coupling: Coupling,
  materials: readonly BodyMaterial[],
  laws: readonly LinearLaw[],
  density: Float64Array,
): void {
  coupling.bodies.forEach((body, b) => {
    const m = materials[b]!;
    if (body.kind !== 'ring' || m.kind !== 'magnet' || m.axis !== 'z' || m.material.law !== 'curved') return;
    const added = zoneCorrection(body.mesh, m.material, m.charge, laws[b]!);
    const at = coupling.offsets[b]!;
    for (let i = 0; i < body.mesh.n; i++) density[at + i] = density[at + i]! + m.sign * added[i]!;
  });
}

function workingPoint(
  coupling: Coupling,
  density: Float64Array,
  b: number,
  material: BodyMaterial,
  law: LinearLaw,
): { B: number; H: number } {
  const mean = meanMagnetisation(coupling, density, b);
  const M = material.sign * mean[material.axis];
  // M = (µ − 1) H + Br/µ0; a law with µ = 1 tells nothing about H, and no magnet has it.
  const H = law.mu === 1 ? 0 : (M - law.remanence / MU0) / (law.mu - 1);
  return { B: MU0 * law.mu * H + law.remanence, H };
}
