/**
 * Drags the focus of a computed reach: moves the geometry until the width that comes back is the one asked for. Widths
 * come from the worker a moment later, so each answer corrects the next step (secant steps, one request at a time).
 */
import { focusPath, type FocusPart, type FocusPath } from '../../sheet/focusPath.ts';
import type { Sheet } from '../../sheet/sheet.ts';
import { formatFigure } from '../../sheet/units.ts';
import type { Prediction } from '../../state/types.ts';
import type { Workbench } from '../../state/workbench.svelte.ts';

/** Near enough, m: below the last digit of the figure. */
const NEAR = 0.03e-3;
/** The longest step, m of estimated width: one answer must not throw the pickup off the guitar. */
const LONGEST = 3e-3;
/** What an answer may say about the width gained for a step of one; the rest is a kink of the width, or noise. */
const LEAST_SLOPE = 0.05;
const MOST_SLOPE = 4;
/** How much further off a step may lead, m; a tenth of what is dragged at a time. */
const ASTRAY = 0.2e-3;
/** Answers waited for after the hand has let go. */
const PATIENCE = 12;
/** How far from what was asked the focus may come to rest without a word, m: the last digit of the figure. */
const SHORT = 0.1e-3;

export class Steer {
  readonly #bench: Workbench;
  #row = 0;
  #path: FocusPath | null = null;
  #target = 0;
  /** The width that the last step was for. */
  #aimed = 0;
  #u = 0;
  #slope = 1;
  #least = 0;
  #most = 0;
  /** Where the last answer was measured; null before the first. */
  #known: { readonly u: number; readonly width: number } | null = null;
  /** The sheet whose answer is awaited. */
  #asked: Sheet | null = null;
  /** Answers that may still be used after letting go; null while held. */
  #left: number | null = null;
  /** What moved last, while something is being moved. */
  moving: FocusPart | null = $state(null);

  constructor(bench: Workbench) {
    this.#bench = bench;
  }

  /** Asks for another width of a row's reach, m; begins a gesture if none is under way. */
  aim(row: number, width: number, by: FocusPart): void {
    if (!this.#path || this.#row !== row || this.#left !== null) this.#begin(row, by);
    this.#target = width;
    this.#step();
  }

  /** A width that was typed: goes there and keeps it. */
  go(row: number, width: number, by: FocusPart): void {
    this.#begin(row, by);
    this.#target = width;
    this.#left = PATIENCE;
    this.#step();
  }

  /** The hand lets go, or a figure was typed: goes on until the width is there, and keeps what it then has. */
  release(): void {
    if (!this.#path) return;
    this.#left = PATIENCE;
    if (!this.#asked) this.#step();
  }

  cancel(): void {
    if (!this.#path) return;
    this.#end();
    this.#bench.cancel();
  }

  /** A prediction or its faults have come: ours, or that of a sheet asked for earlier. */
  answered(): void {
    if (!this.#asked) return;
    // Somebody else has changed the sheet meanwhile: their change stands.
    if (this.#bench.sheet !== this.#asked) {
      this.#end();
      return;
    }
    const outcome = this.#bench.outcomeOf(this.#asked);
    if (!outcome) return;
    this.#asked = null;
    if (this.#left !== null) this.#left -= 1;
    const width = widthIn(outcome.prediction, this.#bench.chosen, this.#row);
    if (outcome.faults.length > 0 || width === null || this.#astray(width)) this.#back();
    else {
      this.#learn(width);
      this.#step();
    }
  }

  #begin(row: number, by: FocusPart): void {
    const build = this.#bench.sheet.pickups[this.#bench.chosen]?.build;
    if (!build) return;
    this.#path = focusPath(build, row, by);
    this.#row = row;
    this.#u = 0;
    this.#slope = 1;
    this.#least = this.#path.least;
    this.#most = this.#path.most;
    this.#asked = null;
    this.#left = null;
    const width = widthIn(this.#bench.prediction, this.#bench.chosen, row);
    this.#known = width === null ? null : { u: 0, width };
  }

  #end(): void {
    this.#path = null;
    this.#asked = null;
    this.#left = null;
    this.moving = null;
  }

  /** Whether a step has led away from what it was for: then the width does not go that way at all. */
  #astray(width: number): boolean {
    if (!this.#known) return false;
    const aim = this.#aimed;
    return Math.abs(aim - width) > Math.abs(aim - this.#known.width) + ASTRAY;
  }

  #learn(width: number): void {
    const before = this.#known;
    this.#known = { u: this.#u, width };
    if (!before || Math.abs(this.#u - before.u) < 1e-6) return;
    const slope = (width - before.width) / (this.#u - before.u);
    this.#slope = Math.min(MOST_SLOPE, Math.max(LEAST_SLOPE, slope));
  }

  #step(): void {
    if (!this.#path || this.#asked || !this.#known) return;
    const error = this.#target - this.#known.width;
    const step = Math.max(-LONGEST, Math.min(LONGEST, error / this.#slope));
    const u = Math.max(this.#least, Math.min(this.#most, this.#known.u + step));
    const done = Math.abs(error) < NEAR || u === this.#u || this.#left === 0;
    if (!done) this.#ask(u);
    else if (this.#left !== null) this.#keep();
  }

  /** What was tried can't be built: that far and no further on this way. */
  #back(): void {
    const good = this.#known?.u ?? 0;
    this.#stop();
    // What was there before can't be built either.
    if (this.#u === good) {
      if (this.#left !== null) this.#keep();
    } else this.#ask(good);
  }

  #stop(): void {
    const good = this.#known?.u ?? 0;
    if (this.#u > good) this.#most = good;
    else this.#least = good;
  }

  #ask(u: number): void {
    if (!this.#path) return;
    const before = this.#bench.sheet;
    const { build, part } = this.#path.at(u);
    this.#u = u;
    this.#aimed = this.#target;
    this.moving = part;
    this.#bench.preview(['pickups', this.#bench.chosen, 'build'], build);
    if (this.#bench.sheet !== before) this.#asked = this.#bench.sheet;
    else {
      // Refused, or nothing to change: no answer will come.
      this.#stop();
      this.#u = this.#known?.u ?? 0;
      if (this.#left !== null) this.#keep();
    }
  }

  #keep(): void {
    const short = this.#short();
    this.#end();
    this.#bench.commit();
    if (short !== '') this.#bench.message = short;
  }

  /** Why the focus is not what was asked for; empty when it is. */
  #short(): string {
    const width = this.#known?.width;
    if (width === undefined || Math.abs(width - this.#target) <= SHORT) return '';
    const [got, asked] = [tenths(width), tenths(this.#target)];
    if (this.#u > this.#least && this.#u < this.#most)
      return `The focus came to ${got}, not to ${asked}: it does not move evenly with the build. Set it once more to come nearer.`;
    const end = this.#target < width ? 'narrow' : 'wide';
    return `${got} is as ${end} as the focus goes this way; ${asked} was asked for. Move the gap or another part, or set the focus by hand.`;
  }
}

/** A width as the figure shows it. */
const tenths = (width: number): string => formatFigure(Math.round(width * 1e4) / 1e4, 'focus');

/** The width of a row's reach, m; null while nothing is computed. */
const widthIn = (prediction: Prediction | null, pickup: number, row: number): number | null =>
  prediction?.voices[pickup]?.reach.rows[row]?.width ?? null;
