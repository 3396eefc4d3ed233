/** Two sections and their difference as they stand on the sheet, px: one scale for all three. */
import { signedLevels, type AlongLine } from '../../plot/besides.ts';
import { contours, type ScalarGrid } from '../../plot/contour.ts';
import { contourLabels } from '../../plot/contourLabels.ts';
import type { ToScreen } from '../../plot/filings.ts';
import { linePath } from '../../plot/path.ts';
import type { Lattice } from '../../shape/lattice.ts';
import { NOTHING, type DifferenceRow } from '../../state/difference.ts';

/** Below this width the sections stand one below the other. */
const ROOM = 460;
const APART = 16;

export interface CutView {
  readonly width: number;
  readonly height: number;
  readonly screen: ToScreen;
}

/** Of one section in a room of this width; the nut is on the left. */
export function cutView({ u0, v0, step, nu, nv }: Lattice, room: number): CutView {
  const width = room >= ROOM ? Math.floor((room - APART) / 2) : room;
  const scale = width / (step * (nu - 1));
  const height = Math.round(scale * step * (nv - 1));
  const right = u0 + step * (nu - 1);
  const top = v0 + step * (nv - 1);
  return { width, height, screen: { x0: scale * right, perU: -scale, y0: scale * top, perV: -scale } };
}

/** A line of places in the field's frame, u and v in turn, m. */
export function screenPath(
  points: ArrayLike<number>,
  { x0, perU, y0, perV }: ToScreen,
  close = false,
): string {
  const n = points.length / 2;
  const x = Float64Array.from({ length: n }, (_, i) => x0 + perU * points[2 * i]!);
  const y = Float64Array.from({ length: n }, (_, i) => y0 + perV * points[2 * i + 1]!);
  return `${linePath(x, y, { digits: 1 })}${close ? 'Z' : ''}`;
}

export interface SignedLine {
  readonly path: string;
  readonly less: boolean;
  /** «+5», «−2.5», mT. */
  readonly text: string;
  /** Where its figure stands, px; null where it finds no room. */
  readonly label: { readonly x: number; readonly y: number } | null;
}

/** Every so manieth point of a line may carry its figure. */
const EVERY = 4;

/** Lines on which the difference is the same; levels that it nowhere comes to have none. */
export function signedLines(grid: ScalarGrid, { width, height, screen }: CutView): readonly SignedLine[] {
  const { x0, perU, y0, perV } = screen;
  const drawn = signedLevels(grid)
    .map((level) => {
      const lines = contours(grid, level);
      return { level, lines, path: lines.map(({ points }) => screenPath(points, screen)).join('') };
    })
    .filter(({ path }) => path !== '');
  const found = contourLabels({
    lines: drawn.map(({ lines }) =>
      lines.flatMap(({ points }) =>
        Array.from({ length: Math.floor(points.length / (2 * EVERY)) }, (_, k) => 2 * EVERY * k).flatMap(
          (i) =>
            Number.isNaN(points[i]! + points[i + 1]!)
              ? []
              : [x0 + perU * points[i]!, y0 + perV * points[i + 1]!],
        ),
      ),
    ),
    obstacles: [],
    clear: 14,
    apart: 34,
    width,
    height,
  });
  return drawn.map(({ level, path }, i) => ({
    path,
    less: level < 0,
    text: `${level < 0 ? '−' : '+'}${Number((1e3 * Math.abs(level)).toPrecision(3))}`,
    label: found[i] ?? null,
  }));
}

const signed = (value: number, digits: number, unit: string): string => {
  const text = Math.abs(value).toFixed(digits);
  return Number(text) === 0 ? '' : `${value < 0 ? '−' : '+'}${text} ${unit}`;
};

/** Figures between the two; a dash where there is none. */
export function besideRows(a: AlongLine | null, b: AlongLine | null): readonly DifferenceRow[] {
  const row = (
    name: string,
    of: (line: AlongLine) => number,
    digits: number,
    unit: string,
  ): DifferenceRow => {
    const [from, to] = [a && of(a), b && of(b)];
    const say = (value: number | null): string =>
      value === null || Number.isNaN(value) ? NOTHING : `${value.toFixed(digits).replace('-', '−')} ${unit}`;
    const change = from !== null && to !== null ? to - from : NaN;
    return {
      name,
      from: say(from),
      to: say(to),
      change: Number.isNaN(change) ? '' : signed(change, digits, unit),
    };
  };
  return [
    row('field at the string', ({ peak }) => 1e3 * peak, 1, 'mT'),
    row('field, wide at the string', ({ width }) => 1e3 * width, 1, 'mm'),
    row('field, falls upwards by', ({ fall }) => fall, 1, 'mT/mm'),
  ];
}
