/**
 * A coil under a cover: its air inductance, the magnetisation of its cores, and loops of eddy current in the plates, each
 * coupled with the others.
 *
 * The cores enter as one mode of magnetisation that follows the frequency as g(s) = L_core(s)/L_core(0), as in fitCore;
 * what it does to the loops' own inductance then follows from what it does to the coil: c c' with c = m_core/√L_core.
 * All is per turn². With y the loops' currents, w what drives the cores, and D = 1 + sτ:
 *
 *     w = √L_core I + Σ c y,     D y = −s (m_air I + c g w),     flux = L_air I + Σ m_air y + √L_core g w
 */
import { symmetricEigen } from '../numerics/symmetric.ts';
import type { ComplexSlot } from '../numerics/bessel.ts';
import type { EddyLadder } from '../magnetics/coil/eddyLadder.ts';

/** Loops of 1 Ω as one coil meets them. */
export interface PlateLoops {
  /** s. */
  readonly tau: Float64Array;
  /** H per turn and ampere: as the coil's current drives them, together with what else carries it. */
  readonly air: Float64Array;
  readonly core: Float64Array;
  /** The same for what this coil hears of them alone. */
  readonly ownAir: Float64Array;
  readonly ownCore: Float64Array;
  /** What a moving string sends through each loop for what it sends through a turn of the coil, mean over the strings. */
  readonly moved: Float64Array;
}

/** Sums over the loops of a b/(1 + sτ). */
function through(
  tau: Float64Array,
  a: Float64Array,
  b: Float64Array,
  sRe: number,
  sIm: number,
): readonly [number, number] {
  let re = 0;
  let im = 0;
  for (let k = 0; k < tau.length; k++) {
    const dRe = 1 + sRe * tau[k]!;
    const dIm = sIm * tau[k]!;
    const scale = (a[k]! * b[k]!) / (dRe * dRe + dIm * dIm);
    re += scale * dRe;
    im -= scale * dIm;
  }
  return [re, im];
}

/**
 * The coil's inductance without its part in air, H per turn².
 *
 * @param still L_core at low frequency, H per turn²
 * @param gRe gIm L_core(s) over that
 */
export function coveredInductance(
  loops: PlateLoops,
  still: number,
  gRe: number,
  gIm: number,
  sRe: number,
  sIm: number,
  out: ComplexSlot,
): void {
  const { tau, air, core } = loops;
  respond(tau, [air, core, air], still, gRe, gIm, sRe, sIm, still, out);
}

/** The EMF of a moving string over that at low frequency. @param share of the sensitivity that the cores bring */
export function coveredSensitivity(
  loops: PlateLoops,
  still: number,
  share: number,
  gRe: number,
  gIm: number,
  sRe: number,
  sIm: number,
  out: ComplexSlot,
): void {
  const { tau, ownAir, ownCore, moved } = loops;
  respond(tau, [ownAir, ownCore, moved], still, gRe, gIm, sRe, sIm, share, out);
  out.re += 1 - share;
}

/**
 * −s P + g (L − s Q)(e − s T)/(L + s g S): what loops and cores add to the coil's flux for a unit of drive, of which the
 * cores get e by themselves.
 */
function respond(
  tau: Float64Array,
  [air, core, drive]: readonly [Float64Array, Float64Array, Float64Array],
  still: number,
  gRe: number,
  gIm: number,
  sRe: number,
  sIm: number,
  e: number,
  out: ComplexSlot,
): void {
  const [pRe, pIm] = through(tau, air, drive, sRe, sIm);
  const [qRe, qIm] = through(tau, air, core, sRe, sIm);
  const [tRe, tIm] = through(tau, core, drive, sRe, sIm);
  const [cRe, cIm] = through(tau, core, core, sRe, sIm);
  const leftRe = still - (sRe * qRe - sIm * qIm);
  const leftIm = -(sRe * qIm + sIm * qRe);
  const rightRe = e - (sRe * tRe - sIm * tIm);
  const rightIm = -(sRe * tIm + sIm * tRe);
  const sgRe = sRe * gRe - sIm * gIm;
  const sgIm = sRe * gIm + sIm * gRe;
  const bottomRe = still + sgRe * cRe - sgIm * cIm;
  const bottomIm = sgRe * cIm + sgIm * cRe;
  const topRe = leftRe * rightRe - leftIm * rightIm;
  const topIm = leftRe * rightIm + leftIm * rightRe;
  const upRe = topRe * gRe - topIm * gIm;
  const upIm = topRe * gIm + topIm * gRe;
  const size = bottomRe * bottomRe + bottomIm * bottomIm;
  out.re = (upRe * bottomRe + upIm * bottomIm) / size - (sRe * pRe - sIm * pIm);
  out.im = (upIm * bottomRe - upRe * bottomIm) / size - (sRe * pIm + sIm * pRe);
}

/** A share of the whole that is left to the direct part. */
const NOTHING = 1e-9;

/** A sum of direct + Σ share/(1 + s/rate). */
export interface LowPasses {
  readonly direct: number;
  readonly lows: readonly { readonly share: number; readonly rate: number }[];
}

/** coveredInductance as such a sum, the cores taken as their chain; see eddyLadder. All shares are above 0. */
export function inductanceChain({ tau, air, core }: PlateLoops, still: number, chain: EddyLadder): LowPasses {
  const whole = air.map((value, k) => value + core[k]!);
  return lowPasses(tau, core, still, chain, [1, whole], [1, whole], still);
}

/**
 * coveredSensitivity as such a sum, a ratio.
 * @param still H per turn²; @param share of the sensitivity that the cores bring
 */
export function sensitivityChain(
  { tau, ownAir, ownCore, moved }: PlateLoops,
  still: number,
  share: number,
  chain: EddyLadder,
): LowPasses {
  const heard = ownAir.map((value, k) => value + ownCore[k]!);
  const e = share / still;
  const driven = moved.map((value, k) => value + e * ownCore[k]!);
  return lowPasses(tau, ownCore, still, chain, [1, heard], [e, driven], 1);
}

/**
 * Loops of plates and cores together, all of 1 Ω, by themselves uncoupled from one another: each leaves one pole.
 *
 * @param heard driven what a coil hears of the plates' loops and what drives them; before each, the same for the cores
 *   over √L_core
 * @param all the sum at s = 0
 */
function lowPasses(
  tau: Float64Array,
  core: Float64Array,
  still: number,
  { sections }: EddyLadder,
  heard: readonly [number, Float64Array],
  driven: readonly [number, Float64Array],
  all: number,
): LowPasses {
  const cores = sections.length;
  const n = cores + tau.length;
  // √(L_core) k of every section of the cores, k its coupling to what magnetises them.
  const k = sections.map(({ inductance, rate }) => Math.sqrt(inductance / rate));
  const L = new Float64Array(n * n);
  sections.forEach(({ rate }, i) => (L[i * n + i] = 1 / rate));
  tau.forEach((value, i) => {
    const row = (cores + i) * n;
    tau.forEach((_, j) => (L[row + cores + j] = (core[i]! * core[j]!) / still));
    L[row + cores + i] = L[row + cores + i]! + value;
    for (let j = 0; j < cores; j++) {
      L[row + j] = L[j * n + cores + i] = (k[j]! * core[i]!) / still;
    }
  });
  const turned = symmetricEigen(L, n);
  const seen = ([own, plates]: readonly [number, Float64Array], i: number): number => {
    let sum = 0;
    for (let j = 0; j < cores; j++) sum += own * k[j]! * turned[j * n + i]!;
    for (let j = 0; j < tau.length; j++) sum += plates[j]! * turned[(cores + j) * n + i]!;
    return sum;
  };
  const lows: { share: number; rate: number }[] = [];
  let direct = all;
  for (let i = 0; i < n; i++) {
    const time = L[i * n + i]!;
    if (!(time > 0)) continue;
    const share = (seen(heard, i) * seen(driven, i)) / time;
    if (!(Math.abs(share) > NOTHING * all)) continue;
    direct -= share;
    lows.push({ share, rate: 1 / time });
  }
  return { direct, lows };
}
