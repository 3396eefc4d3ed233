/**
 * Solid bodies as they stand in space: what a line may run into, and what hides what. The pickup's own frame, m; see parts.ts.
 */

/** A body of revolution about an upright axis through (x, y); its profile goes from the bottom to the top, heights never falling. */
export interface RoundSolid {
  readonly kind: 'round';
  readonly x: number;
  readonly y: number;
  /** Corners of the profile: radius, and height in the pickup's frame, in turn; on the axis at both ends. */
  readonly profile: Float64Array;
}

/** A block with edges along x, y and z, and its centre. */
export interface BlockSolid {
  readonly kind: 'block';
  readonly x: number;
  readonly y: number;
  readonly z: number;
  readonly size: { readonly x: number; readonly y: number; readonly z: number };
}

export type Solid = RoundSolid | BlockSolid;

/** Widest radius of a round solid, m. */
export function widest({ profile }: RoundSolid): number {
  let radius = 0;
  for (let k = 0; k < profile.length; k += 2) radius = Math.max(radius, profile[k]!);
  return radius;
}

/** Lowest and highest z, m. */
export function heightsOf(solid: Solid): readonly [low: number, high: number] {
  if (solid.kind === 'round') return [solid.profile[1]!, solid.profile.at(-1)!];
  return [solid.z - 0.5 * solid.size.z, solid.z + 0.5 * solid.size.z];
}

/** Half of what a solid measures along x and y, m. */
export function halvesOf(solid: Solid): readonly [x: number, y: number] {
  if (solid.kind === 'round') {
    const radius = widest(solid);
    return [radius, radius];
  }
  return [0.5 * solid.size.x, 0.5 * solid.size.y];
}

/** Whether a point lies in the solid; on its surface either. */
export type Inside = (x: number, y: number, z: number) => boolean;

/** Made once for many points. */
export function insideOf(solid: Solid): Inside {
  const [low, high] = heightsOf(solid);
  const [halfX, halfY] = halvesOf(solid);
  if (solid.kind === 'block')
    return (x, y, z) => z > low && z < high && Math.abs(x - solid.x) < halfX && Math.abs(y - solid.y) < halfY;
  const { profile } = solid;
  return (x, y, z) => {
    if (!(z > low && z < high)) return false;
    const [dx, dy] = [x - solid.x, y - solid.y];
    const r2 = dx * dx + dy * dy;
    return r2 < halfX * halfX && r2 < radiusAt(profile, z) ** 2;
  };
}

/** Radius of a profile at a height between its ends, m. */
function radiusAt(profile: Float64Array, z: number): number {
  let k = 0;
  while (k + 4 < profile.length && profile[k + 3]! < z) k += 2;
  const [r1, z1, r2, z2] = [profile[k]!, profile[k + 1]!, profile[k + 2]!, profile[k + 3]!];
  return z2 > z1 ? r1 + ((r2 - r1) * (z - z1)) / (z2 - z1) : Math.max(r1, r2);
}

/** How far a point may go in any direction without entering the solid, m: to the block or cylinder around it. */
export function clearanceOf(solid: Solid): (x: number, y: number, z: number) => number {
  const [low, high] = heightsOf(solid);
  const [halfX, halfY] = halvesOf(solid);
  const { kind, x: x0, y: y0 } = solid;
  return (x, y, z) => {
    const up = Math.max(0, low - z, z - high);
    const dx = Math.abs(x - x0);
    const dy = Math.abs(y - y0);
    const aside =
      kind === 'round'
        ? Math.max(0, Math.sqrt(dx * dx + dy * dy) - halfX)
        : Math.hypot(Math.max(0, dx - halfX), Math.max(0, dy - halfY));
    return Math.sqrt(up * up + aside * aside);
  };
}
