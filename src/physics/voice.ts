/** Curves of one voice (a pickup, or all that sound together) on one string. */
import { curveFeatures, type CurveFeatures } from './circuit/features.ts';
import { curveFrequencies } from './curveFrequencies.ts';
import { toDb } from './levelDb.ts';
import { aperturesOf, areasOf, circuitOf, type Circuit, type Listening } from './listening.ts';
import { partialsOf } from './partialTones.ts';
import type { ReachProfile, Voice } from './prediction.ts';
import type { HeardSheet as Sheet } from './heard/resolved.ts';
import type { ReachShape } from './heard/reachOn.ts';
import type { SoundingString } from './string/note.ts';

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

  const weights = apertures.map(({ polarity, area }) => polarity * area);

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
    circuitDb[i] = circuitLevel(circuit, weights);
    placedDb[i] = toDb(Math.hypot(sinRe, sinIm));
    // Z± = (cosRe ∓ sinIm) + j (cosIm ± sinRe)
    reachDb[i] = toDb(
      (Math.hypot(cosRe - sinIm, cosIm + sinRe) + Math.hypot(cosRe + sinIm, cosIm - sinRe)) / 2,
    );
  }

  return {
    label,
    pickups: members,
    circuitDb,
    reachDb,
    placedDb,
    partials: partialsOf(circuit, listening),
    features: curveFeatures(levelsOf(circuit, weights), frequencies.subarray(0, curveLength), circuitDb),
    reach: profileOf(apertures.map(({ shape }) => shape)),
  };
}

/** As the circuit was last solved, dB. @param weights area and polarity of what each of its coils hears */
function circuitLevel({ solver }: Circuit, weights: readonly number[]): number {
  const { re, im } = solver.transfer;
  let sumRe = 0;
  let sumIm = 0;
  for (let c = 0; c < weights.length; c++) {
    sumRe += weights[c]! * re[c]!;
    sumIm += weights[c]! * im[c]!;
  }
  return toDb(Math.hypot(sumRe, sumIm));
}

/** The same at any frequency, Hz. */
const levelsOf =
  (circuit: Circuit, weights: readonly number[]) =>
  (frequency: number): number => {
    circuit.solver.solve(0, 2 * Math.PI * frequency);
    return circuitLevel(circuit, weights);
  };

/** Features of the circuit behind the pickups `members` (indices), Hz and dB: those of their voice, without what else it is. */
export function circuitFeatures(
  sheet: Sheet,
  note: SoundingString,
  members: readonly number[],
): CurveFeatures {
  const circuit = circuitOf(sheet, members);
  const levelDbAt = levelsOf(circuit, areasOf(sheet, circuit, note));
  const frequencies = curveFrequencies();
  return curveFeatures(levelDbAt, frequencies, frequencies.map(levelDbAt));
}

/** Samples over the narrowest width, and the most samples altogether. */
const PROFILE_FINENESS = 24;
const PROFILE_LIMIT = 2000;

/** The reaches as they are, also where they hang over the saddle or the stopping fret (what lies there is not heard). */
function profileOf(shapes: readonly ReachShape[]): ReachProfile {
  if (shapes.length === 0) return { x: new Float64Array(2), value: new Float64Array(2), rows: [] };
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
