/** Closed outlines in a plane, as polygons: u and v of every corner in turn, in any unit of length. */

/** Whether (u, v) lies inside an outline, by the even-odd rule. Points on its edges may count as either. */
export function insideOutline(outline: Float64Array, u: number, v: number): boolean {
  let odd = false;
  for (let k = 0, l = outline.length - 2; k < outline.length; l = k, k += 2) {
    const va = outline[k + 1]!;
    const vb = outline[l + 1]!;
    if (va > v === vb > v) continue;
    const ua = outline[k]!;
    if (u < ua + ((v - va) / (vb - va)) * (outline[l]! - ua)) odd = !odd;
  }
  return odd;
}
