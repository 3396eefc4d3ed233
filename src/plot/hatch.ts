/** Section hatching: parallel lines over a cut face (ISO 128-50: thin, evenly spaced, 45° to the main outline). */

/** From one point to another, px, y downwards. */
export interface Line {
  readonly x1: number;
  readonly y1: number;
  readonly x2: number;
  readonly y2: number;
}

/** px, y downwards. */
export interface Point {
  readonly x: number;
  readonly y: number;
}

export interface HatchOptions {
  /** Distance between neighbouring lines, px. */
  readonly spacing: number;
  /** Degrees from the x axis, counter-clockwise as seen; 45 unless given. Neighbouring parts take 135. */
  readonly angle?: number;
  /** How far the grid is shifted across its lines, px; 0 unless given. */
  readonly shift?: number;
}

/** Between the two lines of a pair, as a share of the spacing. */
const PAIR = 0.3;

// Stops a slip of the unit from hanging the page; a drawing has some dozens of lines a face.
const MOST = 10000;

/**
 * Lines over the inside (even-odd) of a closed polygon. They lie on one grid through the origin, so that all cut
 * faces of a part are hatched alike. Throws RangeError for a spacing that is not positive.
 */
export function hatchPolygon(
  corners: readonly Point[],
  { spacing, angle = 45, shift = 0 }: HatchOptions,
): Line[] {
  if (!(spacing > 0)) throw new RangeError(`The spacing of a hatch must be positive; got ${spacing} px.`);
  // Along the line (u) and across it (v); y points down, so that counter-clockwise is −y.
  const c = Math.cos((angle * Math.PI) / 180);
  const s = -Math.sin((angle * Math.PI) / 180);
  const u = corners.map((p) => p.x * c + p.y * s);
  const v = corners.map((p) => p.y * c - p.x * s);
  const first = Math.ceil((Math.min(...v) - shift) / spacing);
  const last = Math.floor((Math.max(...v) - shift) / spacing);
  const lines: Line[] = [];
  if (!(last - first < MOST)) return lines;
  for (let k = first; k <= last; k++) {
    const level = k * spacing + shift;
    const hits: number[] = [];
    for (let i = 0; i < corners.length; i++) {
      const j = (i + 1) % corners.length;
      const vi = v[i] as number;
      const vj = v[j] as number;
      // Half-open, so that a corner on the line counts once.
      if (vi <= level === vj <= level) continue;
      hits.push((u[i] as number) + (((u[j] as number) - (u[i] as number)) * (level - vi)) / (vj - vi));
    }
    hits.sort((a, b) => a - b);
    for (let h = 0; h + 1 < hits.length; h += 2) {
      const a = hits[h] as number;
      const b = hits[h + 1] as number;
      if (b > a)
        lines.push({
          x1: a * c - level * s,
          y1: a * s + level * c,
          x2: b * c - level * s,
          y2: b * s + level * c,
        });
    }
  }
  return lines;
}

/** As hatchPolygon, for a rectangle with its corner at (x, y); px. */
export function hatchRectangle(
  x: number,
  y: number,
  width: number,
  height: number,
  options: HatchOptions,
): Line[] {
  return hatchPolygon(rectangle(x, y, width, height), options);
}

/** Its corners, px. */
export const rectangle = (x: number, y: number, width: number, height: number): readonly Point[] => [
  { x, y },
  { x: x + width, y },
  { x: x + width, y: y + height },
  { x, y: y + height },
];

/** Lines in pairs, the section lining of steel (ANSI Y14.2, from memory). As hatchPolygon; `spacing` is that of the pairs. */
export const hatchSteel = (corners: readonly Point[], options: HatchOptions): Line[] =>
  [0, PAIR * options.spacing].flatMap((shift) => hatchPolygon(corners, { ...options, shift }));
