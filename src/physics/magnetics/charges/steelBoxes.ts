/** Upright boxes of steel that saturate: every zone on the chord of its curve. */
import { Anderson } from '../../numerics/anderson.ts';
import { MU0 } from '../../numerics/constants.ts';
import type { BoxBody } from '../bodies/body.ts';
import { faceSlopeAt } from '../kernels/boxPoint.ts';
import type { BodyMaterial } from '../materials/bodyMaterial.ts';
import type { LinearLaw } from '../materials/demagnetisation.ts';
import { steelChord } from '../materials/zoneLaw.ts';
import type { SaturatingSteel } from '../materials/zoneLaw.ts';
import type { Coupling } from './assemble.ts';
import { geometricMean } from './zoneRows.ts';

/** Boxes between two rounds of solveMagnets. */
export interface SteelBoxes {
  /** Their next laws, by their numbers; charges in A/m. */
  next(density: Float64Array, laws: readonly LinearLaw[]): ReadonlyMap<number, LinearLaw>;
}

/** Rounds from which the next is told. */
const DEPTH = 5;

interface SteelBox {
  readonly b: number;
  readonly body: BoxBody;
  readonly steel: SaturatingSteel;
}

/** @param materials of all bodies; a box that has zones and is steel on its curve is one */
export function steelBoxes(coupling: Coupling, materials: readonly BodyMaterial[]): SteelBoxes {
  const boxes = coupling.bodies.flatMap((body, b): SteelBox[] => {
    const material = materials[b]!;
    return body.kind === 'box' && body.mesh.zones && material.kind === 'steel'
      ? [{ b, body, steel: material.steel }]
      : [];
  });
  const told = new Anderson(DEPTH);
  const next = (density: Float64Array, laws: readonly LinearLaw[]): ReadonlyMap<number, LinearLaw> => {
    if (boxes.length === 0) return new Map();
    const tried = boxes.map(
      ({ b, body }) => laws[b]!.zones ?? new Array<number>(body.mesh.zones!.count).fill(laws[b]!.mu),
    );
    const found = boxes.map(({ b, body, steel }, i) =>
      zoneMagnetisation(body, density, coupling.offsets[b]!).map((M, k) =>
        chord(steel, M, tried[i]![k]! - 1),
      ),
    );
    const together = told.next(susceptibilities(tried), susceptibilities(found));
    let at = 0;
    return new Map(
      boxes.map(({ b, steel }, i) => {
        const zones = found[i]!.map((mu) => {
          const wanted = Math.exp(together[at++]!);
          const chi = Math.min(Math.max(wanted, (mu - 1) / FAR), (mu - 1) * FAR, steel.permeability - 1);
          return 1 + chi;
        });
        return [b, { mu: geometricMean(zones), remanence: 0, zones }];
      }),
    );
  };
  return { next };
}

/** Logarithms of all zones' susceptibilities (1), which stay above 0 whatever is made of them. */
const susceptibilities = (all: readonly (readonly number[])[]): Float64Array =>
  Float64Array.from(all.flat(), (mu) => Math.log(mu - 1));

/** No farther from what was found than by this factor: what a few rounds tell may lead astray. */
const FAR = 3;
/** Up to this share of its saturation what a zone carries tells its chord. */
const TELLING = 0.97;

/**
 * Relative permeability of the chord of a zone that has magnetisation M (A/m) at the susceptibility χ: halfway between the chord at its H, which is as
 * good where the field is given, and that at its M, where the flux is.
 */
function chord(steel: SaturatingSteel, M: number, chi: number): number {
  const atField = steelChord(steel, M / chi) - 1;
  const full = (MU0 * M) / steel.saturation;
  const atFlux = (steel.permeability - 1) * (1 - Math.min(TELLING, full));
  return 1 + Math.sqrt(atField * atFlux);
}

/**
 * Size of the magnetisation of every zone, A/m: its mean along z, and across the box's thickness what its sides tell.
 * ∫ M_z dV = ∮ z M·n dA over a zone, with what goes through its ends from the charges below.
 * Source: divergence theorem, [Jackson1999] § 5.9.
 */
export function zoneMagnetisation({ mesh }: BoxBody, density: Float64Array, at: number): readonly number[] {
  const { count, sheets, zone, ends } = mesh.zones!;
  const charge = new Float64Array(count);
  const moment = new Float64Array(count);
  const above = new Float64Array(count);
  const thin = mesh.size.x < mesh.size.y ? 0 : 1;
  const side = [new Float64Array(count), new Float64Array(count)] as const;
  const area = [new Float64Array(count), new Float64Array(count)] as const;
  for (let j = 0; j < mesh.n; j++) {
    const k = zone[j]!;
    const q = density[at + j]! * mesh.area[j]!;
    if (j >= sheets) {
      above[k] = above[k]! + q;
      continue;
    }
    charge[k] = charge[k]! + q;
    moment[k] = moment[k]! + q * mesh.centre[3 * j + 2]!;
    const axis = mesh.axis[j]!;
    if (axis === 2) continue;
    const [half, slope] = axis === 0 ? [mesh.halfV[j]!, mesh.slopeV] : [mesh.halfU[j]!, mesh.slopeU];
    moment[k] += (mesh.area[j]! / 3) * half ** 2 * faceSlopeAt(slope, density, at, j);
    if (axis !== thin) continue;
    const which = mesh.sign[j]! > 0 ? 1 : 0;
    side[which][k] = side[which][k]! + mesh.sign[j]! * q;
    area[which][k] = area[which][k]! + mesh.area[j]!;
  }
  const section = mesh.size.x * mesh.size.y;
  let flux = 0;
  return Array.from({ length: count }, (_, k) => {
    const [low, high] = [ends[k]!, ends[k + 1]!];
    const through = flux - charge[k]!;
    const last = k === count - 1;
    const along = (moment[k]! + (last ? 0 : high * through) - low * flux) / (section * (high - low));
    flux = through - above[k]!;
    const [one, other] = [side[0][k]! / area[0][k]!, side[1][k]! / area[1][k]!];
    return Math.sqrt(along ** 2 + (one ** 2 + one * other + other ** 2) / 3);
  });
}
