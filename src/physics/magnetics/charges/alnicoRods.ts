/** The alnico rods among a set of bodies, put on their curves in the field of all. */
import type { Coupling } from './assemble.ts';
import type { RingBody } from '../bodies/body.ts';
import { Anderson } from '../../numerics/anderson.ts';
import { MU0 } from '../../numerics/constants.ts';
import type { LinearLaw } from '../materials/demagnetisation.ts';
import { fieldOfOthers } from './fieldOfOthers.ts';
import { hasSymmetry } from '../bodies/mirror.ts';
import type { BodyMaterial, WorkingPoint } from '../materials/bodyMaterial.ts';
import { rodOnCurve } from './rodZones.ts';
import type { RodState } from './rodZones.ts';
import { magnetZones, steelZones } from '../materials/zoneLaw.ts';
import type { ZoneLaw } from '../materials/zoneLaw.ts';

interface AlnicoRod {
  readonly b: number;
  readonly mesh: RingBody['mesh'];
  readonly law: ZoneLaw;
  readonly sign: 1 | -1;
}

/** Rounds from which the next is told: on steel that carries their flux back to them, rods answer each other's changes with greater ones. */
const DEPTH = 5;

/** Rods between two rounds of solveMagnets. */
export interface AlnicoRods {
  /** Which bodies they are. */
  readonly places: readonly number[];
  /** What their zones add to the charges of their chords, on all unknowns; A/m. */
  readonly added: Float64Array;
  /**
   * Puts every rod on its curve in the field of all other bodies, with what was added to them so far.
   * @param chords all charges without what was added, A/m
   * @returns largest change of a rod's charges, as a share of the largest charge
   */
  settle(chords: Float64Array): number;
  /** Laws and working points of all bodies, with those of the rods in their places. */
  described(
    laws: readonly LinearLaw[],
    working: readonly WorkingPoint[],
  ): { readonly laws: readonly LinearLaw[]; readonly working: readonly WorkingPoint[] };
}

/** @param materials of all bodies; a rod is round, magnetised along its axis, and has a curve */
export function alnicoRods(coupling: Coupling, materials: readonly BodyMaterial[]): AlnicoRods {
  const rods = coupling.bodies.flatMap((body, b): AlnicoRod[] => {
    const material = materials[b]!;
    if (body.kind !== 'ring') return [];
    if (material.kind === 'steel') return [{ b, mesh: body.mesh, law: steelZones(material.steel), sign: 1 }];
    if (material.kind !== 'magnet' || material.axis !== 'z' || material.material.law !== 'curved') return [];
    const law = magnetZones(material.material, material.strength);
    return [{ b, mesh: body.mesh, law, sign: material.sign }];
  });
  const added = new Float64Array(coupling.offsets[coupling.bodies.length]!);
  const { representatives } = coupling;
  const told = new Anderson(DEPTH);
  const states = new Map<number, RodState>();
  const settle = (chords: Float64Array): number => {
    const applied = fieldOfOthers(
      coupling,
      chords.map((value, i) => value + added[i]!),
    );
    // Mirrored rods end alike where charges are mirrored; those of opposite poles are not.
    const symmetric = hasSymmetry(representatives, chords);
    let most = 0;
    let change = 0;
    const found = added.slice();
    for (const { b, mesh, law, sign } of rods) {
      const at = coupling.offsets[b]!;
      const image = symmetric ? representatives.body[b]! : b;
      const here = applied.subarray(at, at + mesh.n).map((h) => sign * h);
      // To begin with, where one of its kind ended.
      const like = rods.find((other) => other.mesh === mesh && other.law.remanence === law.remanence)!;
      const state =
        image < b ? states.get(image)! : rodOnCurve(mesh, law, here, states.get(b) ?? states.get(like.b));
      states.set(b, state);
      for (let i = 0; i < mesh.n; i++) {
        const value = sign * state.charges[i]! - chords[at + i]!;
        most = Math.max(most, Math.abs(state.charges[i]!));
        change = Math.max(change, Math.abs(value - added[at + i]!));
        found[at + i] = value;
      }
    }
    added.set(told.next(added, found));
    return most === 0 ? 0 : change / most;
  };
  return {
    places: rods.map(({ b }) => b),
    added,
    settle,
    described: (laws, working) => ({
      laws: laws.map((law, b) => meanLaw(law, states.get(b))),
      working: working.map((point, b) => {
        const state = states.get(b);
        return state ? { B: state.meanB, H: state.meanH } : point;
      }),
    }),
  };
}

function meanLaw(law: LinearLaw, state: RodState | undefined): LinearLaw {
  if (!state || state.meanH >= 0) return law;
  return { ...law, mu: (state.meanB - law.remanence) / (MU0 * state.meanH) };
}
