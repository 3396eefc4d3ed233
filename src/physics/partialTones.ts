/** The partials of a note as they come out of a circuit: levels, and how fast they die away. */
import { toDb } from './levelDb.ts';
import { aperturesOf, type Aperture, type Circuit, type Listening } from './listening.ts';
import type { PartialTone } from './prediction.ts';
import type { Beginning } from './sound/bentTones.ts';
import { fallTime, type Polarisation } from './string/damping.ts';

/** Real and imaginary part, V. */
type Phasor = readonly [re: number, im: number];

/** A partial unbent at the pluck: V, and how fast it dies away, 1/s. */
type Moving = Readonly<Record<Polarisation, { readonly volts: Phasor; readonly decay: number }>>;

/**
 * - responseDb: |Σ H_c w_c| for 1 m/s.
 * - pluckedDb: where no reach changes with the distance, |Σ H_c w_c v| of both polarisations with v the partial's speed at
 *   the pluck. Otherwise what the bent flux has around the partial: its mean power over the beginning of the note, led back
 *   to the pluck by the partial's own decay.
 * - t60: of each polarisation, and of their sum by the slope with which it begins.
 */
export function partialsOf(circuit: Circuit, listening: Listening): PartialTone[] {
  const { solver } = circuit;
  const { re, im } = solver.transfer;
  const { frequencies, curveLength, decay, beginning, partials } = listening;
  const apertures = aperturesOf(circuit, listening);
  /** What comes out when each coil has so many volts, one value a coil. */
  const through = (volts: Float64Array): Phasor => {
    let sumRe = 0;
    let sumIm = 0;
    for (let c = 0; c < volts.length; c++) {
      sumRe += re[c]! * volts[c]!;
      sumIm += im[c]! * volts[c]!;
    }
    return [sumRe, sumIm];
  };
  const volts = new Float64Array(apertures.length);
  return Array.from({ length: partials }, (_, i): PartialTone => {
    const frequency = frequencies[curveLength + i]!;
    const omega = 2 * Math.PI * frequency;
    solver.solve(0, omega);
    for (let c = 0; c < volts.length; c++) volts[c] = apertures[c]!.sine[curveLength + i]!;
    const response = through(volts);
    for (let c = 0; c < volts.length; c++) volts[c] = omega * apertures[c]!.plucked.towards[i]!;
    const towards = { volts: through(volts), decay: decay.towards[i]! };
    for (let c = 0; c < volts.length; c++) volts[c] = omega * apertures[c]!.plucked.across[i]!;
    const across = { volts: through(volts), decay: decay.across[i]! };
    const moving = { towards, across };
    const plucked = beginning
      ? bentPower(circuit, apertures, listening, i) / ownFall(moving, beginning)
      : powerOf(together(moving));
    const alone = shareTowards(moving);
    return {
      n: i + 1,
      frequency,
      responseDb: toDb(Math.sqrt(powerOf(response))),
      pluckedDb: toDb(Math.sqrt(plucked)),
      t60: {
        asPlucked: fallTime(firstRate(moving)),
        towards: fallTime(towards.decay),
        across: fallTime(across.decay),
      },
      shares:
        beginning || plucked === 0
          ? { towards: alone, across: 1 - alone }
          : { towards: powerOf(towards.volts) / plucked, across: powerOf(across.volts) / plucked },
    };
  });
}

/** Mean power over the beginning around partial i + 1, V²; the circuit has been solved for it. */
function bentPower(
  { solver }: Circuit,
  apertures: readonly Aperture[],
  { beginning, frequencies, curveLength, partials }: Listening,
  i: number,
): number {
  const { re, im } = solver.transfer;
  let mean = 0;
  for (let j = 0; j < beginning!.weights.length; j++) {
    const at = j * partials + i;
    let sumRe = 0;
    let sumIm = 0;
    for (let c = 0; c < apertures.length; c++) {
      const { re: x, im: y } = apertures[c]!.tones!;
      sumRe += re[c]! * x[at]! - im[c]! * y[at]!;
      sumIm += im[c]! * x[at]! + re[c]! * y[at]!;
    }
    mean += beginning!.weights[j]! * (sumRe * sumRe + sumIm * sumIm);
  }
  return (2 * Math.PI * frequencies[curveLength + i]!) ** 2 * mean;
}

const powerOf = ([re, im]: Phasor): number => re * re + im * im;

const together = ({ towards, across }: Moving): Phasor => [
  towards.volts[0] + across.volts[0],
  towards.volts[1] + across.volts[1],
];

/** Mean power over the beginning of a partial that starts with 1 and dies away as its polarisations do, by their power. */
function ownFall(moving: Moving, { times, weights }: Beginning): number {
  const { towards, across } = moving;
  const share = shareTowards(moving);
  let mean = 0;
  for (let j = 0; j < times.length; j++) {
    const fallen = share * Math.exp(-2 * towards.decay * times[j]!);
    mean += weights[j]! * (fallen + (1 - share) * Math.exp(-2 * across.decay * times[j]!));
  }
  return mean;
}

/** Of the power; half where there is none. */
function shareTowards({ towards, across }: Moving): number {
  const both = powerOf(towards.volts) + powerOf(across.volts);
  return both > 0 ? powerOf(towards.volts) / both : 0.5;
}

/** Two polarisations cancel each other when less than this share of their amplitudes is left. */
const CANCELLED = 0.3;

/**
 * Rate (1/s) at which |V_t e^(−α_t t) + V_a e^(−α_a t)| begins to fall. Both swing in step; where they nearly cancel each
 * other their sum may even rise at first, and the rates' mean by power is returned.
 */
function firstRate(moving: Moving): number {
  const { towards, across } = moving;
  const [re, im] = together(moving);
  const power = re * re + im * im;
  const most = Math.sqrt(powerOf(towards.volts)) + Math.sqrt(powerOf(across.volts));
  if (!(Math.sqrt(power) > CANCELLED * most)) {
    const share = shareTowards(moving);
    return share * towards.decay + (1 - share) * across.decay;
  }
  const part = ({ volts, decay }: Moving[Polarisation]): number =>
    (decay * (volts[0] * re + volts[1] * im)) / power;
  return part(towards) + part(across);
}
