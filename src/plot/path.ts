/**
 * Curves as SVG path text. Coordinates are pixels, y downwards. NaN makes a gap; ±∞ (a comb null in decibels) is
 * drawn as a line that leaves the picture.
 */
import { Pen } from './pen.ts';
import type { Scale } from './scale.ts';

export interface PathOptions {
  /** Decimals of a coordinate; 2 unless given. */
  readonly digits?: number;
  /** Keep only what lies between these two y (in any order); the crossing points are exact. */
  readonly clip?: readonly [number, number];
}

export interface Points {
  readonly x: ArrayLike<number>;
  readonly y: ArrayLike<number>;
}

// Stands for ±∞: far outside any screen, yet small enough that the cut with the clip edge keeps its digits.
const FAR = 1e6;

/** An open line through the points. Empty text when nothing can be drawn. */
export function linePath(x: ArrayLike<number>, y: ArrayLike<number>, options: PathOptions = {}): string {
  const pen = new Pen(options.digits ?? 2);
  const [top, bottom] = clipRange(options.clip);
  const n = Math.min(x.length, y.length);
  let px = NaN;
  let py = NaN;
  for (let i = 0; i < n; i++) {
    const qx = x[i] as number;
    const qy = near(y[i] as number);
    if (px === px && py === py && qx === qx && qy === qy) segment(pen, px, py, qx, qy, top, bottom);
    else pen.lift();
    px = qx;
    py = qy;
  }
  return pen.text;
}

/** Draws one segment's part between top and bottom; a part that starts or ends at the edge breaks the line there. */
function segment(
  pen: Pen,
  x0: number,
  y0: number,
  x1: number,
  y1: number,
  top: number,
  bottom: number,
): void {
  if ((y0 < top && y1 < top) || (y0 > bottom && y1 > bottom)) {
    pen.lift();
    return;
  }
  const a = Math.min(Math.max(y0, top), bottom);
  const b = Math.min(Math.max(y1, top), bottom);
  if (!pen.down || a !== y0) pen.move(a === y0 ? x0 : crossing(x0, y0, x1, y1, a), a);
  pen.line(b === y1 ? x1 : crossing(x0, y0, x1, y1, b), b);
  if (b !== y1) pen.lift();
}

/** x where the segment passes y; through a share of the way, since a slope may overflow. */
function crossing(x0: number, y0: number, x1: number, y1: number, y: number): number {
  return x0 + ((y - y0) / (y1 - y0)) * (x1 - x0);
}

function passes(y0: number, y1: number, y: number): boolean {
  return (y0 < y && y < y1) || (y1 < y && y < y0);
}

/** The closed area between the points and a horizontal baseline, one piece for each run without gaps. */
export function areaPath(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  baseline: number,
  options: PathOptions = {},
): string {
  const pen = new Pen(options.digits ?? 2);
  const [top, bottom] = clipRange(options.clip);
  const base = Math.min(Math.max(baseline, top), bottom);
  const n = Math.min(x.length, y.length);
  let px = NaN;
  let py = NaN;
  for (let i = 0; i <= n; i++) {
    const qx = i < n ? (x[i] as number) : NaN;
    const qy = i < n ? near(y[i] as number) : NaN;
    const gap = !(qx === qx && qy === qy);
    if (gap) {
      if (pen.down) {
        pen.line(px, base);
        pen.close();
      }
      px = NaN;
      py = NaN;
      continue;
    }
    const cut = Math.min(Math.max(qy, top), bottom);
    if (!pen.down) pen.move(qx, base);
    else {
      // Corners where the curve meets the clip edges between two samples, in the order they are passed.
      const first = qy > py ? top : bottom;
      const second = qy > py ? bottom : top;
      if (passes(py, qy, first)) pen.line(crossing(px, py, qx, qy, first), first);
      if (passes(py, qy, second)) pen.line(crossing(px, py, qx, qy, second), second);
    }
    pen.line(qx, cut);
    px = qx;
    py = qy;
  }
  return pen.text;
}

/**
 * At most four points for each pixel column: the first, the lowest, the highest and the last, in their order. Drawn
 * as a line this fills the same pixels as all the points do, so no null of a comb is lost [Jugel2014]. x must not
 * decrease. Columns are `column` pixels wide.
 */
export function decimate(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  column = 1,
): { x: number[]; y: number[] } {
  const outX: number[] = [];
  const outY: number[] = [];
  const n = Math.min(x.length, y.length);
  const keep = (i: number): void => {
    outX.push(x[i] as number);
    outY.push(y[i] as number);
  };
  let i = 0;
  while (i < n) {
    const cell = Math.floor((x[i] as number) / column);
    const first = i;
    let low = i;
    let high = i;
    let gap = false;
    for (; i < n && (i === first || Math.floor((x[i] as number) / column) === cell); i++) {
      const v = y[i] as number;
      if (v !== v) gap = true;
      if (v < (y[low] as number)) low = i;
      if (v > (y[high] as number)) high = i;
    }
    const last = i - 1;
    if (gap || last - first < 4) {
      for (let j = first; j <= last; j++) keep(j);
      continue;
    }
    keep(first);
    const a = Math.min(low, high);
    const b = Math.max(low, high);
    if (a > first) keep(a);
    if (b > a && b < last) keep(b);
    if (last > a) keep(last);
  }
  return { x: outX, y: outY };
}

export interface CurveOptions extends PathOptions {
  /** Width of a pixel column for `decimate`; 0 draws every point. 1 unless given. */
  readonly column?: number;
}

/** Values through two scales into a line: mapped, thinned by column and cut at the y scale's range unless told else. */
export function curvePath(
  xs: ArrayLike<number>,
  ys: ArrayLike<number>,
  xScale: Scale,
  yScale: Scale,
  options: CurveOptions = {},
): string {
  const n = Math.min(xs.length, ys.length);
  const px = new Float64Array(n);
  const py = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    px[i] = xScale.to(xs[i] as number);
    py[i] = yScale.to(ys[i] as number);
  }
  const clip = options.clip ?? yScale.range;
  const column = options.column ?? 1;
  const thin: Points = column > 0 ? decimate(px, py, column) : { x: px, y: py };
  return linePath(thin.x, thin.y, { ...options, clip });
}

function near(y: number): number {
  return y > FAR ? FAR : y < -FAR ? -FAR : y;
}

function clipRange(clip: readonly [number, number] | undefined): readonly [number, number] {
  return clip ? [Math.min(clip[0], clip[1]), Math.max(clip[0], clip[1])] : [-FAR, FAR];
}
