/**
 * How a thing in space is looked at: along parallel lines of sight, so that equal lengths stay equal wherever they are. The
 * thing's frame has x to the nut, y to the treble side, z up, m; on the screen x runs right and y down, px.
 */

export type Triple = readonly [x: number, y: number, z: number];

/** From where, rad. */
export interface SpaceTurn {
  /** 0: from the treble side, as a section is drawn, nut to the left; positive towards the nut. */
  readonly azimuth: number;
  /** 0: level; positive from above. */
  readonly elevation: number;
}

export interface SpaceView {
  /** Where these unit vectors of the screen point in the thing's frame: right, up, and to who looks. */
  readonly right: Triple;
  readonly up: Triple;
  readonly toward: Triple;
  /** What stands at (cx, cy), m and px. */
  readonly centre: Triple;
  readonly cx: number;
  readonly cy: number;
  /** px per metre. */
  readonly scale: number;
}

export type Frame = Pick<SpaceView, 'centre' | 'cx' | 'cy' | 'scale'>;

export function spaceView({ azimuth, elevation }: SpaceTurn, frame: Frame): SpaceView {
  const [s, c] = [Math.sin(azimuth), Math.cos(azimuth)];
  const [se, ce] = [Math.sin(elevation), Math.cos(elevation)];
  return { ...frame, right: [-c, s, 0], up: [-s * se, -c * se, ce], toward: [s * ce, c * ce, se] };
}

export const dot = (a: Triple, b: Triple): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

/** A place on the screen, px, and how far before the centre it lies, m. */
export interface Projected {
  readonly x: number;
  readonly y: number;
  readonly depth: number;
}

export function project({ right, up, toward, centre, cx, cy, scale }: SpaceView, p: Triple): Projected {
  const d: Triple = [p[0] - centre[0], p[1] - centre[1], p[2] - centre[2]];
  return { x: cx + scale * dot(right, d), y: cy - scale * dot(up, d), depth: dot(toward, d) };
}

const HALF_TURN = Math.PI;
const QUARTER = 0.5 * Math.PI;

/** The same direction with an azimuth from −π to π and an elevation from straight below to straight above. */
export function settledTurn({ azimuth, elevation }: SpaceTurn): SpaceTurn {
  const rest = (azimuth + HALF_TURN) % (2 * HALF_TURN);
  return {
    azimuth: (rest < 0 ? rest + 2 * HALF_TURN : rest) - HALF_TURN,
    elevation: Math.min(QUARTER, Math.max(-QUARTER, elevation)),
  };
}

/** A ball of this radius, px, taken hold of at its front and dragged by so many px. */
export function dragged(turn: SpaceTurn, dx: number, dy: number, radius: number): SpaceTurn {
  return settledTurn({ azimuth: turn.azimuth + dx / radius, elevation: turn.elevation + dy / radius });
}

/** On the shorter way from one to the other, t from 0 to 1. */
export function turnBetween(from: SpaceTurn, to: SpaceTurn, t: number): SpaceTurn {
  const { azimuth: way } = settledTurn({ azimuth: to.azimuth - from.azimuth, elevation: 0 });
  return settledTurn({
    azimuth: from.azimuth + t * way,
    elevation: from.elevation + t * (to.elevation - from.elevation),
  });
}
