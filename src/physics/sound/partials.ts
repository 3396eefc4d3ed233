/**
 * Decaying partials from two samples each, continued by y(t+1) = 2e^(−α)cos ω y(t) − e^(−2α) y(t−1): the inner loop of
 * the rendered and of the live sound. The first `count` values of each array hold.
 */
export interface Partials {
  /** The partial at the block's first two samples. */
  readonly y0: Float64Array;
  readonly y1: Float64Array;
  /** 2e^(−α)cos ω and e^(−2α), per sample. */
  readonly turn: Float64Array;
  readonly fall: Float64Array;
}

/** Room for a number of partials. */
export function createPartials(capacity: number): Partials {
  return {
    y0: new Float64Array(capacity),
    y1: new Float64Array(capacity),
    turn: new Float64Array(capacity),
    fall: new Float64Array(capacity),
  };
}

/** Add the first `count` partials to the samples out[from … to−1]. Fastest with a multiple of four. */
export function addPartials(
  { y0, y1, turn, fall }: Partials,
  count: number,
  out: Float64Array,
  from: number,
  to: number,
): void {
  const paired = from + ((to - from) & ~1);
  let i = 0;
  for (; i + 3 < count; i += 4) {
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
    for (let j = from; j < paired; j += 2) {
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
    if (paired < to) out[paired]! += a0 + b0 + (c0 + d0);
  }
  for (; i < count; i++) {
    let a0 = y0[i]!;
    let a1 = y1[i]!;
    const ka = turn[i]!;
    const qa = fall[i]!;
    for (let j = from; j < paired; j += 2) {
      out[j]! += a0;
      out[j + 1]! += a1;
      a0 = ka * a1 - qa * a0;
      a1 = ka * a0 - qa * a1;
    }
    if (paired < to) out[paired]! += a0;
  }
}

/**
 * The same partials as three listeners hear them, each by its own share of every one: one recurrence for all takes half
 * the time of three. For pairs of partials, and an even number of samples from the block's start on.
 */
export function addPartialsToThree(
  { y0, y1, turn, fall }: Partials,
  count: number,
  [u, v, w]: readonly Float64Array[],
  [out, two, three]: readonly Float64Array[],
  length: number,
): void {
  for (let i = 0; i + 1 < count; i += 2) {
    let a0 = y0[i]!;
    let a1 = y1[i]!;
    let b0 = y0[i + 1]!;
    let b1 = y1[i + 1]!;
    const ka = turn[i]!;
    const kb = turn[i + 1]!;
    const qa = fall[i]!;
    const qb = fall[i + 1]!;
    const ua = u![i]!;
    const ub = u![i + 1]!;
    const va = v![i]!;
    const vb = v![i + 1]!;
    const wa = w![i]!;
    const wb = w![i + 1]!;
    for (let j = 0; j + 1 < length; j += 2) {
      out![j]! += ua * a0 + ub * b0;
      two![j]! += va * a0 + vb * b0;
      three![j]! += wa * a0 + wb * b0;
      out![j + 1]! += ua * a1 + ub * b1;
      two![j + 1]! += va * a1 + vb * b1;
      three![j + 1]! += wa * a1 + wb * b1;
      a0 = ka * a1 - qa * a0;
      b0 = kb * b1 - qb * b0;
      a1 = ka * a0 - qa * a1;
      b1 = kb * b0 - qb * b1;
    }
  }
}
