/** The form of a pole, for whoever meshes, measures or draws it. Lengths and diameters in m. */

/** How a pole ends below the strings. */
export type Tip =
  | { readonly shape: 'flat' }
  /** A bevel `width` wide seen from above and `depth` deep. */
  | { readonly shape: 'chamfered'; readonly width: number; readonly depth: number }
  /** A cone down to a flat of the given diameter. */
  | { readonly shape: 'coned'; readonly flat: number; readonly depth: number }
  /** A cap of a sphere, `depth` high. */
  | { readonly shape: 'domed'; readonly depth: number };

/** A round pole; its axis stands upright. */
export interface PoleForm {
  readonly diameter: number;
  /** Over all. */
  readonly length: number;
  /** A wider head at the top; null or absent for none. */
  readonly head?: { readonly diameter: number; readonly height: number } | null;
  /** A narrower part at the bottom; null or absent for none. */
  readonly shank?: { readonly diameter: number; readonly length: number } | null;
  readonly tip: Tip;
}

/** A pole as a maker gives it: the tip by one figure, the head kept but without meaning for all but screws. */
export interface GivenPole {
  /** 'none': there is none, and what is said of it means nothing. */
  readonly kind: 'rod' | 'slug' | 'screw' | 'none';
  readonly diameter: number;
  readonly length: number;
  readonly tip: { readonly shape: Tip['shape']; readonly size: number };
  readonly head: { readonly diameter: number; readonly height: number };
}

/** A cone ends in a flat this wide over its base: a point would have no land for the file. */
const CONE_FLAT = 0.1;

/** A smaller bevel or dome is a flat end: no file leaves less, and corners so close together can't be told apart. */
const LEAST_TIP = 1e-5;

/** @param size leg of the 45° bevel, depth of the cone, rise of the dome @param wide diameter of what carries the tip */
function tipOf({ shape, size }: GivenPole['tip'], wide: number): Tip {
  if (shape === 'flat' || size < LEAST_TIP) return { shape: 'flat' };
  if (shape === 'chamfered') return { shape, width: size, depth: size };
  if (shape === 'coned') return { shape, flat: CONE_FLAT * wide, depth: size };
  return { shape, depth: size };
}

/** What a maker's figures mean. */
export function poleForm({ kind, diameter, length, head: given, tip }: GivenPole): PoleForm {
  const head = kind === 'screw' ? given : null;
  return { diameter, length, head, shank: null, tip: tipOf(tip, head?.diameter ?? diameter) };
}

/** Of its upper end without the tip. */
export const topDiameter = ({ head, diameter }: Pick<PoleForm, 'head' | 'diameter'>): number =>
  head?.diameter ?? diameter;

/**
 * How wide a bevel or high a tip may be so that a land is left on top, and how deep so that a side is left below: of a screw,
 * on its head. Checks of the field allow a little more.
 */
export function tipRoom({ kind, diameter, length, head }: Omit<GivenPole, 'tip'>): {
  readonly land: number;
  readonly side: number;
} {
  const [wide, high] = kind === 'screw' ? [head.diameter, head.height] : [diameter, length];
  return { land: 0.49 * wide, side: 0.9 * high };
}

/** A point of a profile: distance from the axis, and height; a pole's top is at 0. */
export interface ProfilePoint {
  readonly r: number;
  readonly z: number;
}

/**
 * Half of a pole's outline, from the bottom on the axis around the outside to the top on the axis; steps of shank and head are
 * flat rings, a dome becomes straight pieces. A tip larger than there is room for, which checks refuse, ends on the axis.
 *
 * @param domePieces 1 or more; between n of them and the sphere there is a sagitta of some 1/(4n²) of the dome's rise
 * @returns vertices, heights from −length to 0, never falling
 */
export function poleProfile(pole: PoleForm, domePieces: number): readonly ProfilePoint[] {
  const { length, head, shank } = pole;
  const radius = 0.5 * pole.diameter;
  const points: ProfilePoint[] = [{ r: 0, z: -length }];
  if (shank) {
    const r = 0.5 * shank.diameter;
    points.push({ r, z: -length }, { r, z: -length + shank.length });
    points.push({ r: radius, z: -length + shank.length });
  } else points.push({ r: radius, z: -length });
  if (head) points.push({ r: radius, z: -head.height }, { r: 0.5 * head.diameter, z: -head.height });
  points.push(...tipPoints(pole.tip, 0.5 * topDiameter(pole), domePieces), { r: 0, z: 0 });
  return points;
}

/** From the side to the top, without the point on the axis. */
function tipPoints(tip: Tip, radius: number, domePieces: number): readonly ProfilePoint[] {
  switch (tip.shape) {
    case 'flat':
      return [{ r: radius, z: 0 }];
    case 'chamfered':
      return [
        { r: radius, z: -tip.depth },
        { r: Math.max(0, radius - tip.width), z: 0 },
      ];
    case 'coned':
      return [
        { r: radius, z: -tip.depth },
        { r: 0.5 * tip.flat, z: 0 },
      ];
    case 'domed': {
      // Half a ball at most: a deeper cap would bulge beyond the pole.
      const depth = Math.min(tip.depth, radius);
      const sphere = (radius * radius + depth * depth) / (2 * depth);
      const edge = Math.asin(Math.min(1, radius / sphere));
      return Array.from({ length: domePieces }, (_, k) => {
        const angle = edge * (1 - k / domePieces);
        return { r: sphere * Math.sin(angle), z: sphere * (Math.cos(angle) - 1) };
      });
    }
  }
}

/** For the eye a dome of so many pieces is round at any scale that is drawn. */
const DRAWN_DOME = 10;

/** A point of a pole's outline seen from the side: place beside the axis, and height above the top (0 or less). */
export interface OutlinePoint {
  readonly x: number;
  readonly z: number;
}

/** The whole outline seen from the side, from the right end of the foot anticlockwise over the top to the left end. */
export function poleOutline(pole: PoleForm): readonly OutlinePoint[] {
  const right = poleProfile(pole, DRAWN_DOME).slice(1);
  const left = right.slice(0, -1).toReversed();
  return [...right.map(({ r, z }) => ({ x: r, z })), ...left.map(({ r, z }) => ({ x: -r, z }))];
}
