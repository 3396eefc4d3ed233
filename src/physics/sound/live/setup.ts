/** From a sheet to what the live engine plays: computed in the worker in a few milliseconds, plain data. */
import type { HeardSheet as Sheet } from '../../heard/resolved.ts';
import { isStraight } from '../../string/fluxCurve.ts';
import { stopString } from '../../string/note.ts';
import { coilGroups, type CoilGroup } from '../filter.ts';
import { fluxTable } from '../fluxTable.ts';
import { kWeightingAt, weightedPowers } from '../loudness.ts';
import { finishEnds, matchedGain, SILENT_PEAK, VOLT_GAIN } from '../level.ts';
import { stringModes, type StringModes } from '../modes.ts';
import { curveOversampling, renderVolts } from '../render.ts';
import { loudspeaker } from '../speaker.ts';
import { filterDelay } from './engine.ts';
import { circuitResponse, partitionSpectra } from './fir.ts';
import { scoreOf } from '../score.ts';
import { LIVE_LIMIT, type LiveBend, type LiveEar, type LiveNote, type LiveSetup } from './types.ts';

/**
 * Hz; at this rate the phrase is rendered to find its loudness. What lies above half of it adds less than 0.05 LU: a pickup
 * on its cable has fallen far by 8 kHz.
 */
const LOUDNESS_RATE = 16000;
/** Pieces of a curve: its error is 4e-8 of the flux for a range of eight fades (−148 dB). */
const BEND_CELLS = 128;
/** What has fallen 70 dB adds nothing to a loudness. */
const LOUDNESS_SILENCE = 10 ** (-70 / 20);

/**
 * @param sampleRate of the output, Hz; 44100 to 192000
 * @param gain digital amplitude for one volt; null takes the sheet's level, for which a matched one is rendered: ten
 *   times the work of all the rest
 */
export function liveSetup(sheet: Sheet, sampleRate: number, gain: number | null = null): LiveSetup {
  const { instrument, pickups, harness, listen } = sheet;
  const groups = coilGroups(pickups, harness, sampleRate / 2);
  if (groups.length === 0) throw new RangeError('At least one pickup must sound; got none. Select a pickup.');
  const coils = groups.flatMap((group) => group.coils);
  const score = scoreOf(sheet);

  const found = new Map<string, number>();
  const stopped: { string: number; fret: number; modes: StringModes }[] = [];
  const played = Uint16Array.from(score.events, ({ string, fret }) => {
    const key = `${string}/${fret}`;
    const known = found.get(key);
    if (known !== undefined) return known;
    const note = stopString(instrument, string, fret);
    const limit = Math.min(LIVE_LIMIT, sampleRate / 2);
    stopped.push({ string, fret, modes: stringModes(instrument, pickups, coils, note, listen.pluck, limit) });
    found.set(key, stopped.length - 1);
    return stopped.length - 1;
  });
  const straight = stopped.every(({ modes }) => modes.coils.every(({ curve }) => isStraight(curve)));
  const oversampling = straight ? 1 : curveOversampling(sampleRate);
  const bendsByString = new Map<number, LiveBend[]>();
  const bendsOf = (string: number): LiveBend[] => {
    const known = bendsByString.get(string);
    if (known) return known;
    const made = bends(stopped.filter((note) => note.string === string).map(({ modes }) => modes));
    bendsByString.set(string, made);
    return made;
  };
  const behind = listen.through === 'loudspeaker' ? loudspeaker : undefined;
  return {
    sampleRate,
    seconds: score.seconds,
    times: Float64Array.from(score.events, ({ time }) => time),
    untils: Float64Array.from(score.events, ({ until }) => until),
    played,
    notes: stopped.map(({ string, fret, modes }) => ({
      string,
      fret,
      ...(straight ? merged(modes, groups) : apart(modes, bendsOf(string))),
    })),
    bent: !straight,
    ears: straight ? groups.map(mergedEar) : coilEars(groups),
    oversampling,
    filters: groups.map((group) =>
      partitionSpectra(circuitResponse(group, sampleRate, filterDelay(oversampling), !straight, behind)),
    ),
    gain: gain ?? liveGain(sheet),
  };
}

/**
 * Digital amplitude for one volt. For a matched level the loudness is that of the rendered phrase within 0.05 LU; unlike
 * there, peaks don't lower the gain: the limiter takes care of them.
 */
export function liveGain(sheet: Sheet): number {
  if (sheet.listen.level !== 'matched') return VOLT_GAIN;
  const weighted = renderVolts(sheet, {
    sampleRate: LOUDNESS_RATE,
    oversampling: 1,
    weighting: kWeightingAt,
    silence: LOUDNESS_SILENCE,
  });
  finishEnds(weighted, LOUDNESS_RATE);
  let peak = 0;
  for (let i = 0; i < weighted.length; i++) peak = Math.max(peak, Math.abs(weighted[i]!));
  return peak > SILENT_PEAK ? matchedGain(weightedPowers(weighted, LOUDNESS_RATE)) : VOLT_GAIN;
}

type Heard = Omit<LiveNote, 'string' | 'fret'>;

/** Every coil by itself. */
function apart({ angular, decay, amplitude, coils }: StringModes, bends: readonly LiveBend[]): Heard {
  return { angular, decay, amplitude, weights: coils.map(({ weights }) => weights), bends };
}

/** For every coil its curve on one string, wide enough for each of the string's notes. */
function bends(notes: readonly StringModes[]): LiveBend[] {
  return notes[0]!.coils.map(({ area, curve }, c) => {
    const widest = Math.max(...notes.map((note) => farthest(note, c))) / area;
    const { lowest, step, points } = fluxTable(curve, -widest, widest, BEND_CELLS);
    return {
      lowest: area * lowest,
      step: area * step,
      points: points.map((value, i) => (i % 2 === 0 ? area * value : value)),
    };
  });
}

/** A bound on what a coil's linear flux can reach, V·s. */
function farthest({ amplitude, coils }: StringModes, coil: number): number {
  const { weights } = coils[coil]!;
  return amplitude.reduce((sum, value, i) => sum + Math.abs(value * weights[i]!), 0);
}

function coilEars(groups: readonly CoilGroup[]): LiveEar[] {
  return groups.flatMap(({ coils }, group) =>
    coils.map(({ pickup, row, factor }) => ({ group, factor, key: `${pickup}.${row}` })),
  );
}

/** All coils of a group as one, where the flux is straight. */
function merged({ angular, decay, amplitude, coils }: StringModes, groups: readonly CoilGroup[]): Heard {
  let at = 0;
  const weights = groups.map((group) => {
    const sum = new Float64Array(angular.length);
    for (const { factor } of group.coils) {
      const one = coils[at++]!.weights;
      for (let i = 0; i < sum.length; i++) sum[i]! += factor * one[i]!;
    }
    return sum;
  });
  return { angular, decay, amplitude, weights, bends: [] };
}

function mergedEar({ coils }: CoilGroup, group: number): LiveEar {
  return { group, factor: 1, key: coils.map(({ pickup, row }) => `${pickup}.${row}`).join('+') };
}
