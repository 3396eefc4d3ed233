/** One plucked note in a buffer: from its pluck, through its decay, to the touch that ends it. */
import { addModes, BLOCK, createBank, type ModeBank } from './bank.ts';
import type { StringModes } from './modes.ts';
import { TOUCH, touchLeft, touchSlope } from './touch.ts';

/** A bank at a sample rate with two sets of gains: flux, and its derivative by time. */
export interface NoteBank {
  readonly bank: ModeBank;
  readonly fluxRe: Float64Array;
  readonly emfRe: Float64Array;
  readonly emfIm: Float64Array;
  readonly sampleRate: number;
}

/** Sort the modes by how long they sound and turn them into a bank that runs in samples. @param least EMF at which a mode ends, V */
export function noteBank(
  { angular, decay }: StringModes,
  flux: Float64Array,
  least: number,
  sampleRate: number,
): NoteBank {
  const lasts = flux.map(
    (value, i) => (Math.log((Math.abs(value) * angular[i]!) / least) / decay[i]!) * sampleRate,
  );
  const order = Array.from(lasts.keys())
    .filter((i) => lasts[i]! > 0)
    .sort((a, b) => lasts[b]! - lasts[a]!);
  const bank = createBank(order.length);
  const fluxRe = new Float64Array(order.length);
  const emfRe = new Float64Array(order.length);
  const emfIm = new Float64Array(order.length);
  order.forEach((from, to) => {
    bank.turn[to] = angular[from]! / sampleRate;
    bank.fall[to] = decay[from]! / sampleRate;
    bank.lasts[to] = lasts[from]!;
    fluxRe[to] = flux[from]!;
    // d/dt of flux e^((−α+iω)t)
    emfRe[to] = -decay[from]! * flux[from]!;
    emfIm[to] = angular[from]! * flux[from]!;
  });
  return { bank, fluxRe, emfRe, emfIm, sampleRate };
}

/** Samples (not whole) between which a note sounds. */
export interface Span {
  readonly onset: number;
  readonly until: number;
}

/** Add the note's EMF (V) to `out`. */
export function addEmf(note: NoteBank, span: Span, out: Float64Array): void {
  const { bank, fluxRe, emfRe, emfIm, sampleRate } = note;
  const { free, end } = stretches(span, sampleRate, out.length);
  addFrom(note, emfRe, emfIm, span.onset, out, free);
  if (end <= free) return;
  const emf = new Float64Array(end - free);
  const flux = new Float64Array(end - free);
  addModes(bank, emfRe, emfIm, free - span.onset, emf, 0, emf.length);
  addModes(bank, fluxRe, new Float64Array(bank.count), free - span.onset, flux, 0, flux.length);
  for (let i = 0; i < emf.length; i++) {
    const x = touchShare(free + i, span, sampleRate);
    out[free + i]! += touchLeft(x) * emf[i]! + touchSlope(x) * flux[i]!;
  }
}

/**
 * Put the note's flux (V·s, linear) into `out` from the sample `from` on, which the caller has cleared; returns the
 * sample after its last.
 */
export function putFlux(note: NoteBank, span: Span, out: Float64Array): { from: number; to: number } {
  const { bank, fluxRe, sampleRate } = note;
  const { from, free, end } = stretches(span, sampleRate, out.length);
  addFrom(note, fluxRe, new Float64Array(bank.count), span.onset, out, end);
  for (let i = free; i < end; i++) out[i]! *= touchLeft(touchShare(i, span, sampleRate));
  return { from, to: end };
}

function touchShare(sample: number, { until }: Span, sampleRate: number): number {
  return 1 - (until - sample) / (TOUCH * sampleRate);
}

/** First sample of the note, first one of the touch, and the one after its last. */
function stretches(
  { onset, until }: Span,
  sampleRate: number,
  length: number,
): { from: number; free: number; end: number } {
  const from = Math.min(length, Math.max(0, Math.ceil(onset)));
  const end = Math.max(from, Math.min(length, Math.ceil(until)));
  const free = Math.min(end, Math.max(from, Math.ceil(until - TOUCH * sampleRate)));
  return { from, free, end };
}

/** As `addNote`, up to the sample `end`. */
function addFrom(
  { bank }: NoteBank,
  re: Float64Array,
  im: Float64Array,
  onset: number,
  out: Float64Array,
  end: number,
): void {
  for (let from = Math.max(0, Math.ceil(onset)); from < end; from += BLOCK) {
    addModes(bank, re, im, from - onset, out, from, Math.min(from + BLOCK, end));
  }
}
