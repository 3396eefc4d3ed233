/** How a coil's sensitivity changes as the string nears the poles or leaves them. */
import { addCoilFields, cloudFields, spline } from './lineField.ts';
import { fieldNodes } from './stringLine.ts';
import type { StringOverPickup } from './stringLine.ts';
import type { Filaments } from '../coil/winding.ts';
import { gaussLegendre } from '../../numerics/quadrature.ts';
import { MU0 } from '../../numerics/constants.ts';
import { STRAIGHT, type FluxCurve } from '../../string/fluxCurve.ts';
import { magnetise, overSection } from '../../string/magnetisation.ts';

/** Displacements at which the flux is computed, m: away from the pickup, and towards it this share of the room left. */
const AWAY = [-4e-3, -1.5e-3] as const;
const NEAR_MOST = 1e-3;
const NEAR_SHARE = 0.5;
/** Nodes are this much further apart than for a reach, and more the further the string: a whole flux needs no detail. */
const COARSE = 1.6;
const COARSER_FROM = 3.5e-3;
/** The string's magnetisation settles to this; the flux, to its square. */
const SETTLED = 1e-4;

/**
 * The curve of every row, so that the flux comes out right at rest, in its slope there, and at three other places.
 *
 * @param over the string at rest, with the coils' charges; @param coils in air, a row each
 * @param atRest each row's flux (Wb a turn), and its change as the string moves up (Wb a turn and m)
 * @param room from the highest pole to the string, m
 */
export function fluxCurves(
  over: StringOverPickup,
  coils: readonly Filaments[],
  atRest: readonly { readonly flux: number; readonly slope: number }[],
  room: number,
): readonly FluxCurve[] {
  const places = [...AWAY, Math.min(NEAR_MOST, NEAR_SHARE * room)];
  const found = places.map((u) => {
    const coarse = COARSE * Math.max(1, (room - u) / COARSER_FROM);
    const nodes = fieldNodes(over.centres, room - u, over.x, coarse);
    return fluxesAt(over, coils, -u, nodes);
  });
  return atRest.map(({ flux, slope }, r) =>
    throughFluxes(
      places,
      found.map((fluxes) => (flux - fluxes[r]!) / slope),
    ),
  );
}

/** Flux of the string through each coil, Wb a turn, when the string has moved up by `raise` (m). */
function fluxesAt(
  { line, x, cloud, magnetised }: StringOverPickup,
  coils: readonly Filaments[],
  raise: number,
  nodes: Float64Array,
): readonly number[] {
  const { wire, state, raised } = magnetised;
  const parts = cloudFields(cloud, line, raise, nodes);
  const at = (k: number): Float64Array => {
    const out = new Float64Array(x.length);
    spline(nodes, parts[k]!, x, out);
    return out;
  };
  const there =
    raised.get(raise) ??
    ([overSection(wire, magnetise(wire, at(0), state.M, SETTLED).M), at(1), at(2)] as const);
  raised.set(raise, there);
  const [along, Hy, Hz] = there;
  const gain = wire.metal.across;
  return coils.map((coil, r) => {
    const k = 3 * (r + 1);
    addCoilFields(coil, line, raise, nodes, [parts[k]!, parts[k + 1]!, parts[k + 2]!]);
    const [hx, hy, hz] = [at(k), at(k + 1), at(k + 2)];
    let sum = 0;
    for (let i = 0; i < x.length; i++) {
      sum += along[i]! * hx[i]! + gain * (Hz[i]! * hz[i]! + Hy[i]! * hy[i]!);
    }
    return MU0 * wire.section * sum * wire.step;
  });
}

const RULE = gaussLegendre(8);
/** Newton's steps; three or four do. */
const MOST_STEPS = 12;

/**
 * Coefficients with which ∫ exp(r1 v + r2 v² + r3 v³) dv from 0 to each of three places is as wanted; straight when there
 * are none, as when the sensitivity changes its sign in between. @param wanted m
 */
function throughFluxes(places: readonly number[], wanted: readonly number[]): FluxCurve {
  // In millimetres, so that the three are of one size.
  const scale = 1e3;
  const r: [number, number, number] = [0.3, 0, 0];
  for (let step = 0; step < MOST_STEPS; step++) {
    const matrix = places.map((place, k) => {
      const u = scale * place;
      const row = [-scale * wanted[k]!, 0, 0, 0];
      RULE.x.forEach((at, i) => {
        const v = 0.5 * u * (1 + at);
        const value = 0.5 * u * RULE.w[i]! * Math.exp(v * (r[0] + v * (r[1] + v * r[2])));
        for (let power = 0; power < 4; power++) row[power] = row[power]! + value * v ** power;
      });
      return row as [number, number, number, number];
    });
    const change = solved(matrix as [Line4, Line4, Line4]);
    if (!change.every(Number.isFinite)) return STRAIGHT;
    for (let k = 0; k < 3; k++) r[k] = r[k]! - change[k]!;
    if (change.every((value) => Math.abs(value) < 1e-9)) {
      return [scale * r[0], scale ** 2 * r[1], scale ** 3 * r[2]];
    }
  }
  return STRAIGHT;
}

/** What is to vanish, and its derivatives by the three unknowns. */
type Line4 = [number, number, number, number];

/** Cramer's rule. */
function solved([a, b, c]: readonly [Line4, Line4, Line4]): readonly [number, number, number] {
  const det = (i: number, j: number, k: number): number =>
    a[i]! * (b[j]! * c[k]! - b[k]! * c[j]!) -
    a[j]! * (b[i]! * c[k]! - b[k]! * c[i]!) +
    a[k]! * (b[i]! * c[j]! - b[j]! * c[i]!);
  const whole = det(1, 2, 3);
  return [det(0, 2, 3) / whole, det(1, 0, 3) / whole, det(1, 2, 0) / whole];
}
