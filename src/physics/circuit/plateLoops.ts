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
import type { ComplexSlot } from '../numerics/bessel.ts';

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
