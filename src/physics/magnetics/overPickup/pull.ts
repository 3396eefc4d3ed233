/** What the magnets do to the string: force, stiffness, pull-down, detuning and the beat between polarisations. */
import { MU0 } from '../../numerics/constants.ts';
import { realFft } from '../../numerics/fft.ts';
import type { MagnetisedString } from './fieldReach.ts';
import { alongEnergy, overSection, respond } from '../../string/magnetisation.ts';

/** Along the string's samples, wire.size values each. */
export interface Pull {
  /** Force per length, N/m; towards the nut's right-hand frame: z up, y across. */
  readonly forceZ: Float64Array;
  readonly forceY: Float64Array;
  /** Stiffness per length, −∂F/∂z and −∂F/∂y, N/m²; below 0 for an attraction. */
  readonly stiffnessZ: Float64Array;
  readonly stiffnessY: Float64Array;
  /** What a movement towards z adds to the magnetisation along the string, A/m per m, section's mean. */
  readonly byZ: Float64Array;
}

/** x-derivative of a periodic signal. */
function alongString(signal: Float64Array, step: number): Float64Array {
  const n = signal.length;
  const fft = realFft(n);
  const spectrum = new Float64Array(n + 2);
  fft.forward(signal, spectrum);
  for (let k = 0; k <= n / 2; k++) {
    // The highest bin has no derivative that is real.
    const wave = k === n / 2 ? 0 : (2 * Math.PI * k) / (n * step);
    const re = spectrum[2 * k]!;
    spectrum[2 * k] = -wave * spectrum[2 * k + 1]!;
    spectrum[2 * k + 1] = wave * re;
  }
  const out = new Float64Array(n);
  fft.inverse(spectrum, out);
  return out;
}

/**
 * @param string in the magnets' field
 * F = µ0 A M·∂zH. The stiffness contains what a movement changes in the string's magnetisation as well; the second
 * derivatives that the field does not carry follow from Laplace's equation.
 * Source: force on a dipole [Jackson1999] § 5.7; sign and size of the effect [Feinberg].
 */
export function pull(string: MagnetisedString): Pull {
  const { wire, state, along, field } = string;
  const n = wire.size;
  const section = MU0 * wire.section;
  const gain = wire.metal.across;
  const byZ = overSection(wire, respond(wire, state, field.zHx));
  const byY = overSection(wire, respond(wire, state, field.yHx));
  const zzHx = alongString(field.zHz, wire.step);
  const second = (signal: Float64Array): Float64Array =>
    alongString(alongString(signal, wire.step), wire.step);
  const xxHx = second(field.Hx);
  const xxHy = second(field.Hy);
  const xxHz = second(field.Hz);
  const out: Pull = {
    forceZ: new Float64Array(n),
    forceY: new Float64Array(n),
    stiffnessZ: new Float64Array(n),
    stiffnessY: new Float64Array(n),
    byZ,
  };
  for (let i = 0; i < n; i++) {
    const { Hy, Hz, zHx, zHz, yHz, yHx, yHy, zzHz, zzHy } = field;
    const M = along[i]!;
    out.forceZ[i] = section * (M * zHx[i]! + gain * (Hz[i]! * zHz[i]! + Hy[i]! * yHz[i]!));
    out.forceY[i] = section * (M * yHx[i]! + gain * (Hz[i]! * yHz[i]! + Hy[i]! * yHy[i]!));
    const yyHx = -xxHx[i]! - zzHx[i]!;
    const yyHy = -xxHy[i]! - zzHy[i]!;
    const yyHz = -xxHz[i]! - zzHz[i]!;
    out.stiffnessZ[i] =
      -section *
      (byZ[i]! * zHx[i]! +
        M * zzHx[i]! +
        gain * (zHz[i]! ** 2 + yHz[i]! ** 2 + Hz[i]! * zzHz[i]! + Hy[i]! * zzHy[i]!));
    out.stiffnessY[i] =
      -section *
      (byY[i]! * yHx[i]! + M * yyHx + gain * (yHz[i]! ** 2 + yHy[i]! ** 2 + Hz[i]! * yyHz + Hy[i]! * yyHy));
  }
  return out;
}

/** Energy of the string in the field, J; the force is its slope. */
export function stringEnergy(string: MagnetisedString): number {
  const { wire, state, field } = string;
  const gain = wire.metal.across;
  let across = 0;
  for (let i = 0; i < wire.size; i++) across += field.Hz[i]! ** 2 + field.Hy[i]! ** 2;
  const energy = alongEnergy(wire, state, field.Hx) - 0.5 * gain * across * wire.step;
  return MU0 * wire.section * energy;
}

/** The vibrating string that is pulled. */
export interface Stretched {
  /** Saddle to nut or fret, m. */
  readonly length: number;
  /** N. */
  readonly tension: number;
  /** Hz of the first partial. */
  readonly frequency: number;
  /** Saddle to the middle of the field's samples, m. */
  readonly place: number;
}

/** What the pull does to the pitch of one partial. */
export interface Detuning {
  /**
   * Cents by which the partial shifts when it moves towards the pickup, and across. Below 0: flat; −∞: the tension does not
   * hold the string against the magnets.
   */
  readonly centsZ: number;
  readonly centsY: number;
  /** Hz between the two polarisations. */
  readonly beat: number;
}

/**
 * Shift of partial n: (f′/f)² = 1 + ∫ k sin²(nπx/L) dx / ∫ T (nπ/L)² cos²(nπx/L) dx, for both polarisations.
 *
 * @param step between samples, m; @param n 1 or more
 * Source: Rayleigh's quotient of a string with a distributed stiffness [Rayleigh1894] §§ 88 (from memory) and 140; from above, and closest while the
 * shift is small against the partial's frequency.
 */
export function detuning(
  stiffness: Pick<Pull, 'stiffnessZ' | 'stiffnessY'>,
  step: number,
  string: Stretched,
  n: number,
): Detuning {
  const { length, tension, frequency, place } = string;
  const size = stiffness.stiffnessZ.length;
  let z = 0;
  let y = 0;
  for (let i = 0; i < size; i++) {
    const x = place + (i - 0.5 * (size - 1)) * step;
    if (x <= 0 || x >= length) continue;
    const shape = Math.sin((n * Math.PI * x) / length) ** 2;
    z += stiffness.stiffnessZ[i]! * shape;
    y += stiffness.stiffnessY[i]! * shape;
  }
  const restoring = 0.5 * tension * length * ((n * Math.PI) / length) ** 2;
  const ratio = (sum: number): number => Math.sqrt(Math.max(0, 1 + (sum * step) / restoring));
  const [ratioZ, ratioY] = [ratio(z), ratio(y)];
  return {
    centsZ: 1200 * Math.log2(ratioZ),
    centsY: 1200 * Math.log2(ratioY),
    beat: n * frequency * Math.abs(ratioZ - ratioY),
  };
}

/** How far the string is drawn towards the magnets at rest, m (below 0 is down), at the middle of the samples. */
export function staticPull(forces: Pick<Pull, 'forceZ'>, step: number, string: Stretched): number {
  const { length, tension, place } = string;
  const size = forces.forceZ.length;
  let sum = 0;
  for (let i = 0; i < size; i++) {
    const x = place + (i - 0.5 * (size - 1)) * step;
    if (x <= 0 || x >= length) continue;
    // Deflection at `place` of a string loaded by one newton at x.
    sum += (forces.forceZ[i]! * (Math.min(x, place) * (length - Math.max(x, place)))) / (tension * length);
  }
  return sum * step;
}
