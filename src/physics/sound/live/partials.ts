/**
 * The modal bank of one block: decaying partials from two samples each, continued by y(t+1) = 2e^(−α)cos ω y(t) − e^(−2α) y(t−1).
 * Unlike sound/bank.ts it is started from the modes' running state instead of the closed form, and what can't be heard
 * is left out anew in each block, because the gains may change at any time.
 */
export class PartialBank {
  count = 0;
  private y0 = new Float64Array(0);
  private y1 = new Float64Array(0);
  private turn = new Float64Array(0);
  private fall = new Float64Array(0);

  /** Room for `capacity` partials; nothing is allocated after. */
  reserve(capacity: number): void {
    if (capacity <= this.y0.length) return;
    this.y0 = new Float64Array(capacity);
    this.y1 = new Float64Array(capacity);
    this.turn = new Float64Array(capacity);
    this.fall = new Float64Array(capacity);
  }

  /** @param turn 2e^(−α)cos ω @param fall e^(−2α), per sample */
  add(y0: number, y1: number, turn: number, fall: number): void {
    const i = this.count++;
    this.y0[i] = y0;
    this.y1[i] = y1;
    this.turn[i] = turn;
    this.fall[i] = fall;
  }

  /** out[0 … length − 1] = Σ partials; `length` even. */
  run(out: Float64Array, length: number): void {
    out.fill(0, 0, length);
    const { count, y0, y1, turn, fall } = this;
    // Up to a multiple of four with partials that are silent.
    while (this.count % 4 !== 0 && this.count < y0.length) this.add(0, 0, 0, 0);
    const whole = this.count - (this.count % 4);
    let i = 0;
    for (; i < whole; i += 4) {
      let a0 = y0[i]!;
      let a1 = y1[i]!;
      let b0 = y0[i + 1]!;
      let b1 = y1[i + 1]!;
      let c0 = y0[i + 2]!;
      let c1 = y1[i + 2]!;
      let d0 = y0[i + 3]!;
      let d1 = y1[i + 3]!;
      const ka = turn[i]!;
      const kb = turn[i + 1]!;
      const kc = turn[i + 2]!;
      const kd = turn[i + 3]!;
      const qa = fall[i]!;
      const qb = fall[i + 1]!;
      const qc = fall[i + 2]!;
      const qd = fall[i + 3]!;
      for (let j = 0; j < length; j += 2) {
        out[j]! += a0 + b0 + (c0 + d0);
        out[j + 1]! += a1 + b1 + (c1 + d1);
        a0 = ka * a1 - qa * a0;
        b0 = kb * b1 - qb * b0;
        c0 = kc * c1 - qc * c0;
        d0 = kd * d1 - qd * d0;
        a1 = ka * a0 - qa * a1;
        b1 = kb * b0 - qb * b1;
        c1 = kc * c0 - qc * c1;
        d1 = kd * d0 - qd * d1;
      }
    }
    for (; i < count; i++) {
      let a0 = y0[i]!;
      let a1 = y1[i]!;
      const ka = turn[i]!;
      const qa = fall[i]!;
      for (let j = 0; j < length; j += 2) {
        out[j]! += a0;
        out[j + 1]! += a1;
        a0 = ka * a1 - qa * a0;
        a1 = ka * a0 - qa * a1;
      }
    }
    this.count = 0;
  }
}
