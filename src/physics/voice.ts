/** Curves of one voice (a pickup, or all that sound together) on one string. */
import { curveFeatures } from './circuit/features.ts';
import { harnessNetwork } from './circuit/harness.ts';
import { NetworkSolver } from './circuit/network.ts';
import type { PartialTone, ReachProfile, Voice } from './prediction.ts';
import type { HeardSheet as Sheet } from './resolved.ts';
import { pluckAmplitudes, pluckShare } from './sound/pluck.ts';
import { decayRate, fallTime } from './string/damping.ts';
import { partialFrequency, partialNumber, partialsBelow, type SoundingString } from './string/note.ts';
import { reachOn, type HeardReach, type ReachShape } from './string/reachOn.ts';
import { transformReach } from './string/sampled.ts';

/** V for a string that moves at 1 m/s: 0 dB. */
export const REFERENCE_LEVEL = 0.1;
/** Everything below is shown as this, dB. */
export const FLOOR_DB = -120;
/** Curves and partials end here, Hz. */
export const HIGHEST = 20000;

/** One row of one pickup on the chosen string, with the transform of its reach at the first `frequencies`. */
interface Aperture {
  readonly pickup: number;
  readonly row: number;
  readonly area: number;
  readonly shape: ReachShape;
  /** +1, or −1 when its wires are exchanged. */
  readonly polarity: number;
  readonly cosine: Float64Array;
  readonly sine: Float64Array;
  /** At the partials alone, the plucked string's two polarisations together, each by its share of the pluck. */
  readonly plucked: Float64Array;
}

/** What all voices of a sheet share. */
export interface Listening {
  readonly note: SoundingString;
  /** The curve's frequencies and behind them those of the partials, Hz. */
  readonly frequencies: Float64Array;
  readonly curveLength: number;
  readonly apertures: readonly Aperture[];
  readonly partials: readonly Omit<PartialTone, 'responseDb' | 'pluckedDb'>[];
  /** Speed of every partial at the pluck without regard to direction, m/s. */
  readonly speeds: Float64Array;
}

/** Of a note that is not looked at in full. */
interface ListenOptions {
  /** How many partials are asked for at most. */
  readonly most?: number;
  /** Indices of the pickups that listen; all unless given. */
  readonly members?: readonly number[];
}

/**
 * What every row hears of the note, before any circuit.
 *
 * @param sheet on which nothing is left open
 * @param note the chosen string, stopped
 * @param curve frequencies at which curves are asked for, Hz, ascending
 * @throws RangeError as reachOn does
 */
export function listen(
  sheet: Sheet,
  note: SoundingString,
  curve: Float64Array,
  { most = Infinity, members }: ListenOptions = {},
): Listening {
  const count = Math.min(most, partialsBelow(note, HIGHEST));
  const frequencies = new Float64Array(curve.length + count);
  frequencies.set(curve);
  for (let n = 1; n <= count; n++) {
    frequencies[curve.length + n - 1] = partialFrequency(n, note.frequency, note.inharmonicity);
  }
  const wavenumbers = frequencies.map(
    (f) => (Math.PI / note.length) * partialNumber(f, note.frequency, note.inharmonicity),
  );
  const { pluck } = sheet.listen;
  const shares = { towards: pluckShare(pluck, 'towards'), across: pluckShare(pluck, 'across') };
  const atPartials = wavenumbers.subarray(curve.length);
  const listeners = members ?? sheet.pickups.map((_, index) => index);
  const apertures = listeners.flatMap((index) => {
    const pickup = sheet.pickups[index]!;
    return pickup.rows.map((_, row): Aperture => {
      const reach = reachOn(sheet.instrument, pickup, row, note.string, note.length);
      const cosine = new Float64Array(frequencies.length);
      const sine = new Float64Array(frequencies.length);
      transformReach(reach.towards, wavenumbers, cosine, sine);
      const plucked = sine.slice(curve.length);
      const across = acrossSine(reach, atPartials, plucked);
      for (let i = 0; i < count; i++) plucked[i] = shares.towards * plucked[i]! + shares.across * across[i]!;
      const crossed = pickup.reversed !== (row > 0 && pickup.phase === 'out');
      const { area, bell: shape } = reach;
      return { pickup: index, row, area, shape, polarity: crossed ? -1 : 1, cosine, sine, plucked };
    });
  });
  const amplitudes = pluckAmplitudes(pluck, note.length, count);
  const speeds = amplitudes.map((amplitude, i) => 2 * Math.PI * frequencies[curve.length + i]! * amplitude);
  const partials = Array.from(amplitudes, (_, i) => {
    const frequency = frequencies[curve.length + i]!;
    const slower = Math.min(decayRate(note, frequency, 'towards'), decayRate(note, frequency, 'across'));
    return { n: i + 1, frequency, t60: fallTime(slower) };
  });
  return { note, frequencies, curveLength: curve.length, apertures, partials, speeds };
}

/** ∫ S_across sin(kx) dx. @param towards the same of the other polarisation */
function acrossSine({ across }: HeardReach, wavenumbers: Float64Array, towards: Float64Array): Float64Array {
  if (typeof across === 'number') return towards.map((value) => across * value);
  const cosine = new Float64Array(wavenumbers.length);
  const sine = new Float64Array(wavenumbers.length);
  transformReach(across, wavenumbers, cosine, sine);
  return sine;
}

/**
 * The curves of the pickups `members` (indices), heard together.
 *
 * - circuitDb: |Σ ±H_c A_c| with A_c the size of the area of coil c's reach and its polarity left out, because polarity
 *   acts only together with place, which this curve leaves out.
 * - placedDb: |Σ H_c ∫S_c sin(kx) dx|, k = nπ/L with the partial number n, whole or not, that sounds at f.
 * - reachDb: the most that a standing wave shifted freely under the pickups could give: (|Z₊| + |Z₋|)/2 with
 *   Z± = Σ H_c ∫S_c e^(±ikx) dx. For one row that is |H|·|aperture|; for several it contains their interference at
 *   their true distances, polarity included.
 */
export function voiceOf(
  sheet: Sheet,
  listening: Listening,
  members: readonly number[],
  label: string,
): Voice {
  const { frequencies, curveLength } = listening;
  const circuit = circuitOf(sheet, members);
  const { solver } = circuit;
  const apertures = aperturesOf(circuit, listening);

  const circuitDb = new Float64Array(curveLength);
  const reachDb = new Float64Array(curveLength);
  const placedDb = new Float64Array(curveLength);
  const { re, im } = solver.transfer;

  const circuitLevel = (): number => {
    let sumRe = 0;
    let sumIm = 0;
    for (let c = 0; c < apertures.length; c++) {
      const weight = apertures[c]!.polarity * apertures[c]!.area;
      sumRe += weight * re[c]!;
      sumIm += weight * im[c]!;
    }
    return toDb(Math.hypot(sumRe, sumIm));
  };

  for (let i = 0; i < curveLength; i++) {
    solver.solve(0, 2 * Math.PI * frequencies[i]!);
    let cosRe = 0;
    let cosIm = 0;
    let sinRe = 0;
    let sinIm = 0;
    for (let c = 0; c < apertures.length; c++) {
      const cosine = apertures[c]!.cosine[i]!;
      const sine = apertures[c]!.sine[i]!;
      cosRe += re[c]! * cosine;
      cosIm += im[c]! * cosine;
      sinRe += re[c]! * sine;
      sinIm += im[c]! * sine;
    }
    circuitDb[i] = circuitLevel();
    placedDb[i] = toDb(Math.hypot(sinRe, sinIm));
    // Z± = (cosRe ∓ sinIm) + j (cosIm ± sinRe)
    reachDb[i] = toDb(
      (Math.hypot(cosRe - sinIm, cosIm + sinRe) + Math.hypot(cosRe + sinIm, cosIm - sinRe)) / 2,
    );
  }

  const levelDbAt = (frequency: number): number => {
    solver.solve(0, 2 * Math.PI * frequency);
    return circuitLevel();
  };
  return {
    label,
    pickups: members,
    circuitDb,
    reachDb,
    placedDb,
    partials: partialsOf(circuit, listening),
    features: curveFeatures(levelDbAt, frequencies.subarray(0, curveLength), circuitDb),
    reach: profileOf(apertures.map(({ shape }) => shape)),
  };
}

/** The circuit behind some of the pickups. */
export interface Circuit {
  readonly solver: NetworkSolver;
  /** Which coil each of the solver's transfers is from. */
  readonly coils: readonly { readonly pickup: number; readonly row: number }[];
}

/** @param members indices of the pickups that are heard */
export function circuitOf({ pickups, harness }: Sheet, members: readonly number[]): Circuit {
  const network = harnessNetwork(
    pickups,
    harness,
    pickups.map((_, index) => members.includes(index)),
  );
  return { solver: new NetworkSolver(network), coils: network.coils };
}

/** In the order of the circuit's coils. */
const aperturesOf = ({ coils }: Circuit, { apertures }: Listening): Aperture[] =>
  coils.map(({ pickup, row }) => apertures.find((a) => a.pickup === pickup && a.row === row)!);

/** The note's partials as they come out of the circuit. */
export function partialsOf(circuit: Circuit, listening: Listening): PartialTone[] {
  const { solver } = circuit;
  const { re, im } = solver.transfer;
  const apertures = aperturesOf(circuit, listening);
  const { frequencies, curveLength, speeds } = listening;
  return listening.partials.map((partial, i) => {
    solver.solve(0, 2 * Math.PI * frequencies[curveLength + i]!);
    let sinRe = 0;
    let sinIm = 0;
    let pluckedRe = 0;
    let pluckedIm = 0;
    for (let c = 0; c < apertures.length; c++) {
      const sine = apertures[c]!.sine[curveLength + i]!;
      const plucked = apertures[c]!.plucked[i]!;
      sinRe += re[c]! * sine;
      sinIm += im[c]! * sine;
      pluckedRe += re[c]! * plucked;
      pluckedIm += im[c]! * plucked;
    }
    return {
      ...partial,
      responseDb: toDb(Math.hypot(sinRe, sinIm)),
      pluckedDb: toDb(Math.hypot(pluckedRe, pluckedIm) * Math.abs(speeds[i]!)),
    };
  });
}

/** dB over the reference level, not below the floor. */
function toDb(volts: number): number {
  return Math.max(FLOOR_DB, 20 * Math.log10(volts / REFERENCE_LEVEL));
}

/** Samples over the narrowest width, and the most samples altogether. */
const PROFILE_FINENESS = 24;
const PROFILE_LIMIT = 2000;

/** The reaches as they are, also where they hang over the saddle or the stopping fret (what lies there is not heard). */
function profileOf(shapes: readonly ReachShape[]): ReachProfile {
  const from = Math.min(...shapes.map(({ centre, width, extent }) => centre - extent * width));
  const to = Math.max(...shapes.map(({ centre, width, extent }) => centre + extent * width));
  const finest = Math.min(...shapes.map(({ width }) => width)) / PROFILE_FINENESS;
  const steps = Math.min(PROFILE_LIMIT, Math.ceil((to - from) / finest));
  const x = Float64Array.from({ length: steps + 1 }, (_, j) => from + ((to - from) * j) / steps);
  return {
    x,
    value: x.map((place) => shapes.reduce((sum, shape) => sum + shape.at(place), 0)),
    rows: shapes.map(({ centre, width, peak }) => ({ centre, width, peak })),
  };
}
