/**
 * Magnetisation of a thin string along itself: M = f(P H − N∗M), f the law of its metal. In wavenumber, for one of steel
 * alone, N(k) = ka I₁(ka) K₀(ka) and P(k) = 2I₁(ka)/(ka), the mean of the applied field over the section. (Across, a cylinder
 * of high permeability takes M = 2H, which needs no solution.)
 *
 * Derived from a permeable cylinder in the axial field cos kx: I₀ inside, I₀ + K₀ outside, both conditions at r = a. The
 * turns of a magnetic wrap lead the flux out to their backs: there a is larger than the core that M is counted over, and
 * N smaller by the ratio of the two sections.
 */
import { sectionMean, wireDemagnetising } from '../numerics/bessel.ts';
import { realFft } from '../numerics/fft.ts';
import type { RealFft } from '../numerics/fft.ts';
import { easeOf, insideOf, mostOf, storedIn } from './steelLaw.ts';
import type { StringMetal } from './stringMetal.ts';

/** A string sampled along its length; the samples repeat, so the field must have died away at both ends. */
export interface Wire {
  readonly metal: StringMetal;
  /** Of the core, m²; every M is a moment per length over it. */
  readonly section: number;
  /** m. */
  readonly step: number;
  /** Number of samples, a power of two. */
  readonly size: number;
  readonly fft: RealFft;
  /** N and P for every bin. */
  readonly demagnetising: Float64Array;
  readonly mean: Float64Array;
  /** What stands in it is nobody's: for transforms. */
  readonly spectrum: Float64Array;
}

/**
 * @param metal what of the string is magnetic
 * @param step between samples, m, above 0
 * @param size number of samples, a power of two, 4 or more
 * @throws RangeError for a radius or a size that is none
 */
export function makeWire(metal: StringMetal, step: number, size: number): Wire {
  const { radius, reach } = metal;
  if (!(radius > 0)) throw new RangeError(`A string's core must have a radius above 0; got ${radius} m.`);
  const fft = realFft(size);
  const demagnetising = new Float64Array(size / 2 + 1);
  const mean = new Float64Array(size / 2 + 1);
  for (let k = 0; k <= size / 2; k++) {
    const x = (2 * Math.PI * k * reach) / (size * step);
    demagnetising[k] = (radius / reach) ** 2 * wireDemagnetising(x);
    mean[k] = sectionMean(x);
  }
  const spectrum = new Float64Array(size + 2);
  return { metal, section: Math.PI * radius ** 2, step, size, fft, demagnetising, mean, spectrum };
}

/** Multiplies every wavenumber of a signal by a real factor. */
function filtered(
  { fft, spectrum }: Wire,
  factor: Float64Array,
  signal: Float64Array,
  out: Float64Array,
): void {
  fft.forward(signal, spectrum);
  for (let k = 0; k < factor.length; k++) {
    spectrum[2 * k] = spectrum[2 * k]! * factor[k]!;
    spectrum[2 * k + 1] = spectrum[2 * k + 1]! * factor[k]!;
  }
  fft.inverse(spectrum, out);
}

/** Mean over the section of an applied field given on the axis, A/m. */
export function overSection(wire: Wire, field: Float64Array): Float64Array {
  const out = new Float64Array(wire.size);
  filtered(wire, wire.mean, field, out);
  return out;
}

/** A wire in a field, at its samples. */
export interface Magnetised {
  /** M along the string, A/m. */
  readonly M: Float64Array;
  /** 1/f′ at every sample: how hard a small field finds it there. */
  readonly reluctance: Float64Array;
}

/** Newton's steps end when M changes by less than this share of its largest value. */
const SETTLED = 1e-8;
const MOST_STEPS = 60;
/** A step may close at most this share of what is left to saturation. */
const CLOSER = 0.9;

/**
 * @param applied H along the string on its axis, A/m, wire.size samples
 * @param near a magnetisation to start from, A/m below saturation; @param settled see SETTLED
 * @throws RangeError when it does not converge (only with samples that are not numbers)
 * Newton's method on the convex energy ∫ G(M) + ½ M N M − M P H, each step by preconditioned conjugate gradients.
 */
export function magnetise(
  wire: Wire,
  applied: Float64Array,
  near?: Float64Array,
  settled = SETTLED,
): Magnetised {
  const { size } = wire;
  const { law } = wire.metal;
  const Ms = mostOf(law);
  const drive = overSection(wire, applied);
  const M = near ? near.slice() : new Float64Array(size);
  const reluctance = new Float64Array(size).fill(1 / easeOf(law));
  const rest = drive.slice();
  const inside = { H: 0, slope: 0 };
  const weigh = (): void => {
    filtered(wire, wire.demagnetising, M, rest);
    for (let i = 0; i < size; i++) {
      insideOf(law, M[i]!, inside);
      reluctance[i] = inside.slope;
      rest[i] = drive[i]! - rest[i]! - inside.H;
    }
  };
  if (near) weigh();
  const change = new Float64Array(size);
  for (let step = 0; step < MOST_STEPS; step++) {
    let before = 0;
    let after = 0;
    respondInto(wire, reluctance, rest, change, step === 0 ? 1e-3 : 1e3 * settled);
    for (let i = 0; i < size; i++) {
      const old = M[i]!;
      let now = old + change[i]!;
      if (Math.abs(now) >= Ms) {
        // Beyond saturation the energy is infinite: stop short of it.
        const wall = Math.sign(now) * Ms;
        now = old * now > 0 ? old + CLOSER * (wall - old) : CLOSER * wall;
      }
      before = Math.max(before, Math.abs(now));
      after = Math.max(after, Math.abs(now - old));
      M[i] = now;
    }
    weigh();
    if (after <= settled * before) return { M, reluctance };
  }
  throw new RangeError('The string’s magnetisation must settle; it did not. Check that the field is finite.');
}

/**
 * Small magnetisation that a small applied field adds to a magnetised string, A/m (the coil's, or that of a movement).
 *
 * @param applied on the axis, A/m
 */
export function respond(wire: Wire, state: Magnetised, applied: Float64Array): Float64Array {
  const out = new Float64Array(wire.size);
  respondInto(wire, state.reluctance, overSection(wire, applied), out, 1e-9);
  return out;
}

/**
 * Solves (reluctance + N) m = drive by conjugate gradients, preconditioned with a mean reluctance. The preconditioned residual z has
 * (bulk + N) z = r, so that N z is known without being transformed again, and N of every direction with it.
 */
function respondInto(
  wire: Wire,
  reluctance: Float64Array,
  drive: Float64Array,
  m: Float64Array,
  tolerance: number,
): void {
  const { size, demagnetising } = wire;
  // Geometric between the lowest and what the bulk has: unsaturated parts rule the convergence.
  let inverse = 0;
  for (let i = 0; i < size; i++) inverse += 1 / reluctance[i]!;
  const bulk = size / inverse;
  const factor = Float64Array.from(demagnetising, (N) => 1 / (bulk + N));
  m.fill(0);
  const r = drive.slice();
  const z = new Float64Array(size);
  const p = new Float64Array(size);
  /** N p. */
  const Np = new Float64Array(size);
  const q = new Float64Array(size);
  let goal = 0;
  for (let i = 0; i < size; i++) goal += drive[i]! * drive[i]!;
  goal *= tolerance * tolerance;
  let gamma = 0;
  // Each step removes one more of the few odd modes near the poles; 400 is never reached with finite samples.
  for (let step = 0; step < 400; step++) {
    let rest = 0;
    for (let i = 0; i < size; i++) rest += r[i]! * r[i]!;
    if (!(rest > goal)) return;
    filtered(wire, factor, r, z);
    let next = 0;
    for (let i = 0; i < size; i++) next += r[i]! * z[i]!;
    const beta = step === 0 ? 0 : next / gamma;
    gamma = next;
    let curvature = 0;
    for (let i = 0; i < size; i++) {
      p[i] = z[i]! + beta * p[i]!;
      Np[i] = r[i]! - bulk * z[i]! + beta * Np[i]!;
      q[i] = Np[i]! + reluctance[i]! * p[i]!;
      curvature += p[i]! * q[i]!;
    }
    const alpha = gamma / curvature;
    for (let i = 0; i < size; i++) {
      m[i] = m[i]! + alpha * p[i]!;
      r[i] = r[i]! - alpha * q[i]!;
    }
  }
}

/** Energy of the string in the field per section area and µ0, A²/m: ∫ G(M) + ½ M N M − M P H dx, below 0. */
export function alongEnergy(wire: Wire, state: Magnetised, applied: Float64Array): number {
  const { size, step, metal } = wire;
  const drive = overSection(wire, applied);
  const inner = new Float64Array(size);
  filtered(wire, wire.demagnetising, state.M, inner);
  let sum = 0;
  for (let i = 0; i < size; i++) {
    const M = state.M[i]!;
    sum += storedIn(metal.law, M) + 0.5 * M * inner[i]! - M * drive[i]!;
  }
  return sum * step;
}
