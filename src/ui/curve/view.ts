/** Where the curve's axes stand, px. */
import { linearScale, logScale, type Scale } from '../../plot/scale.ts';
import type { Voice } from '../../state/types.ts';

export interface Place {
  readonly x: number;
  readonly y: number;
}

/** A curve's name on the paper. */
export interface Tag {
  readonly index: number;
  readonly words: string;
  /** All curves that are drawn, dB at the same frequencies. */
  readonly curves: readonly Float64Array[];
}

export interface CurveView {
  readonly height: number;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
  readonly f: Scale;
  readonly db: Scale;
  /** Lowest level drawn, dB. */
  readonly low: number;
  /** Where a curve's name begins: just above it, each a little further along than the last, and off all the other curves. */
  tag(frequencies: Float64Array, db: Float64Array, name: Tag): Place;
  /** Where a curve has fallen. */
  fall(frequencies: Float64Array, db: Float64Array): number;
  /** On one side of a curve, where it has fallen, or at its right end. */
  foot(frequencies: Float64Array, db: Float64Array, side: 'left' | 'right'): Place;
}

/** Kept free above all curves for what is called out there, dB. */
const HEADROOM = 8;
/** Highest level drawn unless a curve goes higher; steps of 12 dB keep the axis still while a part is changed. */
const USUAL_TOP = 12;
const SPAN = 60;
/** Of a name on the paper, px: the width of a letter, the height of a capital, and what it keeps from a curve below it. */
const LETTER = 7;
const CAPITAL = 13;
const CLEAR = 5;
/** How far down fallen curves bear their letters, dB: a little apart, because two curves often run together. */
const FOOT = 34;
const LOWER_FOOT = 44;

/** px: what a word on the paper keeps from the line that it belongs to. */
const BESIDE = 6;

/**
 * Where a text ends that is called out to the left of its place and stands across the height of another's line: at its own
 * place, unless that line went through it; then beside that.
 * @param right end of the paper
 * @param line x of the other's line; null where there is none
 */
export function endOfText(words: string, x: number, right: number, line: number | null): number {
  const end = Math.min(x, right) - BESIDE;
  const start = end - LETTER * words.length - BESIDE;
  return line !== null && line > start && line < end + BESIDE ? line - BESIDE : end;
}

/** @param voices all whose curves are drawn */
export function curveView(voices: readonly Voice[], width: number): CurveView {
  const left = 40;
  const right = Math.max(left + 60, width - 10);
  const top = 28;
  const height = width < 560 ? 278 : 308;
  const bottom = height - 30;
  let most = -Infinity;
  for (const voice of voices) {
    for (const level of voice.circuitDb) most = Math.max(most, level);
  }
  const high = Math.max(USUAL_TOP, Math.ceil((most + HEADROOM) / 12) * 12);
  const f = logScale([20, 20000], [left, right]);
  const db = linearScale([high - SPAN, high], [bottom, top]);
  return {
    height,
    left,
    right,
    top,
    bottom,
    f,
    db,
    low: high - SPAN,
    tag: (frequencies, levels, { index, words, curves }) => {
      const x = f.to(60 * 2.6 ** index);
      const end = f.from(x + LETTER * words.length);
      const first = frequencies.findIndex((v) => f.to(v) >= x);
      const past = frequencies.findIndex((v) => v > end);
      const heights = (curve: Float64Array): number[] =>
        Array.from(curve.subarray(first, past), (level) => db.to(level));
      let y = Math.min(...heights(levels)) - CLEAR;
      const all = curves.flatMap(heights);
      // Up, until no curve goes through it.
      for (;;) {
        const through = all.filter((at) => at > y - CAPITAL && at < y + CLEAR - 1);
        if (through.length === 0) return { x, y };
        y = Math.min(...through) - CLEAR;
      }
    },
    fall: (frequencies, levels) => frequencies[levels.findLastIndex((level) => level > high - FOOT)] ?? 20000,
    foot: (frequencies, levels, side) => {
      const left = side === 'left';
      const last = levels.findLastIndex((level) => level > high - (left ? LOWER_FOOT : FOOT));
      const level = levels[last] ?? high - SPAN;
      const x = f.to(frequencies[last] ?? 20000) + (left ? -20 : 7);
      return { x: Math.min(x, right - 9), y: db.to(level) };
    },
  };
}
