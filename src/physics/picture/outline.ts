/** Outlines of bodies in an upright plane across them, as closed polygons: u and v of every corner in turn, m. */
import type { Body } from '../magnetics/bodies/body.ts';
import type { RingMesh } from '../magnetics/bodies/ringMesh.ts';

/** Corners u, v, m, one after the other, anticlockwise (v up). null where the plane y = `y` (m) misses the body. */
export function outlineOf(body: Body, y: number): Float64Array | null {
  if (body.kind === 'box') {
    const { size } = body.mesh;
    if (Math.abs(y - body.y) >= 0.5 * size.y) return null;
    const [a, c] = [0.5 * size.x, 0.5 * size.z];
    return Float64Array.of(
      body.x - a,
      body.z - c,
      body.x + a,
      body.z - c,
      body.x + a,
      body.z + c,
      body.x - a,
      body.z + c,
    );
  }
  const aside = Math.abs(y - body.y);
  if (aside >= body.mesh.radius) return null;
  const half = profileOf(body.mesh).flatMap(({ r, z }) =>
    r > aside ? [{ u: Math.sqrt(r * r - aside * aside), v: z }] : [],
  );
  const right = half.flatMap(({ u, v }) => [body.x + u, body.z + v]);
  const left = half.toReversed().flatMap(({ u, v }) => [body.x - u, body.z + v]);
  return Float64Array.from([...right, ...left]);
}

/** The mesh's corners, m; panels that go on in the same direction have none between them. */
export function profileOf({ n, nodeR, nodeZ }: RingMesh): readonly { r: number; z: number }[] {
  const corners: { r: number; z: number }[] = [];
  for (let i = 1; i < n; i++) {
    const a = [nodeR[i]! - nodeR[i - 1]!, nodeZ[i]! - nodeZ[i - 1]!] as const;
    const b = [nodeR[i + 1]! - nodeR[i]!, nodeZ[i + 1]! - nodeZ[i]!] as const;
    const turn = a[0] * b[1] - a[1] * b[0];
    // Sine of the angle between neighbours; rounding of the nodes makes about 1e-12 of it.
    if (Math.abs(turn) > 1e-6 * Math.hypot(...a) * Math.hypot(...b)) {
      corners.push({ r: nodeR[i]!, z: nodeZ[i]! });
    }
  }
  return corners;
}

/** Limits along x and z in the pickup's frame, m. */
export interface Box {
  readonly left: number;
  readonly right: number;
  readonly low: number;
  readonly high: number;
}

/** Around a body as seen along y. */
export function boxAround(body: Body): Box {
  if (body.kind === 'box') {
    const { size } = body.mesh;
    return {
      left: body.x - 0.5 * size.x,
      right: body.x + 0.5 * size.x,
      low: body.z - 0.5 * size.z,
      high: body.z + 0.5 * size.z,
    };
  }
  const { radius, nodeZ, n } = body.mesh;
  return { left: body.x - radius, right: body.x + radius, low: body.z + nodeZ[0]!, high: body.z + nodeZ[n]! };
}

/** How far the body's surface stays from the plane y = `y`, m; 0 when it is cut. */
export function distanceToPlane(body: Body, y: number): number {
  const half = body.kind === 'box' ? 0.5 * body.mesh.size.y : body.mesh.radius;
  return Math.max(0, Math.abs(y - body.y) - half);
}

/**
 * Moves a point that is nearer to the outline than `least` straight away from it, on its own side; on the outline itself,
 * outwards.
 *
 * @param outline as outlineOf gives it, m; @param least m
 */
export function keepOff(outline: Float64Array, least: number, point: { u: number; v: number }): void {
  const { u, v } = point;
  let best = least;
  let away = { u: 0, v: 0 };
  let foot: { u: number; v: number } | null = null;
  for (let k = 0, l = outline.length - 2; k < outline.length; l = k, k += 2) {
    const du = outline[k]! - outline[l]!;
    const dv = outline[k + 1]! - outline[l + 1]!;
    const size = Math.hypot(du, dv);
    const t = ((u - outline[l]!) * du + (v - outline[l + 1]!) * dv) / (size * size);
    const s = Math.min(1, Math.max(0, t));
    const fu = outline[l]! + s * du;
    const fv = outline[l + 1]! + s * dv;
    const distance = Math.hypot(u - fu, v - fv);
    if (distance >= best) continue;
    best = distance;
    foot = { u: fu, v: fv };
    // A point on the line, to a rounding, has no direction of its own: outwards is to the right of an anticlockwise way.
    away =
      distance > 1e-9 ? { u: (u - fu) / distance, v: (v - fv) / distance } : { u: dv / size, v: -du / size };
  }
  if (foot === null) return;
  point.u = foot.u + least * away.u;
  point.v = foot.v + least * away.v;
}
