/** A coil round solid poles: inductance, loss and sensitivity as eddy currents make them. */
import { coreInductanceAt, stillInductance } from '../magnetics/coil/eddy.ts';
import type { ComplexSlot } from '../numerics/bessel.ts';
import type { CoilCore } from './coilCore.ts';
import type { Winding } from './network.ts';
import { coveredInductance, coveredSensitivity } from './plateLoops.ts';

/**
 * Z(s) = R + s·scale·(L_air + N² L_core(s)), and the EMF times (1 − share) + share·L_core(s)/L_core(0): the part of
 * the flux that comes through the poles falls as their inductance does. L_core is analytic in s. A cover and a base plate
 * change both as plateLoops has it.
 *
 * @param resistance Ω
 */
export function coreWinding(resistance: number, core: CoilCore): Winding {
  const { air, fit, metal, turns, scale, share, plates } = core;
  const still = stillInductance(fit, metal);
  const turns2 = turns * turns;
  // Impedance and EMF are asked for at the same s, one after the other.
  const now = { re: 0, im: 0 };
  const covered = { re: 0, im: 0 };
  let lastRe = NaN;
  let lastIm = NaN;
  const find = (sRe: number, sIm: number): void => {
    if (sRe === lastRe && sIm === lastIm) return;
    coreInductanceAt(fit, metal, sRe, sIm, now);
    lastRe = sRe;
    lastIm = sIm;
  };
  return {
    kind: 'impedance',
    at(sRe, sIm, out, at) {
      find(sRe, sIm);
      let { re, im } = now;
      if (plates) {
        coveredInductance(plates, still, re / still, im / still, sRe, sIm, covered);
        ({ re, im } = covered);
      }
      const lRe = scale * (air + turns2 * re);
      const lIm = scale * turns2 * im;
      out.re[at] = resistance + sRe * lRe - sIm * lIm;
      out.im[at] = sRe * lIm + sIm * lRe;
    },
    emf(sRe, sIm, out, at) {
      find(sRe, sIm);
      if (plates) {
        coveredSensitivity(plates, still, share, now.re / still, now.im / still, sRe, sIm, covered);
        out.re[at] = covered.re;
        out.im[at] = covered.im;
        return;
      }
      out.re[at] = 1 - share + (share * now.re) / still;
      out.im[at] = (share * now.im) / still;
    },
    wound: { resistance, core },
  };
}

/** scale·jω(L_air + N² L_core) at ω (rad/s), Ω: the coil without its wire's resistance, a cover included. */
export function coilImpedance(
  { air, fit, metal, turns, scale, plates }: CoilCore,
  omega: number,
): ComplexSlot {
  const found: ComplexSlot = { re: 0, im: 0 };
  coreInductanceAt(fit, metal, 0, omega, found);
  if (plates) {
    const still = stillInductance(fit, metal);
    coveredInductance(plates, still, found.re / still, found.im / still, 0, omega, found);
  }
  const turns2 = turns * turns;
  return { re: -omega * scale * turns2 * found.im, im: omega * scale * (air + turns2 * found.re) };
}
