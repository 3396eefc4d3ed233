/** Dimension lines and arrowheads after ISO 129-1; section hatching and the sheet's frame are passed on from here. */
import type { Line, Point } from './hatch.ts';
import { Pen } from './pen.ts';

export * from './frame.ts';
export * from './hatch.ts';

/** Included angle of the slim closed and filled arrowhead, degrees (ISO 129-1). */
export const ARROW_ANGLE = 15;

/** A closed arrowhead. `towards` is the direction in which it points, any length but zero; `length` in px. */
export function arrowhead(
  tip: Point,
  towards: Point,
  length: number,
): { corners: readonly Point[]; path: string } {
  const size = Math.hypot(towards.x, towards.y);
  const ux = size > 0 ? towards.x / size : 1;
  const uy = size > 0 ? towards.y / size : 0;
  const half = length * Math.tan((ARROW_ANGLE * Math.PI) / 360);
  const bx = tip.x - ux * length;
  const by = tip.y - uy * length;
  const corners = [tip, { x: bx - uy * half, y: by + ux * half }, { x: bx + uy * half, y: by - ux * half }];
  return { corners, path: polygonPath(corners) };
}

export interface DimensionInput {
  /** The two measured points, px. */
  readonly from: Point;
  readonly to: Point;
  /** What is measured: the distance along x, along y, or along the line through the points. */
  readonly along: 'x' | 'y' | 'points';
  /**
   * Where the dimension line runs: its y for 'x', its x for 'y', and for 'points' its distance to the left of the
   * way from `from` to `to` as seen.
   */
  readonly at: number;
  /** 7 px unless given: ten times a thin line of 0.7 px. */
  readonly arrow?: number;
  /** Free space between the outline and its extension line; 3 px unless given. */
  readonly gap?: number;
  /** How far an extension line runs past the dimension line; 5.6 px unless given: eight times the line's width. */
  readonly overrun?: number;
  /** Width of the figure with its margins, px; 0 unless given. */
  readonly figureWidth?: number;
}

export interface Dimension {
  /** From the outline past the dimension line; an extension line of no length is left out. */
  readonly extensions: readonly Line[];
  readonly line: Line;
  /** Path text of the two filled arrowheads, first the one at `from`. */
  readonly arrows: readonly [string, string];
  /** The dimension line's ends: where the arrows' tips, and the handles, are. */
  readonly start: Point;
  readonly end: Point;
  /** Middle of the figure: between the arrows, or past `end` when it does not fit. */
  readonly figure: Point;
  /** Reading direction of the figure, degrees clockwise as seen: −90 (vertical, read from the right) ≤ angle < 90. */
  readonly angle: number;
  /** Whether the arrows stand outside and point inwards because there is no room between. */
  readonly outside: boolean;
  /** The measured distance, px. */
  readonly length: number;
}

/** Extension lines stand square to the dimension line. Arrows turn outside when two of them do not fit between. */
export function dimension(input: DimensionInput): Dimension {
  const { from, to, along, at, arrow = 7, gap = 3, overrun = 5.6, figureWidth = 0 } = input;
  const [start, end] = footPoints(from, to, along, at);
  const length = Math.hypot(end.x - start.x, end.y - start.y);
  const fallback = along === 'y' ? { x: 0, y: 1 } : { x: 1, y: 0 };
  const u = length > 0 ? { x: (end.x - start.x) / length, y: (end.y - start.y) / length } : fallback;
  // Half an arrow of plain line must stay visible between the heads.
  const outside = length < 2.5 * arrow;
  const between = length - (outside ? 0 : 2 * arrow);
  const figureFits = figureWidth <= between;
  const tail = outside ? 2 * arrow : 0;
  const past = figureFits ? length / 2 : length + tail + figureWidth / 2;
  const sign = outside ? -1 : 1;
  return {
    extensions: [extension(from, start, gap, overrun), extension(to, end, gap, overrun)].filter(
      (l) => l !== null,
    ),
    line: {
      x1: start.x - u.x * tail,
      y1: start.y - u.y * tail,
      x2: end.x + u.x * tail,
      y2: end.y + u.y * tail,
    },
    arrows: [
      arrowhead(start, { x: -sign * u.x, y: -sign * u.y }, arrow).path,
      arrowhead(end, { x: sign * u.x, y: sign * u.y }, arrow).path,
    ],
    start,
    end,
    figure: { x: start.x + u.x * past, y: start.y + u.y * past },
    angle: readingAngle(u),
    outside,
    length,
  };
}

function footPoints(from: Point, to: Point, along: 'x' | 'y' | 'points', at: number): [Point, Point] {
  if (along === 'x')
    return [
      { x: from.x, y: at },
      { x: to.x, y: at },
    ];
  if (along === 'y')
    return [
      { x: at, y: from.y },
      { x: at, y: to.y },
    ];
  const size = Math.hypot(to.x - from.x, to.y - from.y);
  const nx = size > 0 ? (at * (to.y - from.y)) / size : 0;
  const ny = size > 0 ? (-at * (to.x - from.x)) / size : -at;
  return [
    { x: from.x + nx, y: from.y + ny },
    { x: to.x + nx, y: to.y + ny },
  ];
}

function extension(outline: Point, foot: Point, gap: number, overrun: number): Line | null {
  const size = Math.hypot(foot.x - outline.x, foot.y - outline.y);
  if (!(size > gap)) return null;
  const ux = (foot.x - outline.x) / size;
  const uy = (foot.y - outline.y) / size;
  return {
    x1: outline.x + ux * gap,
    y1: outline.y + uy * gap,
    x2: foot.x + ux * overrun,
    y2: foot.y + uy * overrun,
  };
}

/** Figures are read from the bottom or from the right of the sheet (ISO 129-1). */
function readingAngle(u: Point): number {
  let angle = (Math.atan2(u.y, u.x) * 180) / Math.PI;
  if (angle > 90) angle -= 180;
  if (angle <= -90) angle += 180;
  return angle === 90 ? -90 : angle + 0;
}

/** Path text of separate lines, px to two decimals. */
export function linesPath(lines: readonly Line[]): string {
  const pen = new Pen(2);
  for (const line of lines) {
    pen.move(line.x1, line.y1);
    pen.line(line.x2, line.y2);
  }
  return pen.text;
}

/** Path text of a closed polygon, px to two decimals; empty for no corners. */
export function polygonPath(corners: readonly Point[]): string {
  const pen = new Pen(2);
  corners.forEach((p, i) => (i === 0 ? pen.move(p.x, p.y) : pen.line(p.x, p.y)));
  if (corners.length > 0) pen.close();
  return pen.text;
}
