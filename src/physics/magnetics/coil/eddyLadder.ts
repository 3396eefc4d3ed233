/** A core with eddy currents as a chain of resistors and inductors, for programs that know nothing else. */
import { MU0 } from '../../numerics/constants.ts';
import { coreInductanceAt, stillInductance } from './eddy.ts';
import type { CoreFit, PoleMetal } from './eddy.ts';
import { besselJ01 } from '../../numerics/bessel.ts';
import { nonNegativeLeast } from '../../numerics/nonNegative.ts';

/** L_core(s) = direct + Σ inductance/(1 + s/rate); H per turn², 1/s. */
export interface EddyLadder {
  readonly direct: number;
  readonly sections: readonly { readonly inductance: number; readonly rate: number }[];
}

/** Poles up to a rate far above what is heard; the first few stand alone, then more and more are drawn together. */
const MOST_POLES = 250;
const ALONE = 7;
const GROWTH = 1.25;
const HIGHEST_RATE = 20 * 2 * Math.PI * 20e3;
/** Below, N is taken as this: a pole so long that it hardly demagnetises itself. */
const LEAST_N = 1e-6;

const j0 = { re: 0, im: 0 };
const j1 = { re: 0, im: 0 };

/**
 * Partial fractions of `coreInductanceAt`: a χ/(1 + Nχ) with χ = µF − 1 has its poles where (1 − N) x J₀ + 2Nµ J₁ = 0, at
 * s = −x²/(µ0µσr²), all real; with F = 2R/x, R = J₁/J₀ and R′ = 1 − R/x + R² the residues follow in closed form.
 *
 * A core whose permeability relaxes has infinitely many poles about two rates: its sections come from least squares (relaxedLadder).
 *
 * Of a blade they are where (1 − N) x cos x + Nµ sin x = 0, with F = tan x/x.
 *
 * Digits: 0.3 % of the core’s share up to 20 kHz.
 * Source: partial fractions of impedances of resistors and inductors [Cauer1926]; recurrences of J, DLMF
 * 10.6.2 [DLMF].
 */
export function eddyLadder(fit: CoreFit, metal: PoleMetal): EddyLadder {
  if (metal.relaxation !== undefined) return relaxedLadder(fit, metal);
  const { mu } = metal;
  const N = Math.max(fit.N, LEAST_N);
  const still = stillInductance(fit, metal);
  const tau = MU0 * mu * metal.conductivity * metal.radius ** 2;
  if (!(tau > 0)) return { direct: still, sections: [] };
  const sections: { inductance: number; rate: number }[] = [];
  // Drawn together, sections keep their sum and its first moment.
  const close = (inductance: number, moment: number): void => {
    if (inductance > 0 && moment > 0) sections.push({ inductance, rate: inductance / moment });
  };
  const chi = mu - 1;
  // All sections together, and their first moment, from L at s = 0, at infinity, and its slope at 0.
  let rest = fit.a * (chi / (1 + N * chi) + 1 / (1 - N));
  let moment = (fit.a * mu * tau) / ((metal.flat ? 3 : 8) * (1 + N * chi) ** 2);
  let sum = 0;
  let sumMoment = 0;
  let size = 1;
  let open = 0;
  for (let k = 1; k <= MOST_POLES; k++) {
    const x = metal.flat ? bladePoleOf(k, N, mu) : poleOf(k, N, mu);
    const rate = (x * x) / tau;
    if (k > 1 && rate > HIGHEST_RATE) break;
    const fall = metal.flat ? bladeFall(x, tau, N, mu) : rodFall(x, tau, N, mu);
    const inductance = fit.a / (N * N * mu * fall * rate);
    sum += inductance;
    sumMoment += inductance / rate;
    if (++open >= size) {
      close(sum, sumMoment);
      sum = sumMoment = open = 0;
      if (k >= ALONE) size = Math.ceil(GROWTH * size);
    }
    rest -= inductance;
    moment -= inductance / rate;
  }
  close(rest + sum, moment + sumMoment);
  const all = sections.reduce((sum, { inductance }) => sum + inductance, 0);
  return { direct: still - all, sections };
}

/** Rates of the sections of a core that relaxes, Hz, so many a decade; and of the frequencies at which it is looked at. */
const RATES = { from: 2, to: 800e3, perDecade: 9 } as const;
const LOOKED = { from: 5, to: 100e3, perDecade: 16 } as const;

const spread = ({ from, to, perDecade }: Record<'from' | 'to' | 'perDecade', number>): number[] => {
  const count = Math.ceil(perDecade * Math.log10(to / from));
  return Array.from({ length: count + 1 }, (_, k) => 2 * Math.PI * from * (to / from) ** (k / count));
};

/** As eddyLadder: sections at given rates, none below 0, that come closest to the core, which is passive as they are. */
function relaxedLadder(fit: CoreFit, metal: PoleMetal): EddyLadder {
  const still = stillInductance(fit, metal);
  const rates = spread(RATES);
  const omegas = spread(LOOKED);
  const found = { re: 0, im: 0 };
  const lost = new Float64Array(2 * omegas.length);
  omegas.forEach((omega, k) => {
    coreInductanceAt(fit, metal, 0, omega, found);
    lost[2 * k] = (still - found.re) / still;
    lost[2 * k + 1] = -found.im / still;
  });
  // What one section loses of its inductance: x²/(1 + x²), and x/(1 + x²) of resistance, x = ω/rate.
  const columns = rates.map((rate) => {
    const column = new Float64Array(lost.length);
    omegas.forEach((omega, k) => {
      const x = omega / rate;
      column[2 * k] = (x * x) / (1 + x * x);
      column[2 * k + 1] = x / (1 + x * x);
    });
    return column;
  });
  const shares = nonNegativeLeast(columns, lost);
  const sections = rates.flatMap((rate, i) =>
    shares[i]! > 0 ? [{ inductance: still * shares[i]!, rate }] : [],
  );
  return {
    direct: still - sections.reduce((sum, { inductance }) => sum + inductance, 0),
    sections,
  };
}

/** −dF/ds at a pole x, s. */
function rodFall(x: number, tau: number, N: number, mu: number): number {
  const ratio = (-(1 - N) * x) / (2 * N * mu);
  return (tau / (x * x)) * (1 - (2 * ratio) / x + ratio * ratio);
}

/** The same of a blade, with F = t/x, t = tan x and t′ = 1 + t², s. */
function bladeFall(x: number, tau: number, N: number, mu: number): number {
  const t = (-(1 - N) * x) / (N * mu);
  return (tau / (2 * x * x)) * (1 + t * t - t / x);
}

/** The k-th zero of (1 − N) x J₀(x) + 2Nµ J₁(x): it lies between the k-th zeros of J₀ and J₁. */
function poleOf(k: number, N: number, mu: number): number {
  const f = (x: number): number => {
    besselJ01(x, 0, j0, j1);
    return (1 - N) * x * j0.re + 2 * N * mu * j1.re;
  };
  // Those zeros lie just above (k − ¼)π and just below (k + ¼)π, DLMF 10.21.19; nothing else vanishes there.
  return zeroBetween(f, (k - 0.25) * Math.PI, (k + 0.25) * Math.PI);
}

/** The k-th zero of (1 − N) x cos x + Nµ sin x: it lies between those of cos and sin. */
const bladePoleOf = (k: number, N: number, mu: number): number =>
  zeroBetween((x) => (1 - N) * x * Math.cos(x) + N * mu * Math.sin(x), (k - 0.5) * Math.PI, k * Math.PI);

function zeroBetween(f: (x: number) => number, low: number, high: number): number {
  let atLow = f(low);
  let atHigh = f(high);
  // False position, the end that stays counted half (Illinois): some ten steps to the last digits.
  for (let step = 0; step < 60 && high - low > 1e-14 * high; step++) {
    const x = (low * atHigh - high * atLow) / (atHigh - atLow);
    const value = f(x);
    if (value === 0 || x <= low || x >= high) return x;
    if (value * atHigh < 0) {
      low = high;
      atLow = atHigh;
    } else atLow /= 2;
    high = x;
    atHigh = value;
    if (high < low) [low, high, atLow, atHigh] = [high, low, atHigh, atLow];
  }
  return 0.5 * (low + high);
}
