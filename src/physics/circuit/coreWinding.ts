/** A coil round solid poles: inductance, loss and sensitivity as eddy currents make them. */
import { coreInductanceAt, stillInductance } from '../magnetics/eddy.ts';
import { eddyLadder } from '../magnetics/eddyLadder.ts';
import type { ComplexSlot } from '../numerics/bessel.ts';
import type { CoilCore } from '../resolved.ts';
import type { Winding, WindingLadder } from './network.ts';

/**
 * Z(s) = R + s·scale·(L_air + N² L_core(s)), and the EMF times (1 − share) + share·L_core(s)/L_core(0): the part of
 * the flux that comes through the poles falls as their inductance does. L_core is analytic in s.
 *
 * @param resistance Ω
 */
export function coreWinding(resistance: number, core: CoilCore): Winding {
  const { air, fit, metal, turns, scale, share } = core;
  const still = stillInductance(fit, metal);
  const turns2 = turns * turns;
  // Impedance and EMF are asked for at the same s, one after the other.
  const now = { re: 0, im: 0 };
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
      const re = scale * (air + turns2 * now.re);
      const im = scale * turns2 * now.im;
      out.re[at] = resistance + sRe * re - sIm * im;
      out.im[at] = sRe * im + sIm * re;
    },
    emf(sRe, sIm, out, at) {
      find(sRe, sIm);
      out.re[at] = 1 - share + (share * now.re) / still;
      out.im[at] = (share * now.im) / still;
    },
    ladder: () => ladderOf(resistance, core),
  };
}

function ladderOf(resistance: number, { air, fit, metal, turns, scale, share }: CoilCore): WindingLadder {
  const { direct, sections } = eddyLadder(fit, metal);
  const still = stillInductance(fit, metal);
  const each = scale * turns * turns;
  return {
    resistance,
    direct: scale * air + each * direct,
    sections: sections.map(({ inductance, rate }) => ({
      inductance: each * inductance,
      resistance: each * inductance * rate,
    })),
    emf: {
      direct: 1 - share + (share * direct) / still,
      lows: sections.map(({ inductance, rate }) => ({ share: (share * inductance) / still, rate })),
    },
  };
}

/** scale·jω(L_air + N² L_core) at ω (rad/s), Ω: the coil without its wire's resistance. */
export function coilImpedance({ air, fit, metal, turns, scale }: CoilCore, omega: number): ComplexSlot {
  const found: ComplexSlot = { re: 0, im: 0 };
  coreInductanceAt(fit, metal, 0, omega, found);
  const turns2 = turns * turns;
  return { re: -omega * scale * turns2 * found.im, im: omega * scale * (air + turns2 * found.re) };
}
