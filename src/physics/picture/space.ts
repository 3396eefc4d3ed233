/** Flux lines in space around the bodies of a pickup. */
import type { Body } from '../magnetics/bodies/body.ts';
import type { Solid } from '../../shape/solid.ts';
import { MU0 } from '../numerics/constants.ts';
import { fieldOfBody } from './fieldOfBody.ts';
import { profileOf } from './outline.ts';
import type { FieldSources } from './sources.ts';
import { leavingFlux, startsFor } from './spaceStarts.ts';
import type { SpacePicture } from './spaceTypes.ts';
import { traceLine, type FieldAt } from './trace.ts';

/** What a line may stand for, Wb: the first of which there are no more lines than MOST. */
const SHARES = [5e-7, 1e-6, 2e-6, 5e-6, 1e-5, 2e-5, 5e-5, 1e-4];
const MOST = 300;
/** A line that is shorter than this from body to body is not seen, m. */
const SHORT = 1e-3;

/** A body as a solid; the corners of its mesh that are none of its form are left out. Lengths in m. */
export function solidOf(body: Body): Solid {
  const { x, y } = body;
  if (body.kind === 'box') return { kind: 'block', x, y, z: body.z, size: body.mesh.size };
  const { nodeR, nodeZ, n } = body.mesh;
  const corners = [{ r: nodeR[0]!, z: nodeZ[0]! }, ...profileOf(body.mesh), { r: nodeR[n]!, z: nodeZ[n]! }];
  return { kind: 'round', x, y, profile: Float64Array.from(corners.flatMap(({ r, z }) => [r, body.z + z])) };
}

/** B outside the bodies, T. Digits: as fieldOfBody. */
export function fieldAround(sources: FieldSources): FieldAt {
  const fields = sources.bodies.map((_, b) => fieldOfBody(sources, b));
  return (x, y, z, out) => {
    for (const field of fields) field(x, y, z, out);
    out.x *= MU0;
    out.y *= MU0;
    out.z *= MU0;
  };
}

/**
 * Every line stands for the same flux and goes from the body that it leaves to the one that it enters; where they are twice as
 * dense, B is twice as strong.
 *
 * @param plane place across of the section under the chosen string, m; passed on
 * Digits: lines as traceLine in a field as fieldOfBody; how many cross an area is right to about one in each direction.
 */
export function spacePicture(sources: FieldSources, plane: number): SpacePicture {
  const solids = sources.bodies.map(solidOf);
  const field = fieldAround(sources);
  const flux = leavingFlux(sources.bodies, solids, field);
  const share = SHARES.find((one) => flux.total / one <= MOST) ?? SHARES.at(-1)!;
  const points: number[] = [];
  const ends: number[] = [];
  for (const start of startsFor(flux, share)) {
    const line = traceLine({ field, solids }, start, 1).points;
    if (lengthOf(line) < SHORT) continue;
    for (const value of line) points.push(value);
    ends.push(points.length / 3);
  }
  return { points: Float32Array.from(points), ends: Uint32Array.from(ends), share, solids, plane };
}

function lengthOf(points: readonly number[]): number {
  let length = 0;
  for (let k = 3; k < points.length; k += 3)
    length += Math.hypot(
      points[k]! - points[k - 3]!,
      points[k + 1]! - points[k - 2]!,
      points[k + 2]! - points[k - 1]!,
    );
  return length;
}
