/** The phrase of a sheet as sound. */
import type { HeardSheet as Sheet } from '../heard/resolved.ts';
import { isStraight } from '../string/fluxCurve.ts';
import { stopString } from '../string/note.ts';
import { SILENCE } from './bank.ts';
import { coilGroups, filterFluxes, filterGroups, type Behind, type CoilGroup } from './filter.ts';
import { fluxTable, readFlux } from './fluxTable.ts';
import { finishEnds, LEAD_IN, setLevel } from './level.ts';
import { scoreOf, type ScoreEvent } from './score.ts';
import { stringModes, type CoilHearing, type StringModes } from './modes.ts';
import { addEmf, noteBank, putFlux, type Span } from './noteBank.ts';
import { loudspeaker } from './speaker.ts';

/** A rendered phrase. */
export interface Sound {
  readonly samples: Float64Array;
  readonly sampleRate: number;
  /** Digital amplitude for one volt at the amplifier's input. */
  readonly gain: number;
  /** dB that had to be taken off to stay at or below −1 dBFS; 0 when none. */
  readonly reducedDb: number;
  /** Loudness of the phrase as delivered, LUFS (ITU-R BS.1770). */
  readonly loudness: number;
  /** Highest sample, V, before any gain. */
  readonly peakVolts: number;
}

/**
 * What the selector lets through, plucked as the sheet says: every partial below half the sample rate, in both
 * polarisations, by its closed form; the coils' voltages are the derivative of the flux; then the circuit, and the
 * loudspeaker where one is asked for. Throws only when the sheet was not checked.
 */
export function render(sheet: Sheet): Sound {
  const { sampleRate, level } = sheet.listen;
  const samples = renderVolts(sheet);
  finishEnds(samples, sampleRate);
  return { samples, sampleRate, ...setLevel(samples, sampleRate, level) };
}

/**
 * How many times the sample rate the flux is computed where it is bent, so that what lies beyond the band does not fold
 * back: up to the fourth harmonic of the whole band at 44.1 and 48 kHz, and that of the audible band at 96 kHz.
 */
export function curveOversampling(sampleRate: number): number {
  return sampleRate < 80000 ? 2 : 1;
}

/** A note of the score, with what the coils of each group make of it. */
interface Played {
  readonly event: ScoreEvent;
  readonly modes: StringModes;
}

/** Where a phrase is to be rendered otherwise than the sheet says. */
export interface RenderOptions {
  /** Hz; the sheet's unless given. */
  readonly sampleRate?: number;
  /** See `curveOversampling`. */
  readonly oversampling?: number;
  /** Hz; partials above are left out. Half the sample rate unless given. */
  readonly limit?: number;
  /** Filters the result in addition. */
  readonly weighting?: Behind;
  /** s; no more of the phrase than its first so many. */
  readonly seconds?: number;
  /** Modes end when they have fallen this far below the loudest one's start, as a ratio. */
  readonly silence?: number;
}

/**
 * The voltage at the amplifier's input (or what the loudspeaker makes of it), V, before fades and level.
 *
 * Where no reach changes with the distance, the voltage is the sum of the modes' derivatives; otherwise the flux itself is
 * summed, bent, and differentiated on its spectrum.
 */
export function renderVolts(sheet: Sheet, options: RenderOptions = {}): Float64Array {
  const sampleRate = options.sampleRate ?? sheet.listen.sampleRate;
  const oversampling = options.oversampling ?? curveOversampling(sampleRate);
  const limit = options.limit ?? sampleRate / 2;
  const silence = options.silence ?? SILENCE;
  const { instrument, pickups, harness, listen } = sheet;
  const groups = coilGroups(pickups, harness, sampleRate / 2);
  if (groups.length === 0) throw new RangeError('At least one pickup must sound; got none. Select a pickup.');
  const coils = groups.flatMap((group) => group.coils);
  const score = scoreOf(sheet);
  const seconds = Math.min(score.seconds, options.seconds ?? Infinity);
  const length = Math.max(2, Math.round(seconds * sampleRate));
  const events = score.events.filter(({ time }) => (time + LEAD_IN) * sampleRate < length);

  const known = new Map<string, StringModes>();
  const notes = events.map((event): Played => {
    const key = `${event.string}/${event.fret}`;
    const stopped = stopString(instrument, event.string, event.fret);
    const modes = known.get(key) ?? stringModes(instrument, pickups, coils, stopped, listen.pluck, limit);
    known.set(key, modes);
    return { event, modes };
  });
  const straight = notes.every(({ modes }) => modes.coils.every(({ curve }) => isStraight(curve)));
  const behind = chain(listen.through === 'loudspeaker' ? loudspeaker : undefined, options.weighting);
  let first = 0;
  const shares = groups.map((group) => {
    const share = { group, first };
    first += group.coils.length;
    return share;
  });
  if (straight) {
    const voltages = shares.map((share) => straightVolts(notes, share, silence, sampleRate, length));
    return filterGroups(groups, voltages, sampleRate, behind);
  }
  const rate = sampleRate * oversampling;
  const fluxes = shares.map((share) => bentFlux(notes, share, silence, rate, length * oversampling));
  return filterFluxes(groups, fluxes, sampleRate, oversampling, behind);
}

function chain(first: Behind | undefined, then: Behind | undefined): Behind | undefined {
  if (!first || !then) return first ?? then;
  return (frequency) => {
    const a = first(frequency);
    const b = then(frequency);
    return { re: a.re * b.re - a.im * b.im, im: a.re * b.im + a.im * b.re };
  };
}

/** A group and the index of its first coil among all. */
interface Share {
  readonly group: CoilGroup;
  readonly first: number;
}

function spanOf({ time, until }: ScoreEvent, sampleRate: number): Span {
  return { onset: (time + LEAD_IN) * sampleRate, until: (until + LEAD_IN) * sampleRate };
}

/** The group's EMF as the sum of all modes, V. */
function straightVolts(
  notes: readonly Played[],
  { group, first }: Share,
  silence: number,
  sampleRate: number,
  length: number,
): Float64Array {
  const fluxes = new Map<StringModes, Float64Array>();
  for (const { modes } of notes) {
    if (fluxes.has(modes)) continue;
    const sum = new Float64Array(modes.angular.length);
    group.coils.forEach(({ factor }, c) => {
      const { weights } = modes.coils[first + c]!;
      for (let i = 0; i < sum.length; i++) sum[i]! += factor * modes.amplitude[i]! * weights[i]!;
    });
    fluxes.set(modes, sum);
  }
  const least = silence * loudestOf(fluxes);
  const out = new Float64Array(length);
  for (const { event, modes } of notes) {
    addEmf(noteBank(modes, fluxes.get(modes)!, least, sampleRate), spanOf(event, sampleRate), out);
  }
  return out;
}

/**
 * The group's flux, bent by each coil's curve, V·s. Before its pluck and after its touch a string adds a constant, which
 * induces nothing: each note is counted from where the plectrum lets go.
 */
function bentFlux(
  notes: readonly Played[],
  { group, first }: Share,
  silence: number,
  rate: number,
  length: number,
): Float64Array {
  const out = new Float64Array(length);
  const scratch = new Float64Array(length);
  group.coils.forEach(({ factor }, c) => {
    const fluxes = new Map<StringModes, Float64Array>();
    for (const { modes } of notes) {
      const { weights } = modes.coils[first + c]!;
      fluxes.set(
        modes,
        modes.amplitude.map((amplitude, i) => amplitude * weights[i]!),
      );
    }
    const least = silence * loudestOf(fluxes);
    for (const { event, modes } of notes) {
      const flux = fluxes.get(modes)!;
      const span = putFlux(noteBank(modes, flux, least, rate), spanOf(event, rate), scratch);
      const start = flux.reduce((sum, value) => sum + value, 0);
      addBent(scratch, span, start, modes.coils[first + c]!, factor, out);
      scratch.fill(0, span.from, span.to);
    }
  });
  return out;
}

function addBent(
  flux: Float64Array,
  { from, to }: { from: number; to: number },
  start: number,
  { area, curve }: CoilHearing,
  factor: number,
  out: Float64Array,
): void {
  let lowest = Math.min(0, start);
  let highest = Math.max(0, start);
  for (let i = from; i < to; i++) {
    lowest = Math.min(lowest, flux[i]!);
    highest = Math.max(highest, flux[i]!);
  }
  const table = fluxTable(curve, lowest / area, highest / area);
  const before = readFlux(table, start / area);
  for (let i = from; i < to; i++) out[i]! += factor * area * (readFlux(table, flux[i]! / area) - before);
  for (let i = to; i < out.length; i++) out[i]! -= factor * area * before;
}

/** The largest EMF of any mode of any note, V. */
function loudestOf(fluxes: ReadonlyMap<StringModes, Float64Array>): number {
  let loudest = 0;
  for (const [{ angular }, flux] of fluxes) {
    for (let i = 0; i < flux.length; i++) loudest = Math.max(loudest, Math.abs(flux[i]!) * angular[i]!);
  }
  return loudest;
}
