/**
 * Steel that stands upright and carries much, at the default mesh, against finite elements (tests/reference/redirecting):
 *
 *   a blade of 1 mm on a strong bar, linear         2 % of the peak, 2–4 mm up [tool]
 *   the same, and two walls with a bar between,
 *   of steel that saturates                         2 % of the peak [tool]
 *   mean flux density of such a wall above the bar  2 % [tool]
 *   what a picture reads within the blade           7 % [tool]: a zone has one chord
 */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { assemble } from '../../../../src/physics/magnetics/charges/assemble.ts';
import { chargeField } from '../../../../src/physics/magnetics/charges/chargeField.ts';
import { solveStatic } from '../../../../src/physics/magnetics/charges/saturation.ts';
import type { BuiltPickup } from '../../../../src/physics/magnetics/build/build.ts';
import type { BoxBody } from '../../../../src/physics/magnetics/bodies/body.ts';
import { fieldOnStrings } from '../../../../src/physics/magnetics/overPickup/pickupField.ts';
import { buildBodies } from '../../../../src/physics/magnetics/pickup/buildBodies.ts';
import { chargedPickup, solveCharged } from '../../../../src/physics/magnetics/pickup/chargedPickup.ts';
import type { ChargedPickup } from '../../../../src/physics/magnetics/pickup/chargedPickup.ts';
import { solvePickup } from '../../../../src/physics/magnetics/pickup/solvePickup.ts';
import { probeReading } from '../../../../src/physics/picture/plan.ts';
import { sourcesOf } from '../../../../src/physics/picture/sources.ts';
import { MU0 } from '../../../../src/physics/numerics/constants.ts';
import { sixRods, stringSet } from '../../../fixtures/pickups.ts';

type Edges = Record<'x_mm' | 'y_mm' | 'z_mm', readonly [number, number]>;

interface Reference {
  readonly points_mm: readonly (readonly [number, number, number])[];
  readonly bar: Edges;
  readonly linear_mu200: { readonly Bz_T: readonly number[] };
  readonly saturating: { readonly Bz_T: readonly number[] };
}

const read = (name: string): unknown =>
  JSON.parse(readFileSync(new URL(`../../../reference/redirecting/${name}.json`, import.meta.url), 'utf8'));

const boxOf = ({ x_mm, y_mm, z_mm }: Edges) => {
  const edge = ([from, to]: readonly [number, number]): number => 1e-3 * (to - from);
  const middle = ([from, to]: readonly [number, number]): number => 0.5e-3 * (from + to);
  return {
    size: { x: edge(x_mm), y: edge(y_mm), z: edge(z_mm) },
    centre: { x: middle(x_mm), y: middle(y_mm), z: middle(z_mm) },
  };
};

const buildOf = (bar: Edges, axis: 'x' | 'z', steel: readonly Edges[]): BuiltPickup => ({
  ...sixRods('alnico 5'),
  rows: [{ ...sixRods('alnico 5').rows[0]!, heights: [], winding: null }],
  bars: [{ ...boxOf(bar), grade: 'neodymium', strength: 1, axis, sign: 1 }],
  steel: steel.map((edges) => ({ ...boxOf(edges), grade: 'low-carbon, as drawn' })),
});

/** Largest difference from the reference, of its peak. */
function worst(
  { coupling, magnets }: Pick<ChargedPickup, 'coupling' | 'magnets'>,
  points: Reference['points_mm'],
  Bz: readonly number[],
): number {
  const H = { x: 0, y: 0, z: 0 };
  const off = points.map(([x, y, z], i) => {
    chargeField(coupling, magnets.density, 1e-3 * x, 1e-3 * y, 1e-3 * z, H, magnets.second);
    return Math.abs(MU0 * H.z - Bz[i]!);
  });
  return Math.max(...off) / Math.max(...Bz);
}

/** The build with its steel linear, whatever it carries. */
function linear(build: BuiltPickup): Pick<ChargedPickup, 'coupling' | 'magnets'> {
  const { bodies, materials } = buildBodies(build);
  const coupling = assemble(bodies);
  return { coupling, magnets: solveStatic(coupling, materials) };
}

const blade = read('saturating-blade') as Reference & {
  readonly blade: Edges;
  readonly in_the_blade: {
    readonly points_mm: Reference['points_mm'];
    readonly Bz_T_saturating: readonly number[];
  };
};
const walls = read('saturating-walls') as Reference & {
  readonly wall: Edges;
  readonly in_the_wall: { readonly above_8_mm_Bz_T_saturating: number };
};
const onBar = buildOf(blade.bar, 'z', [blade.blade]);
const { x_mm } = walls.wall;
const beside = buildOf(walls.bar, 'x', [walls.wall, { ...walls.wall, x_mm: [-x_mm[1], -x_mm[0]] }]);

describe('a blade of 1 mm on a strong bar', () => {
  it('[tool] is within 2 % of the peak of linear steel, 2–4 mm up', () => {
    expect(worst(linear(onBar), blade.points_mm, blade.linear_mu200.Bz_T)).toBeLessThan(0.02);
  });

  it('[tool] and of steel that saturates, of which nothing need be said', () => {
    const pickup = solvePickup(onBar);
    expect(worst(pickup, blade.points_mm, blade.saturating.Bz_T)).toBeLessThan(0.02);
    expect(fieldOnStrings(pickup, stringSet()).warnings).toEqual([]);
  });

  it('[exact] and the coil round it finds it as permeable as ever, 2e-3', () => {
    const wound = { ...onBar, rows: [{ ...sixRods('alnico 5').rows[0]!, heights: [] }] };
    const weak = { ...wound, bars: wound.bars.map((bar) => ({ ...bar, strength: 0.1 })) };
    const [full, linear] = [wound, weak].map((build) => solvePickup(build));
    expect(full!.magnets.onCurve).toHaveLength(1);
    expect(linear!.magnets.onCurve).toBeUndefined();
    const [one, other] = [full!, linear!].map(({ coils }) => coils[0]!.figures.inductance);
    expect(Math.abs(one! / other! - 1)).toBeLessThan(2e-3);
  });

  it('is the same from the charges alone', () => {
    const { magnets } = solveCharged(onBar);
    const again = chargedPickup(onBar, magnets);
    expect(worst(again, blade.points_mm, blade.saturating.Bz_T)).toBeLessThan(0.02);
  });
});

it('[tool] within the blade a picture reads B to 7 %', () => {
  const sources = sourcesOf(solveCharged(onBar));
  const { points_mm, Bz_T_saturating } = blade.in_the_blade;
  points_mm.forEach(([x, y, z], i) => {
    const { bz } = probeReading(sources, 1e-3 * x, 1e-3 * y, 1e-3 * z);
    expect(Math.abs(bz / Bz_T_saturating[i]! - 1), `${y} ${z}`).toBeLessThan(0.07);
  });
});

describe('two walls with a strong bar between them', () => {
  const pickup = solveCharged(beside);

  it('[tool] are within 2 % of the peak, linear and saturating', () => {
    expect(worst(linear(beside), walls.points_mm, walls.linear_mu200.Bz_T)).toBeLessThan(0.02);
    expect(worst(pickup, walls.points_mm, walls.saturating.Bz_T)).toBeLessThan(0.02);
  });

  it('[tool] carry what they should above the bar, 2 %', () => {
    const { built, coupling, magnets } = pickup;
    const { mesh } = built.bodies[1] as BoxBody;
    const at = coupling.offsets[1]!;
    const { ends } = mesh.zones!;
    /** Mean B at a height from the wall's middle, T: M is what charge lies below, and H some hundredths of it. */
    const carried = (z: number): number => {
      let below = 0;
      for (let j = 0; j < mesh.n; j++) {
        const half = [mesh.halfV[j]!, mesh.halfU[j]!, 0][mesh.axis[j]!]!;
        const middle = mesh.centre[3 * j + 2]!;
        const share =
          half === 0 ? Number(middle < z) : Math.min(1, Math.max(0, 0.5 + (z - middle) / (2 * half)));
        below += share * mesh.area[j]! * magnets.density[at + j]!;
      }
      const k = ends.findLastIndex((end) => end < z);
      const mu = magnets.laws[1]!.zones![k]!;
      return (MU0 * (mu / (mu - 1)) * -below) / (mesh.size.x * mesh.size.y);
    };
    const steps = 64;
    let mean = 0;
    for (let k = 0; k < steps; k++) mean += carried(-1e-3 + (8e-3 * (k + 0.5)) / steps) / steps;
    expect(Math.abs(mean / walls.in_the_wall.above_8_mm_Bz_T_saturating - 1)).toBeLessThan(0.02);
  });
});
