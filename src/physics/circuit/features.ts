/** What a maker reads off a curve; frequencies in Hz, heights in dB. */
export interface CurveFeatures {
  /** Level at 20 Hz, dB, reference as `circuitDb`. */
  readonly lowDb: number;
  /** null when the circuit has no peak. `heightDb` is above `lowDb`. */
  readonly resonance: { readonly frequency: number; readonly heightDb: number; readonly q: number } | null;
  /** Where the circuit has finally fallen 3 dB below `lowDb`, Hz; null beyond 20 kHz. */
  readonly cutoff: number | null;
}

/** Where the level that everything is measured from is read, Hz. */
const LOW = 20;
/** Highest frequency that a cutoff is looked for, Hz. */
const HIGH = 20000;
/** dB below the low level. */
const CUTOFF_DROP = 3;
/** A hump lower than this, dB, is below what anyone could measure or hear: no resonance is claimed. */
const LEAST_HEIGHT = 0.01;
/**
 * Both searches stop at this step in ln f. A maximum is flat: two levels 1e-7 apart in ln f differ by 1e-13 of
 * themselves, close to a double's resolution, so that going on would only compare rounding errors.
 */
const STEP = 1e-7;

/**
 * Resonance and cutoff of a circuit's curve, found on the samples and refined with the circuit itself.
 *
 * The resonance is the highest maximum inside the sampled range, if it stands above the level at 20 Hz. Its Q is that
 * of the second-order low-pass with the same peak height: h = Q/√(1 − 1/(4Q²)) as a ratio of amplitudes, hence
 * Q² = (h² + √(h⁴ − h²))/2 [Ogata2010]. With other parts about the coil (a tone capacitor, a treble bleed) that is
 * a figure of merit rather than a property of one pair of poles. The cutoff is the highest frequency up to 20 kHz at
 * which the level finally falls to 3 dB below that at 20 Hz.
 *
 * @param levelDbAt level in dB at any frequency in Hz from 20 Hz to 20 kHz.
 * @param frequencies Hz, rising, dense enough that no peak hides between two of them.
 * @param levelsDb `levelDbAt` at these frequencies, dB.
 * @returns dB and Hz; nothing but the low level when that is −Infinity (coils that cancel).
 */
export function curveFeatures(
  levelDbAt: (f: number) => number,
  frequencies: Float64Array,
  levelsDb: Float64Array,
): CurveFeatures {
  const lowDb = levelDbAt(LOW);
  if (!Number.isFinite(lowDb)) return { lowDb, resonance: null, cutoff: null };
  return {
    lowDb,
    resonance: findResonance(levelDbAt, frequencies, levelsDb, lowDb),
    cutoff: findCutoff(levelDbAt, frequencies, levelsDb, lowDb - CUTOFF_DROP),
  };
}

/**
 * Q, a ratio, of the second-order low-pass whose peak stands `heightDb` (dB, above 0) above its level at zero frequency.
 * Source: [Ogata2010], see curveFeatures.
 */
export function qOfHeight(heightDb: number): number {
  const h2 = 10 ** (heightDb / 10);
  return Math.sqrt((h2 + Math.sqrt(h2 * (h2 - 1))) / 2);
}

function findResonance(
  levelDbAt: (f: number) => number,
  frequencies: Float64Array,
  levelsDb: Float64Array,
  lowDb: number,
): CurveFeatures['resonance'] {
  let top = -1;
  for (let i = 1; i + 1 < levelsDb.length; i++) {
    const level = levelsDb[i]!;
    const isMaximum = level >= levelsDb[i - 1]! && level >= levelsDb[i + 1]!;
    if (isMaximum && (top < 0 || level > levelsDb[top]!)) top = i;
  }
  if (top < 0) return null;
  const frequency = maximise(levelDbAt, frequencies[top - 1]!, frequencies[top + 1]!);
  const heightDb = levelDbAt(frequency) - lowDb;
  return heightDb >= LEAST_HEIGHT ? { frequency, heightDb, q: qOfHeight(heightDb) } : null;
}

/** Golden section search in ln f for the maximum between two frequencies. */
function maximise(levelDbAt: (f: number) => number, from: number, to: number): number {
  const golden = (Math.sqrt(5) - 1) / 2;
  let a = Math.log(from);
  let b = Math.log(to);
  let left = b - golden * (b - a);
  let right = a + golden * (b - a);
  let atLeft = levelDbAt(Math.exp(left));
  let atRight = levelDbAt(Math.exp(right));
  while (b - a > STEP) {
    if (atLeft > atRight) {
      b = right;
      right = left;
      atRight = atLeft;
      left = b - golden * (b - a);
      atLeft = levelDbAt(Math.exp(left));
    } else {
      a = left;
      left = right;
      atLeft = atRight;
      right = a + golden * (b - a);
      atRight = levelDbAt(Math.exp(right));
    }
  }
  return Math.exp((a + b) / 2);
}

function findCutoff(
  levelDbAt: (f: number) => number,
  frequencies: Float64Array,
  levelsDb: Float64Array,
  limitDb: number,
): number | null {
  if (levelDbAt(HIGH) > limitDb) return null;
  let i = frequencies.length - 1;
  while (i >= 0 && (frequencies[i]! >= HIGH || levelsDb[i]! <= limitDb)) i--;
  // Level above the limit at `a`, at or below it at `b`: bisect.
  let a = Math.log(i >= 0 ? frequencies[i]! : LOW);
  let b = Math.log(Math.min(HIGH, frequencies[i + 1] ?? HIGH));
  while (b - a > STEP) {
    const middle = (a + b) / 2;
    if (levelDbAt(Math.exp(middle)) > limitDb) a = middle;
    else b = middle;
  }
  return Math.exp((a + b) / 2);
}
