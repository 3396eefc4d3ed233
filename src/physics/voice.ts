/** Curves of one voice (a pickup, or all that sound together) on one string. */
import type { ResolvedSheet as Sheet } from '../sheet/sheet.ts';
import { curveFeatures } from './circuit/features.ts';
import { harnessNetwork } from './circuit/harness.ts';
import { NetworkSolver } from './circuit/network.ts';
import type { PartialTone, ReachProfile, Voice } from './prediction.ts';
import { pluckAmplitudes, pluckShare } from './sound/pluck.ts';
import { decayRate, fallTime } from './string/damping.ts';
import { partialFrequency, partialNumber, partialsBelow, type SoundingString } from './string/note.ts';
import { ACROSS_SHARE, bellAt, bellOn, bellPeak, sampleBell, type Bell } from './string/reach.ts';
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
  readonly bell: Bell;
  /** +1, or −1 when its wires are exchanged. */
  readonly polarity: number;
  readonly cosine: Float64Array;
  readonly sine: Float64Array;
}

/** What all voices of a sheet share. */
export interface Listening {
  readonly note: SoundingString;
  /** The curve's frequencies and behind them those of the partials, Hz. */
  readonly frequencies: Float64Array;
  readonly curveLength: number;
  readonly apertures: readonly Aperture[];
  readonly partials: readonly Omit<PartialTone, 'responseDb'>[];
}

export function listen(sheet: Sheet, note: SoundingString, curve: Float64Array): Listening {
  const count = partialsBelow(note, HIGHEST);
  const frequencies = new Float64Array(curve.length + count);
  frequencies.set(curve);
  for (let n = 1; n <= count; n++) {
    frequencies[curve.length + n - 1] = partialFrequency(n, note.frequency, note.inharmonicity);
  }
  const wavenumbers = frequencies.map(
    (f) => (Math.PI / note.length) * partialNumber(f, note.frequency, note.inharmonicity),
  );
  const apertures = sheet.pickups.flatMap((pickup, index) =>
    pickup.rows.map((row, rowIndex) => {
      const bell = bellOn(sheet.instrument, pickup, row, note.string);
      const cosine = new Float64Array(frequencies.length);
      const sine = new Float64Array(frequencies.length);
      transformReach(sampleBell(bell, note.length), wavenumbers, cosine, sine);
      const crossed = pickup.reversed !== (rowIndex > 0 && pickup.phase === 'out');
      return { pickup: index, row: rowIndex, bell, polarity: crossed ? -1 : 1, cosine, sine };
    }),
  );
  const { pluck } = sheet.listen;
  const amplitudes = pluckAmplitudes(pluck, note.length, count);
  const heard = pluckShare(pluck, 'towards') + ACROSS_SHARE * pluckShare(pluck, 'across');
  const partials = Array.from(amplitudes, (amplitude, i) => {
    const frequency = frequencies[curve.length + i]!;
    const slower = Math.min(decayRate(note, frequency, 'towards'), decayRate(note, frequency, 'across'));
    return {
      n: i + 1,
      frequency,
      // Without the voice's response yet: the speed at the string, dB over 1 m/s.
      pluckedDb: 20 * Math.log10(Math.abs(2 * Math.PI * frequency * amplitude * heard)),
      t60: fallTime(slower),
    };
  });
  return { note, frequencies, curveLength: curve.length, apertures, partials };
}

/**
 * The curves of the pickups `members` (indices), heard together.
 *
 * - circuitDb: |Σ ±H_c A_c| with A_c the area of coil c's reach and its winding polarity left out, because polarity
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
  const size = frequencies.length;
  const network = harnessNetwork(
    sheet.pickups,
    sheet.harness,
    sheet.pickups.map((_, index) => members.includes(index)),
  );
  const solver = new NetworkSolver(network);
  const apertures = network.coils.map((coil) =>
    listening.apertures.find((a) => a.pickup === coil.pickup && a.row === coil.row)!,
  );

  const circuitDb = new Float64Array(curveLength);
  const reachDb = new Float64Array(curveLength);
  const placedDb = new Float64Array(curveLength);
  const partials: PartialTone[] = [];
  const { re, im } = solver.transfer;

  const circuitLevel = (): number => {
    let sumRe = 0;
    let sumIm = 0;
    for (let c = 0; c < apertures.length; c++) {
      const weight = apertures[c]!.polarity * apertures[c]!.bell.area;
      sumRe += weight * re[c]!;
      sumIm += weight * im[c]!;
    }
    return toDb(Math.hypot(sumRe, sumIm));
  };

  for (let i = 0; i < size; i++) {
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
    const placed = toDb(Math.hypot(sinRe, sinIm));
    if (i < curveLength) {
      circuitDb[i] = circuitLevel();
      placedDb[i] = placed;
      // Z± = (cosRe ∓ sinIm) + j (cosIm ± sinRe)
      reachDb[i] = toDb(
        (Math.hypot(cosRe - sinIm, cosIm + sinRe) + Math.hypot(cosRe + sinIm, cosIm - sinRe)) / 2,
      );
    } else {
      const partial = listening.partials[i - curveLength]!;
      partials.push({
        n: partial.n,
        frequency: partial.frequency,
        responseDb: placed,
        pluckedDb: Math.max(FLOOR_DB, placed + partial.pluckedDb),
        t60: partial.t60,
      });
    }
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
    partials,
    features: curveFeatures(levelDbAt, frequencies.subarray(0, curveLength), circuitDb),
    reach: profileOf(apertures.map(({ bell }) => bell)),
  };
}

/** dB over the reference level, not below the floor. */
function toDb(volts: number): number {
  return Math.max(FLOOR_DB, 20 * Math.log10(volts / REFERENCE_LEVEL));
}

/** Bells reach this many widths to each side of their tops in a profile; 1e-5 of the height is left there. */
const PROFILE_WIDTHS = 2;
/** Samples over the narrowest width, and the most samples altogether. */
const PROFILE_FINENESS = 24;
const PROFILE_LIMIT = 2000;

/** The bells as they are, also where they hang over the saddle or the stopping fret (what lies there is not heard). */
function profileOf(bells: readonly Bell[]): ReachProfile {
  const from = Math.min(...bells.map(({ centre, width }) => centre - PROFILE_WIDTHS * width));
  const to = Math.max(...bells.map(({ centre, width }) => centre + PROFILE_WIDTHS * width));
  const finest = Math.min(...bells.map(({ width }) => width)) / PROFILE_FINENESS;
  const steps = Math.min(PROFILE_LIMIT, Math.ceil((to - from) / finest));
  const x = Float64Array.from({ length: steps + 1 }, (_, j) => from + ((to - from) * j) / steps);
  return {
    x,
    value: x.map((place) => bells.reduce((sum, bell) => sum + bellAt(bell, place), 0)),
    rows: bells.map((bell) => ({ centre: bell.centre, width: bell.width, peak: bellPeak(bell) })),
  };
}
