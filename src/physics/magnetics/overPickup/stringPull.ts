/** How close a pickup may sit before a note goes sour. */
import type { BuiltPickup } from '../build/build.ts';
import type { ChargedPickup } from '../pickup/chargedPickup.ts';
import { coverTop } from '../../../shape/cover.ts';
import { highestUnder } from '../../../shape/faces.ts';
import { stringHeights } from './stringHeights.ts';
import { STRING_STEP, stringOverPickup } from './stringLine.ts';
import type { StringAbove } from './stringLine.ts';
import { detuning, pull } from './pull.ts';
import type { Pull } from './pull.ts';

/** A note on a string over the pickup: `length`, `frequency` and `place` are those of the string as it is stopped. */
export interface NoteAbove extends StringAbove {
  /** How much lower than open it lies over the pickup, m; see shape/fretted.ts. */
  readonly lowered: number;
}

/** Range of the search: a pickup is never lowered further, and a string never let nearer to a pole or a cover, m. */
const LOWEST = 10e-3;
const NEAREST = 0.3e-3;
/** How finely a limit is looked for, m: a screw's setting is no finer. */
const SETTING = 1e-5;
/** From one clearance to the next while a limit is looked for. */
const STRIDE = 1.7;

/** How far the pickup may be raised for one note. */
export interface NoteLimit {
  /** m; below 0 it must be lowered. */
  readonly raise: number;
  /** What its first partial then shifts by, the worse of its two polarisations, cents; below 0: flat. */
  readonly shift: number;
  /** Whether a pole or a cover comes to the string before it shifts so far. */
  readonly touches: boolean;
}

/**
 * How far the pickup may be raised until each note's first partial shifts by so many cents, each for itself.
 *
 * @param strings all of them, open, string 1 first: they say how the strings lie
 * @param notes on string `on` (from 0) each
 * @param cents above 0
 * @param slant rad
 * @returns null for a note for which 10 mm lower is still too close
 */
export function noteLimits(
  pickup: ChargedPickup,
  strings: readonly StringAbove[],
  notes: readonly { readonly on: number; readonly note: NoteAbove }[],
  cents: number,
  slant = 0,
): readonly (NoteLimit | null)[] {
  const { build } = pickup;
  const heights = stringHeights(build, strings);
  /** What pulls at a string with its underside so far over a pole or a cover: of all its notes, for it does not know them. */
  const pulls = strings.map(() => new Map<number, Pull>());
  return notes.map(({ on, note }) => {
    const radius = 0.5 * note.outerDiameter;
    const top = topUnder(build, on, strings[on]!.y);
    const room = heights[on]! - note.lowered - radius - top;
    const known = pulls[on]!;
    const shift = (clearance: number): number => {
      let found = known.get(clearance);
      if (!found) known.set(clearance, (found = pullAt(pickup, note, top + radius + clearance, slant)));
      return worseShift(found, note);
    };
    const limit = closestClearance(shift, cents, room, room + LOWEST, [...known.keys()]);
    if (!limit) return null;
    const { clearance, value } = limit;
    return { raise: room - clearance, shift: value, touches: clearance === NEAREST };
  });
}

/** z of what the string can touch, m; without anything under it, of the plane of the nominal tops. */
function topUnder(build: BuiltPickup, on: number, y: number): number {
  const top = Math.max(coverTop(build), highestUnder(build, on, y));
  return Number.isFinite(top) ? top : 0;
}

/** What pulls at a string with its axis so high, m. */
const pullAt = (pickup: ChargedPickup, string: StringAbove, height: number, slant: number): Pull =>
  pull(stringOverPickup(pickup, string, height, slant, false).magnetised);

/** Cents by which a note shifts, the worse of its two polarisations; below 0: flat. */
function worseShift(pulls: Pull, note: NoteAbove): number {
  const { centsZ, centsY } = detuning(pulls, STRING_STEP, note, 1);
  return Math.abs(centsZ) >= Math.abs(centsY) ? centsZ : centsY;
}

/** What every note shifts by with the pickup raised so far, m; arguments as for noteLimits. Cents; below 0: flat. */
export function shiftsWhenRaised(
  pickup: ChargedPickup,
  strings: readonly StringAbove[],
  notes: readonly { readonly on: number; readonly note: NoteAbove }[],
  raise: number,
  slant = 0,
): readonly number[] {
  const heights = stringHeights(pickup.build, strings);
  return notes.map(({ on, note }) =>
    worseShift(pullAt(pickup, note, heights[on]! - note.lowered - raise, slant), note),
  );
}

interface Found {
  readonly clearance: number;
  readonly value: number;
}

/**
 * The least clearance at which a shift that falls as it grows is within the cents; NEAREST where it is even there, null where it
 * is not even at `most`. m.
 *
 * @param from where to begin looking, m
 * @param known clearances at which the shift costs nothing: it begins with those on either side of the cents
 */
export function closestClearance(
  shift: (clearance: number) => number,
  cents: number,
  from: number,
  most: number,
  known: readonly number[] = [],
): Found | null {
  const at = (clearance: number): Found => ({ clearance, value: shift(clearance) });
  const within = ({ value }: Found): boolean => Math.abs(value) <= cents;
  const end = Math.max(NEAREST, most);
  const all = known.filter((clearance) => clearance >= NEAREST && clearance <= end).map(at);
  const good = all.filter(within).sort((a, b) => a.clearance - b.clearance)[0];
  const bad = all.filter((one) => !within(one)).sort((a, b) => b.clearance - a.clearance)[0];
  let here = good ?? bad ?? at(Math.min(end, Math.max(NEAREST, from)));
  let other = bad ?? here;
  // In strides to where it is on the other side of the cents.
  while (within(here) === within(other)) {
    here = other;
    if (within(here)) {
      if (here.clearance === NEAREST) return here;
      other = at(Math.max(NEAREST, here.clearance / STRIDE));
    } else {
      if (here.clearance === end) return null;
      other = at(Math.min(end, here.clearance * STRIDE));
    }
  }
  let [near, far] = within(here) ? [other, here] : [here, other];
  // A shift falls about as a power of the distance, so that straight lines are drawn between logarithms; halves where that is slow.
  for (let turn = 0; far.clearance - near.clearance > SETTING; turn++) {
    const [a, b] = [excess(near, cents), excess(far, cents)];
    const share = turn % 3 === 2 || !Number.isFinite(a) || !Number.isFinite(b) ? 0.5 : a / (a - b);
    const wide = far.clearance - near.clearance;
    const ratio = near.clearance * (far.clearance / near.clearance) ** share;
    // Next to an end it would close in on that end alone.
    const middle = Math.min(
      far.clearance - 0.4 * Math.min(SETTING, wide),
      Math.max(near.clearance + 0.4 * Math.min(SETTING, wide), ratio),
    );
    const next = at(middle);
    if (within(next)) far = next;
    else near = next;
  }
  return far;
}

const excess = ({ value }: Found, cents: number): number => Math.log(Math.abs(value) / cents);
