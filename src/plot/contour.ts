/** Contour lines of values on a rectangular lattice, by marching squares. */

export interface ScalarGrid {
  /** First node and distance of neighbours along both axes. */
  readonly x0: number;
  readonly y0: number;
  readonly dx: number;
  readonly dy: number;
  readonly nx: number;
  readonly ny: number;
  /** Row by row, `nx` a row. */
  readonly values: ArrayLike<number>;
}

/** x and y of its points in turn; a closed one ends where it begins. */
export interface Contour {
  readonly points: Float64Array;
  readonly closed: boolean;
}

/**
 * All lines on which the values equal `level`. A closed line goes round higher values with its left hand, seen with y up.
 * A cell with two high corners opposite each other is joined through its middle when the mean is high.
 *
 * Source: marching squares, with the linear interpolation along edges [Lorensen1987] in the plane.
 */
export function contours(grid: ScalarGrid, level: number): readonly Contour[] {
  const { nx, ny, values } = grid;
  // Each crossing of an edge belongs to one edge: 2k to the right of node k, 2k + 1 above it.
  const next = new Map<number, number>();
  const previous = new Map<number, number>();
  const join = (from: number, to: number): void => {
    next.set(from, to);
    previous.set(to, from);
  };
  for (let j = 0; j + 1 < ny; j++) {
    for (let i = 0; i + 1 < nx; i++) {
      const k = j * nx + i;
      const a = values[k]!;
      const b = values[k + 1]!;
      const c = values[k + nx + 1]!;
      const d = values[k + nx]!;
      const kind = (a >= level ? 1 : 0) | (b >= level ? 2 : 0) | (c >= level ? 4 : 0) | (d >= level ? 8 : 0);
      const bottom = 2 * k;
      const top = 2 * (k + nx);
      const left = 2 * k + 1;
      const right = 2 * (k + 1) + 1;
      // High values lie to the left of the way.
      switch (kind) {
        case 1:
          join(bottom, left);
          break;
        case 2:
          join(right, bottom);
          break;
        case 3:
          join(right, left);
          break;
        case 4:
          join(top, right);
          break;
        case 5:
          if (a + b + c + d >= 4 * level) {
            join(bottom, right);
            join(top, left);
          } else {
            join(bottom, left);
            join(top, right);
          }
          break;
        case 6:
          join(top, bottom);
          break;
        case 7:
          join(top, left);
          break;
        case 8:
          join(left, top);
          break;
        case 9:
          join(bottom, top);
          break;
        case 10:
          if (a + b + c + d >= 4 * level) {
            join(left, bottom);
            join(right, top);
          } else {
            join(left, top);
            join(right, bottom);
          }
          break;
        case 11:
          join(right, top);
          break;
        case 12:
          join(left, right);
          break;
        case 13:
          join(bottom, right);
          break;
        case 14:
          join(left, bottom);
          break;
      }
    }
  }
  return chains(grid, level, next, previous);
}

function chains(
  grid: ScalarGrid,
  level: number,
  next: Map<number, number>,
  previous: Map<number, number>,
): readonly Contour[] {
  const found: Contour[] = [];
  const follow = (start: number, closed: boolean): void => {
    const edges = [start];
    let at = next.get(start);
    next.delete(start);
    while (at !== undefined) {
      edges.push(at);
      const on = next.get(at);
      next.delete(at);
      at = on;
    }
    const points = new Float64Array(2 * edges.length);
    edges.forEach((edge, i) => crossing(grid, level, edge, points, 2 * i));
    found.push({ points, closed });
  };
  // Open lines first, from where nothing leads to; what is left goes round.
  for (const start of [...next.keys()]) if (!previous.has(start)) follow(start, false);
  for (const start of [...next.keys()]) if (next.has(start)) follow(start, true);
  return found;
}

function crossing(grid: ScalarGrid, level: number, edge: number, out: Float64Array, at: number): void {
  const { x0, y0, dx, dy, nx, values } = grid;
  const k = edge >> 1;
  const up = edge % 2 === 1;
  const a = values[k]!;
  const b = values[up ? k + nx : k + 1]!;
  const t = (level - a) / (b - a);
  out[at] = x0 + dx * ((k % nx) + (up ? 0 : t));
  out[at + 1] = y0 + dy * (Math.floor(k / nx) + (up ? t : 0));
}

/**
 * The same values on a lattice `times` as fine, by Lagrange's cubic in both directions, so that contour lines come out
 * smooth. At the edges the cubic of the four outermost nodes goes on. Needs four nodes each way.
 */
export function refined(grid: ScalarGrid, times: number): ScalarGrid {
  const { x0, y0, dx, dy, nx, ny, values } = grid;
  const across = new Float64Array(((nx - 1) * times + 1) * ny);
  const wide = (nx - 1) * times + 1;
  const high = (ny - 1) * times + 1;
  for (let j = 0; j < ny; j++) {
    for (let i = 0; i < wide; i++) across[j * wide + i] = cubic(values, j * nx, 1, nx, i / times);
  }
  const out = new Float64Array(wide * high);
  for (let j = 0; j < high; j++) {
    for (let i = 0; i < wide; i++) out[j * wide + i] = cubic(across, i, wide, ny, j / times);
  }
  return { x0, y0, dx: dx / times, dy: dy / times, nx: wide, ny: high, values: out };
}

/** Value at `at` (in nodes) of the line that starts at `first` with nodes `stride` apart. */
function cubic(values: ArrayLike<number>, first: number, stride: number, count: number, at: number): number {
  const k = Math.min(count - 3, Math.max(1, Math.floor(at)));
  const t = at - k;
  const from = first + (k - 1) * stride;
  return (
    (-t * (t - 1) * (t - 2) * values[from]!) / 6 +
    ((t + 1) * (t - 1) * (t - 2) * values[from + stride]!) / 2 -
    ((t + 1) * t * (t - 2) * values[from + 2 * stride]!) / 2 +
    ((t + 1) * t * (t - 1) * values[from + 3 * stride]!) / 6
  );
}
