/** How a coil's sensitivity changes as the string nears the poles or leaves them. */
import { addCoilField, addLineField, emptyLineField, resample } from './lineField.ts';
import type { SolvedPickup } from './solvePickup.ts';
import { fieldOfSet, stringOverPickup } from './stringLine.ts';
import type { StringAbove } from './stringLine.ts';
import { sensitivityOf } from '../string/fieldReach.ts';
import type { FluxCurve } from '../string/fluxCurve.ts';
import { overSection, respond } from '../string/magnetisation.ts';

/** Displacements from rest at which the curve is tried, m: away from the pickup, and of the room left towards it. */
const AWAY = [-2.5e-3, -1e-3] as const;
const NEAR_MOST = 1e-3;
const NEAR_SHARE = 0.5;
/** Nodes are this much further apart than for a reach: an area needs no fine detail. */
const COARSE = 1.8;

/** Volts per m/s of a string at a height, a row each; as RowOnString.sensitivity, within 0.3 %. */
export function sensitivitiesAt(
  pickup: SolvedPickup,
  string: StringAbove,
  height: number,
  slant: number,
): readonly number[] {
  const over = stringOverPickup(pickup, string, height, slant, true, COARSE);
  const { line, nodes, x, cloud, magnetised } = over;
  const { wire, state, field } = magnetised;
  const byZ = overSection(wire, respond(wire, state, field.zHx));
  return pickup.coils.map((coil, r) => {
    const whole = fieldOfSet(cloud, r + 1, line, nodes);
    const air = emptyLineField(nodes.length);
    addCoilField(coil.filaments, line, nodes, air);
    addLineField(air, whole);
    const one = sensitivityOf(magnetised, byZ, resample(whole, nodes, x), string.acrossSection);
    return coil.figures.turns * coil.direction * one;
  });
}

/**
 * The curve of every row: a cubic in the displacement through the logarithm of the sensitivity at rest and at three
 * other places.
 *
 * @param height of the string's axis at rest above z = 0, m; @param atRest sensitivities there
 */
export function fluxCurves(
  pickup: SolvedPickup,
  string: StringAbove,
  height: number,
  slant: number,
  atRest: readonly number[],
): readonly FluxCurve[] {
  const top = Math.max(...pickup.build.rows.flatMap(({ heights }) => heights));
  const room = height - 0.5 * string.outerDiameter - top;
  const places = [...AWAY, Math.min(NEAR_MOST, NEAR_SHARE * room)];
  const found = places.map((u) => sensitivitiesAt(pickup, string, height - u, slant));
  return atRest.map((rest, r) =>
    throughLogs(
      places,
      found.map((row) => Math.log(row[r]! / rest)),
    ),
  );
}

/** Coefficients of r1 u + r2 u² + r3 u³ through three points; straight where a sensitivity has changed its sign. */
function throughLogs(u: readonly number[], logs: readonly number[]): FluxCurve {
  if (!logs.every(Number.isFinite)) return [0, 0, 0];
  const [u1, u2, u3] = u as [number, number, number];
  // Newton's divided differences of log(S)/u, a parabola.
  const [a, b, c] = logs.map((log, i) => log / u[i]!) as [number, number, number];
  const ab = (b - a) / (u2 - u1);
  const bc = (c - b) / (u3 - u2);
  const r3 = (bc - ab) / (u3 - u1);
  const r2 = ab - r3 * (u1 + u2);
  return [a - u1 * (r2 + r3 * u1), r2, r3];
}
