/**
 * Iterative solution of a real system by GMRES, as a run that asks for one product after another: several systems with
 * one matrix can then share every pass over it.
 *
 * Source: [Saad1986], with modified Gram–Schmidt and Givens rotations; no restart.
 */
export class GmresRun {
  private readonly goal: number;
  private residual: number;
  private readonly basis: Float64Array[] = [];
  private readonly columns: Float64Array[] = [];
  private readonly cos: number[] = [];
  private readonly sin: number[] = [];
  private readonly g: number[];
  private exhausted = false;

  /**
   * @param b right-hand side
   * @param start of the solution, with A times it; null for a start from zero
   * @param tolerance of the residual relative to |b|; @param most steps before it gives up
   */
  constructor(
    b: Float64Array,
    private readonly start: { readonly x: Float64Array; readonly Ax: Float64Array } | null,
    tolerance: number,
    private readonly most: number,
  ) {
    const size = norm(b);
    this.goal = tolerance * size;
    const first = start ? b.map((value, i) => value - start.Ax[i]!) : b.slice();
    this.residual = norm(first);
    this.g = [this.residual];
    if (this.residual > 0) {
      const scale = 1 / this.residual;
      for (let i = 0; i < first.length; i++) first[i] = first[i]! * scale;
    }
    this.basis.push(first);
  }

  /** The vector v for which A v is needed next; null when the run is over. */
  next(): Float64Array | null {
    const over = this.exhausted || this.residual <= this.goal || this.columns.length >= this.most;
    return over ? null : this.basis[this.columns.length]!;
  }

  /** Takes A v; keeps and changes the array. */
  take(w: Float64Array): void {
    const k = this.columns.length;
    const n = w.length;
    const { basis, cos, sin, g } = this;
    const column = new Float64Array(k + 2);
    for (let j = 0; j <= k; j++) {
      const v = basis[j]!;
      let dot = 0;
      for (let i = 0; i < n; i++) dot += w[i]! * v[i]!;
      column[j] = dot;
      for (let i = 0; i < n; i++) w[i] = w[i]! - dot * v[i]!;
    }
    const rest = norm(w);
    for (let j = 0; j < k; j++) {
      const above = column[j]!;
      column[j] = cos[j]! * above + sin[j]! * column[j + 1]!;
      column[j + 1] = cos[j]! * column[j + 1]! - sin[j]! * above;
    }
    const length = Math.hypot(column[k]!, rest);
    cos.push(column[k]! / length);
    sin.push(rest / length);
    column[k] = length;
    this.columns.push(column);
    g.push(-sin[k]! * g[k]!);
    g[k] = cos[k]! * g[k]!;
    this.residual = Math.abs(g[k + 1]!);
    if (rest === 0) this.exhausted = true;
    else {
      const scale = 1 / rest;
      for (let i = 0; i < n; i++) w[i] = w[i]! * scale;
      basis.push(w);
    }
  }

  /** The solution so far, and whether it reached `tolerance` times `slack`. */
  finish(slack: number): { readonly x: Float64Array; readonly settled: boolean } {
    const y = this.g.slice(0, this.columns.length);
    for (let j = y.length - 1; j >= 0; j--) {
      let sum = y[j]!;
      for (let k = j + 1; k < y.length; k++) sum -= this.columns[k]![j]! * y[k]!;
      y[j] = sum / this.columns[j]![j]!;
    }
    const x = this.start ? this.start.x.slice() : new Float64Array(this.basis[0]!.length);
    y.forEach((share, j) => {
      const v = this.basis[j]!;
      for (let i = 0; i < x.length; i++) x[i] = x[i]! + share * v[i]!;
    });
    return { x, settled: this.residual <= slack * this.goal };
  }
}

function norm(v: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < v.length; i++) sum += v[i]! * v[i]!;
  return Math.sqrt(sum);
}
