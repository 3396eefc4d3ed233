/** What a blind test says: how likely a listener who hears no difference is to get as many right by guessing. */

/**
 * P(X ≥ k) for n fair coins, exact but for rounding (1e-13): sums of C(n, j)/2ⁿ, the smaller tail.
 * @param k number of right answers, 0 to n @param n rounds, 0 to 1000
 * @throws RangeError
 */
export function guessingProbability(k: number, n: number): number {
  if (!Number.isInteger(n) || n < 0 || n > 1000) {
    throw new RangeError(`Rounds must be a whole number from 0 to 1000; got ${n}.`);
  }
  if (!Number.isInteger(k) || k < 0 || k > n) {
    throw new RangeError(`Right answers must be a whole number from 0 to ${n}, the rounds; got ${k}.`);
  }
  if (k === 0) return 1;
  // By symmetry P(X ≥ k) = P(X ≤ n − k); one of P(X ≥ k) and P(X ≥ n − k + 1) has fewer and smaller terms.
  return 2 * k > n ? upperTail(k, n) : 1 - upperTail(n - k + 1, n);
}

/** Σ from j = k to n of C(n, j)/2ⁿ, k beyond the middle, from the smallest term up. */
function upperTail(k: number, n: number): number {
  // C(n, n)/2ⁿ; 2⁻¹⁰⁰⁰ is still a normal number.
  let term = 2 ** -n;
  let sum = 0;
  for (let j = n; j >= k; j--) {
    sum += term;
    term *= j / (n - j + 1);
  }
  return sum;
}

/** Rounds from which on a result says something. */
export const FEWEST_ROUNDS = 10;
/** The usual bounds of tests of discrimination: common practice. */
const VERY_LIKELY = 0.05;
const PERHAPS = 0.1;

/** One plain sentence about the number of right answers, k, in n rounds. @throws RangeError as `guessingProbability` does */
export function verdict(k: number, n: number): string {
  const p = guessingProbability(k, n);
  const score = `${k} of ${n}`;
  if (n < FEWEST_ROUNDS) return `${score}: too few rounds to tell; go on to ${FEWEST_ROUNDS} or more.`;
  const odds = `guessing does as well in ${asShare(p)}`;
  if (p <= VERY_LIKELY) return `${score}: you very likely hear it; ${odds}.`;
  if (p <= PERHAPS) return `${score}: you may hear it, more rounds would tell; ${odds}.`;
  return `${score}: this doesn’t show that you hear it; ${odds}.`;
}

/** 0.0384 → '38 of 1000 tests', 0.227 → '23 of 100 tests', 2e-5 → '1 of 50,000 tests'. */
function asShare(p: number): string {
  if (p >= 0.1) return `${Math.round(100 * p)} of 100 tests`;
  if (p >= 0.002) return `${Math.round(1000 * p)} of 1000 tests`;
  const once = Number((1 / p).toPrecision(2));
  return `1 of ${once >= 1e6 ? 'more than a million' : once.toLocaleString('en-GB')} tests`;
}
