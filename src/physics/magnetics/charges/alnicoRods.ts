/** The alnico rods among a set of bodies, put on their curves in the field of all. */
import type { Coupling } from './assemble.ts';
import type { RingBody } from '../bodies/body.ts';
import { Anderson } from '../../numerics/anderson.ts';
import { MU0 } from '../../numerics/constants.ts';
import type { LinearLaw } from '../materials/demagnetisation.ts';
import { fieldOfOthers } from './fieldOfOthers.ts';
import { parityOf } from '../bodies/mirror.ts';
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

/**
 * @param materials of all bodies; a rod is round, magnetised along its axis, and has a curve
 * @param zones whether rods have any; without, none of them is one
 */
export function alnicoRods(coupling: Coupling, materials: readonly BodyMaterial[], zones = true): AlnicoRods {
  const rods = coupling.bodies.flatMap((body, b): AlnicoRod[] => {
    const material = materials[b]!;
    if (!zones || body.kind !== 'ring') return [];
    if (material.kind === 'steel') return [{ b, mesh: body.mesh, law: steelZones(material.steel), sign: 1 }];
    if (material.kind !== 'magnet' || material.axis !== 'z' || material.material.law !== 'curved') return [];
    const law = magnetZones(material.material, material.strength);
    return [{ b, mesh: body.mesh, law, sign: material.sign }];
  });
  const added = new Float64Array(coupling.offsets[coupling.bodies.length]!);
  const { representatives } = coupling;
  const told = new Anderson(DEPTH);
  const states = new Map<number, RodState>();
  const signs = new Map(rods.map(({ b, sign }) => [b, sign]));
  const settle = (chords: Float64Array): number => {
    const applied = fieldOfOthers(
      coupling,
      chords.map((value, i) => value + added[i]!),
    );
    // Mirrored rods end alike where charges are mirrored.
    const parity = parityOf(representatives, chords);
    let most = 0;
    let change = 0;
    const found = added.slice();
    for (const { b, mesh, law, sign } of rods) {
      const at = coupling.offsets[b]!;
      const image = parity === 0 ? b : representatives.body[b]!;
      const here = applied.subarray(at, at + mesh.n).map((h) => sign * h);
      // To begin with, where one of its kind ended.
      const like = rods.find((other) => other.mesh === mesh && other.law.remanence === law.remanence)!;
      const there = image < b ? states.get(image) : undefined;
      const state =
        (there && inMirror(there, law, parity * sign * signs.get(image)!)) ??
        rodOnCurve(mesh, law, here, states.get(b) ?? states.get(like.b));
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

/** Where a rod ends when its image ended so; in the opposite field, for −1, which only steel answers with the opposite. */
function inMirror(state: RodState, law: ZoneLaw, sense: number): RodState | undefined {
  if (sense > 0) return state;
  if (law.remanence !== 0) return undefined;
  const over = (values: Float64Array): Float64Array => values.map((value) => -value);
  const { charges, meanB, meanH, H, extra, jacobian } = state;
  return { charges: over(charges), meanB: -meanB, meanH: -meanH, H: over(H), extra: over(extra), jacobian };
}

function meanLaw(law: LinearLaw, state: RodState | undefined): LinearLaw {
  if (!state || state.meanH >= 0) return law;
  return { ...law, mu: (state.meanB - law.remanence) / (MU0 * state.meanH) };
}
