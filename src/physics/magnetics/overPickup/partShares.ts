/** What each part does to the field: taken out, one at a time. */
import { MU0 } from '../../numerics/constants.ts';
import type { Vector } from '../../numerics/vector.ts';
import { assemble } from '../charges/assemble.ts';
import { chargeField } from '../charges/chargeField.ts';
import { solveStatic } from '../charges/saturation.ts';
import type { BuiltBodies } from '../pickup/buildBodies.ts';
import type { Charges, PlacedBodies } from '../pickup/chargedPickup.ts';

/** A build with its charges; a ChargedPickup is one. */
export interface ChargedBodies {
  readonly built: Pick<BuiltBodies, 'bodies' | 'materials'>;
  readonly coupling: PlacedBodies;
  readonly magnets: Pick<Charges, 'density' | 'second'>;
}

/** B at every place with all parts, T, and what each part has in it. */
export interface PartShares {
  readonly whole: readonly Readonly<Vector>[];
  readonly parts: readonly PartShare[];
}

/** A part, by the numbers of its bodies, and what is left without it. */
export interface PartShare {
  readonly part: readonly number[];
  /** B at every place without it, T. */
  readonly without: readonly Readonly<Vector>[];
  /** How much more |B| is with it than without, as a share of what it is without; null where nothing is left. */
  readonly shares: readonly (number | null)[];
}

/** A field weaker than this share of the whole one is none: the last magnet is gone. */
const NOTHING = 1e-6;

/**
 * The field at some places (m) with each part taken out and everything else solved anew.
 *
 * @param parts bodies that belong together, such as the three pieces of a channel; left out, every bar and piece of steel by itself
 * @throws RangeError when a magnet finds no working point without a part
 * What is left keeps its cuts: shares are as good as the fields, 0.003 (tests).
 */
export function partShares(
  charged: ChargedBodies,
  places: readonly Readonly<Vector>[],
  parts: readonly (readonly number[])[] = boxesOf(charged),
): PartShares {
  const { bodies, materials } = charged.built;
  const whole = fieldAt(charged.coupling, charged.magnets, places);
  const taken = parts.map((part): PartShare => {
    const stays = (_: unknown, b: number): boolean => !part.includes(b);
    const coupling = assemble(bodies.filter(stays));
    const without = fieldAt(coupling, solveStatic(coupling, materials.filter(stays)), places);
    const shares = without.map((left, i) => {
      const all = size(whole[i]!);
      return size(left) > NOTHING * all ? all / size(left) - 1 : null;
    });
    return { part, without, shares };
  });
  return { whole, parts: taken };
}

const boxesOf = ({ built }: ChargedBodies): readonly (readonly number[])[] =>
  built.bodies.flatMap(({ kind }, b) => (kind === 'box' ? [[b]] : []));

const size = ({ x, y, z }: Readonly<Vector>): number => Math.hypot(x, y, z);

function fieldAt(
  coupling: PlacedBodies,
  { density, second }: ChargedBodies['magnets'],
  places: readonly Readonly<Vector>[],
): readonly Vector[] {
  return places.map(({ x, y, z }) => {
    const out: Vector = { x: 0, y: 0, z: 0 };
    chargeField(coupling, density, x, y, z, out, second);
    return { x: MU0 * out.x, y: MU0 * out.y, z: MU0 * out.z };
  });
}
