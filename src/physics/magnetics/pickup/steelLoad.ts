/** How much flux the pieces of steel carry that are computed as if they never saturated. */
import { MU0 } from '../../numerics/constants.ts';
import type { BoxBody } from '../bodies/body.ts';
import { ringsOn } from '../charges/contacts.ts';
import { throughSection } from '../charges/sections.ts';
import { steelOf } from '../materials/materials.ts';
import type { SolvedPickup } from './solvePickup.ts';

/** Of one piece of steel, T: the most that it carries, and where its steel saturates. */
export interface SteelLoad {
  readonly carries: number;
  readonly saturation: number;
}

/**
 * For every piece of the build's steel the largest mean µ0 M over a section across x, y or z, and where a pole stands on it, over
 * the rim below that pole's edge, T; of those that are on their curve that rim alone.
 *
 * The flux of M through a section is the charge beyond it, µ0 Σ σA, since steel has no charge inside.
 * Digits: as the charges, 1 %; the most in a corner is not looked for.
 * Source: divergence theorem, [Jackson1999] § 5.9.
 */
export function steelLoads({ build, built, coupling, magnets }: SolvedPickup): readonly SteelLoad[] {
  const steel = build.steel ?? [];
  const first = built.bodies.length - steel.length;
  return steel.map(({ grade }, i) => {
    const box = built.bodies[first + i] as BoxBody;
    const onCurve = magnets.onCurve?.includes(first + i) ?? false;
    const sections = onCurve
      ? [0]
      : [0, 1, 2].map((axis) =>
          throughSection(box.mesh, axis, magnets.density, coupling.offsets[first + i]!),
        );
    const rims = built.bodies.flatMap((body, b) => {
      if (body.kind !== 'ring') return [];
      const { panels } = ringsOn(box, body, built.bodies);
      if (panels.length === 0) return [];
      const at = coupling.offsets[b]!;
      const flux = panels.reduce((sum, p) => sum + magnets.density[at + p]! * body.mesh.area[p]!, 0);
      const edge = Math.max(...panels.map((p) => Math.max(body.mesh.nodeR[p]!, body.mesh.nodeR[p + 1]!)));
      return Math.abs(flux) / (2 * Math.PI * edge * box.mesh.size.z);
    });
    return {
      carries: MU0 * Math.max(...sections, ...rims),
      saturation: steelOf(grade).saturation,
    };
  });
}
