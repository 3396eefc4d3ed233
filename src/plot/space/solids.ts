/** Solid bodies in space as their outlines are drawn, and as triangles. Lengths in m. */
import { heightsOf, type BlockSolid, type RoundSolid, type Solid } from '../../shape/solid.ts';
import type { Stroke } from './strokes.ts';
import type { SpaceView, Triple } from './view.ts';

/** Corners of a circle; a side is then 0.2 % within it. */
export const SECTORS = 48;
/** Where a profile turns by less than this there is no edge to draw, rad. */
const EDGE = 0.35;

const circle = (x: number, y: number, z: number, r: number): Stroke => ({
  pen: 'outline',
  points: Array.from({ length: SECTORS + 1 }, (_, k) => {
    const angle = (2 * Math.PI * k) / SECTORS;
    return [x + r * Math.cos(angle), y + r * Math.sin(angle), z];
  }).flat(),
});

/** Corners by their sides: bits 1, 2 and 4 for x, y and z. */
const cornersOf = ({ x, y, z, size }: BlockSolid): readonly Triple[] =>
  Array.from({ length: 8 }, (_, k): Triple => [
    x + (k & 1 ? 0.5 : -0.5) * size.x,
    y + (k & 2 ? 0.5 : -0.5) * size.y,
    z + (k & 4 ? 0.5 : -0.5) * size.z,
  ]);

/** Edges that are there from wherever one looks: of a block all, of a round body the circles at the corners of its profile. */
export function solidEdges(solid: Solid): readonly Stroke[] {
  if (solid.kind === 'block') {
    const corners = cornersOf(solid);
    return corners.flatMap((a, k) =>
      [1, 2, 4].flatMap((bit) =>
        k & bit ? [] : [{ pen: 'outline', points: [...a, ...corners[k | bit]!] } satisfies Stroke],
      ),
    );
  }
  const { x, y, profile } = solid;
  const edges: Stroke[] = [];
  for (let k = 2; k + 2 < profile.length; k += 2) {
    const [r, z] = [profile[k]!, profile[k + 1]!];
    const before = Math.atan2(z - profile[k - 1]!, r - profile[k - 2]!);
    const after = Math.atan2(profile[k + 3]! - z, profile[k + 2]! - r);
    const turn = Math.abs(after - before);
    if (r > 0 && Math.min(turn, 2 * Math.PI - turn) > EDGE) edges.push(circle(x, y, z, r));
  }
  return edges;
}

/** What a round body is seen to end at beside its edges: the lines of its sides where they turn away from who looks. */
export function silhouettes({ x, y, profile }: RoundSolid, { toward }: SpaceView): readonly Stroke[] {
  const level = Math.hypot(toward[0], toward[1]);
  if (level < 1e-9) return [];
  const facing = Math.atan2(toward[1], toward[0]);
  const strokes: Stroke[] = [];
  for (let k = 0; k + 2 < profile.length; k += 2) {
    const [r1, z1, r2, z2] = [profile[k]!, profile[k + 1]!, profile[k + 2]!, profile[k + 3]!];
    const rise = z2 - z1;
    if (!(rise > 0)) continue;
    // The normal (rise cos φ, rise sin φ, r1 − r2) stands across the line of sight.
    const cosine = (-(r1 - r2) * toward[2]) / (rise * level);
    if (Math.abs(cosine) >= 1) continue;
    for (const side of [1, -1]) {
      const angle = facing + side * Math.acos(cosine);
      const [c, s] = [Math.cos(angle), Math.sin(angle)];
      strokes.push({
        pen: 'outline',
        points: [x + r1 * c, y + r1 * s, z1, x + r2 * c, y + r2 * s, z2],
      });
    }
  }
  return strokes;
}

/** A stadium about (x, 0): straight sides along y, half circles of radius `edge` at their ends. */
export interface Racetrack {
  readonly x: number;
  readonly straight: number;
  readonly edge: number;
}

/** At a height. */
export function racetrack({ x, straight, edge }: Racetrack, z: number): Stroke {
  const corner = (k: number): Triple => {
    const angle = (2 * Math.PI * (k % SECTORS)) / SECTORS;
    const half = k < SECTORS / 2 || k === SECTORS ? 0.5 : -0.5;
    return [x + edge * Math.cos(angle), half * straight + edge * Math.sin(angle), z];
  };
  const points = Array.from({ length: SECTORS + 1 }, (_, k) => corner(k));
  // Over from one half circle to the other, and back to the first at the end.
  points.splice(SECTORS / 2, 0, [x - edge, 0.5 * straight, z]);
  points.splice(-1, 0, [x + edge, -0.5 * straight, z]);
  return { pen: 'thin', points: points.flat() };
}

/** The two upright lines at which a body of that outline is seen to end. */
export function racetrackSides(
  { x, straight, edge }: Racetrack,
  [low, high]: readonly [number, number],
  { right, toward }: SpaceView,
): readonly Stroke[] {
  if (Math.hypot(toward[0], toward[1]) < 0.05) return [];
  return [1, -1].map((side) => {
    const [c, s] = [side * right[0], side * right[1]];
    const place = [x + edge * c, 0.5 * straight * Math.sign(s) + edge * s] as const;
    return { pen: 'thin', points: [...place, low, ...place, high] };
  });
}

/** Corners of triangles, x, y, z in turn, that close about the body. */
export function solidTriangles(solid: Solid): readonly number[] {
  const out: number[] = [];
  const four = (a: Triple, b: Triple, c: Triple, d: Triple): void => {
    out.push(...a, ...b, ...c, ...a, ...c, ...d);
  };
  if (solid.kind === 'block') {
    const c = cornersOf(solid);
    for (const [a, b, d, e] of [
      [0, 1, 3, 2],
      [4, 5, 7, 6],
      [0, 1, 5, 4],
      [2, 3, 7, 6],
      [0, 2, 6, 4],
      [1, 3, 7, 5],
    ] as const)
      four(c[a]!, c[b]!, c[d]!, c[e]!);
    return out;
  }
  const { x, y, profile } = solid;
  const on = (k: number, sector: number): Triple => {
    const angle = (2 * Math.PI * sector) / SECTORS;
    return [x + profile[k]! * Math.cos(angle), y + profile[k]! * Math.sin(angle), profile[k + 1]!];
  };
  for (let k = 0; k + 2 < profile.length; k += 2)
    for (let s = 0; s < SECTORS; s++) four(on(k, s), on(k, s + 1), on(k + 2, s + 1), on(k + 2, s));
  return out;
}

/** The same body, smaller by so much all round; what lies on the larger one's surface lies clear of it. */
export function shrunk(solid: Solid, by: number): Solid {
  if (solid.kind === 'block') {
    const { size } = solid;
    const less = (edge: number): number => Math.max(0, edge - 2 * by);
    return { ...solid, size: { x: less(size.x), y: less(size.y), z: less(size.z) } };
  }
  const [low, high] = heightsOf(solid);
  const profile = solid.profile.map((value, k) =>
    k % 2 === 0
      ? Math.max(0, value - by)
      : Math.min(Math.max(value, low + by), Math.max(high - by, low + by)),
  );
  return { ...solid, profile };
}
