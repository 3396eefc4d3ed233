import { addPartials, createPartials, type Partials } from './partials.ts';

/**
 * The modal bank: a sum of decaying partials, fast and without allocating, for rendering and for live blocks alike.
 *
 * | symbol | here | unit |
 * | --- | --- | --- |
 * | ω, α | `turn`, `fall` | rad and 1 per SAMPLE |
 * | G | `gainRe`, `gainIm` | of the output |
 * | t | time since the pluck | samples, whole or not |
 *
 * Output: Σ Re(G e^((−α+iω)t)). Every block is started afresh from the closed form and continued by the recurrence
 * y(t+1) = 2e^(−α)cos ω y(t) − e^(−2α) y(t−1), which is exact but for rounding. Its rounding errors grow at most like ε·N/ω
 * within a block of N samples: for N = 2048 and 80 Hz at 96 kHz (ω = 0.005) 9e-11 of the mode, −201 dB, and
 * they do not add up from block to block.
 */
export interface ModeBank {
  readonly count: number;
  readonly turn: Float64Array;
  readonly fall: Float64Array;
  /** Samples after which a mode may be left out, descending: what still sounds is always the front of the list. */
  readonly lasts: Float64Array;
  /** Where each block's partials are started; nobody else's to read. */
  readonly started: Partials;
}

/** A mode ends when it has fallen this far, as a ratio to the loudest mode's start (−144 dB, the step of 24 bits). */
export const SILENCE = 10 ** (-144 / 20);

/** A bank of a number of modes; fill the arrays, `lasts` descending, before use. */
export function createBank(capacity: number): ModeBank {
  return {
    count: capacity,
    turn: new Float64Array(capacity),
    fall: new Float64Array(capacity),
    lasts: new Float64Array(capacity),
    started: createPartials(capacity),
  };
}

/**
 * Add the bank's output to out[from … to−1].
 *
 * @param time of out[from], samples since the pluck, ≥ 0.
 * @param gainRe,gainIm one value a mode: G. Other gains over the same bank give other outputs (coils).
 */
export function addModes(
  bank: ModeBank,
  gainRe: Float64Array,
  gainIm: Float64Array,
  time: number,
  out: Float64Array,
  from: number,
  to: number,
): void {
  const { turn, fall, lasts } = bank;
  let alive = bank.count;
  while (alive > 0 && lasts[alive - 1]! <= time) alive--;
  const { y0, y1, turn: turns, fall: falls } = bank.started;
  for (let i = 0; i < alive; i++) {
    y0[i] = valueAt(turn, fall, gainRe, gainIm, i, time);
    y1[i] = valueAt(turn, fall, gainRe, gainIm, i, time + 1);
    const ratio = Math.exp(-fall[i]!);
    turns[i] = 2 * ratio * Math.cos(turn[i]!);
    falls[i] = ratio * ratio;
  }
  addPartials(bank.started, alive, out, from, to);
}

/** Re(G e^((−α+iω)t)), the closed form. */
function valueAt(
  turn: Float64Array,
  fall: Float64Array,
  gainRe: Float64Array,
  gainIm: Float64Array,
  i: number,
  time: number,
): number {
  const phase = turn[i]! * time;
  return Math.exp(-fall[i]! * time) * (gainRe[i]! * Math.cos(phase) - gainIm[i]! * Math.sin(phase));
}

/** Samples that one call of `addModes` should cover when rendering; the error bound above holds for it. */
export const BLOCK = 2048;
