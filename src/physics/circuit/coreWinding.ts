/** A coil round solid poles: inductance, loss and sensitivity as eddy currents make them. */
import { coreInductanceAt, stillInductance, type CoreFit, type PoleMetal } from '../magnetics/coil/eddy.ts';
import { eddyLadder } from '../magnetics/coil/eddyLadder.ts';
import type { ComplexSlot } from '../numerics/bessel.ts';
import type { Winding, WindingLadder } from './network.ts';
import type { PlateLoops } from './plateLoops.ts';
import { coveredInductance, coveredSensitivity, inductanceChain, sensitivityChain } from './plateLoops.ts';

/** What makes a coil's inductance and its sensitivity fall with frequency. */
export interface CoilCore {
  /** Without the poles, H. */
  readonly air: number;
  /** The poles' share for each turn². */
  readonly fit: CoreFit;
  readonly metal: PoleMetal;
  readonly turns: number;
  /** Inductance in the circuit over that of the build: a typed one, or the other coil's share, stretches the whole. */
  readonly scale: number;
  /** Share of the sensitivity that the cores bring at low frequency. */
  readonly share: number;
  /** Eddy currents in a cover and a base plate; absent where there is none. */
  readonly plates?: PlateLoops;
}

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
    ladder: () => ladderOf(resistance, core),
  };
}

function ladderOf(resistance: number, core: CoilCore): WindingLadder {
  const { air, fit, metal, turns, scale, share, plates } = core;
  const chain = eddyLadder(fit, metal);
  const still = stillInductance(fit, metal);
  const each = scale * turns * turns;
  const { direct, lows } = plates
    ? inductanceChain(plates, still, chain)
    : {
        direct: chain.direct,
        lows: chain.sections.map(({ inductance, rate }) => ({ share: inductance, rate })),
      };
  return {
    resistance,
    direct: scale * air + each * direct,
    sections: lows.map((low) => ({ inductance: each * low.share, resistance: each * low.share * low.rate })),
    emf: plates
      ? sensitivityChain(plates, still, share, chain)
      : {
          direct: 1 - share + (share * direct) / still,
          lows: lows.map((low) => ({ share: (share * low.share) / still, rate: low.rate })),
        },
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
