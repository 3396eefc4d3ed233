/**
 * A curve through points that rise or fall throughout, which does so too: cubic pieces with the slopes of Fritsch and
 * Butland, as handbooks of numerical mathematics give them.
 */

/**
 * @param xs rising; at least one, as many as `ys`
 * @returns the curve's y; beyond the ends that of the end
 */
export function monotoneCurve(xs: ArrayLike<number>, ys: ArrayLike<number>): (x: number) => number {
  const last = xs.length - 1;
  const slopes = slopesOf(xs, ys);
  return (x) => {
    if (last <= 0 || !(x > xs[0]!)) return ys[0]!;
    if (x >= xs[last]!) return ys[last]!;
    let i = 0;
    while (i < last - 1 && x >= xs[i + 1]!) i++;
    const h = xs[i + 1]! - xs[i]!;
    const t = (x - xs[i]!) / h;
    const [a, b] = [ys[i]!, ys[i + 1]!];
    // Hermite's cubic.
    return a + (b - a) * t * t * (3 - 2 * t) + h * t * (1 - t) * (slopes[i]! * (1 - t) - slopes[i + 1]! * t);
  };
}

function slopesOf(xs: ArrayLike<number>, ys: ArrayLike<number>): number[] {
  const h = (i: number): number => xs[i + 1]! - xs[i]!;
  const d = (i: number): number => (ys[i + 1]! - ys[i]!) / h(i);
  const last = xs.length - 1;
  return Array.from(xs, (_, i) => {
    if (last === 0) return 0;
    if (i === 0 || i === last) return last === 1 ? d(0) : endSlope(i === 0 ? [0, 1] : [last - 1, last - 2]);
    const [left, right] = [d(i - 1), d(i)];
    if (left * right <= 0) return 0;
    const [wl, wr] = [2 * h(i) + h(i - 1), h(i) + 2 * h(i - 1)];
    return (wl + wr) / (wl / left + wr / right);
  });

  /** By the parabola through three points, held where it would turn within the end piece. */
  function endSlope([near, far]: readonly [number, number]): number {
    const slope = ((2 * h(near) + h(far)) * d(near) - h(near) * d(far)) / (h(near) + h(far));
    if (slope * d(near) <= 0) return 0;
    return Math.abs(slope) > 3 * Math.abs(d(near)) ? 3 * d(near) : slope;
  }
}
