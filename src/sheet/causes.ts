/**
 * What two versions of a sheet differ by, as the causes of what follows from it: groups of figures that a maker changes
 * as one thing. Each comes with the later sheet in which it alone is put back, so that what follows without it can be
 * computed. Pure. What is played, and what is written on the sheet, is no cause.
 */
import { PLATES } from '../shape/plates.ts';
import { changesOf, changeWords, type Change } from './changes.ts';
import { setAt, type SheetPath } from './edit.ts';
import { listenedAs } from './heardAlike.ts';
import type { Sheet } from './sheet.ts';

/** One of them. */
export interface Cause {
  readonly name: CauseName;
  /** «gap 2.0 → 3.2 mm»; the name alone where it is many figures. */
  readonly words: string;
  /** The later sheet, with this put back to what it was. The earlier one where nothing else differs. */
  readonly undone: Sheet;
}

export type CauseName =
  | 'strings'
  | 'scale and spread'
  | 'pickups'
  | 'build'
  | 'selector'
  | 'joining'
  | 'place'
  | 'reach by hand'
  | 'typed coil'
  | 'magnets'
  | 'steel'
  | 'polarity'
  | 'tip'
  | 'single poles'
  | 'pole heights'
  | 'pole size'
  | 'rows'
  | 'gap'
  | 'turns and wire'
  | 'bobbin'
  | 'cover and base plate'
  | 'coil'
  | 'pots and capacitors'
  | 'cable and input';

/** By the place in the sheet, numbers left out; the first that fits counts. */
const CAUSES: readonly (readonly [RegExp, CauseName | null])[] = [
  [/^(format|title|notes|listen)/, null],
  [/^pickups name$/, null],
  [/^magnets ownSteel|^pickups build (coilSteel|rows pole steel)/, 'steel'],
  [/^magnets/, 'magnets'],
  [/^instrument strings/, 'strings'],
  [/^instrument/, 'scale and spread'],
  [/^(pickups|harness controls)$/, 'pickups'],
  [/^pickups (build|rows|build rows)$/, 'build'],
  [/^pickups sounds$/, 'selector'],
  [/^pickups (join|phase|reversed)$/, 'joining'],
  [/^pickups (place|slant)$/, 'place'],
  [/^pickups (reachBy$|rows reach)/, 'reach by hand'],
  [/^pickups rows coil/, 'typed coil'],
  [/^pickups build (bars|rows pole (kind|magnet))/, 'magnets'],
  [/^pickups build coils$/, 'coil'],
  [/^pickups build steel/, 'steel'],
  [/^pickups build rows (up|wound)$/, 'polarity'],
  [/^pickups build rows pole own/, 'single poles'],
  [/^pickups build rows pole tip/, 'tip'],
  [/^pickups build rows pole heights/, 'pole heights'],
  [/^pickups build rows pole/, 'pole size'],
  [/^pickups (build pitch|rows offset)$/, 'rows'],
  [/^pickups build gap/, 'gap'],
  [/^pickups build rows (turns|wire)/, 'turns and wire'],
  [/^pickups build rows window/, 'bobbin'],
  [new RegExp(`^pickups build (${PLATES.join('|')})`), 'cover and base plate'],
  [/^harness (cable|input)/, 'cable and input'],
  [/^harness/, 'pots and capacitors'],
];

const causeOf = (place: string): CauseName | null => CAUSES.find(([fits]) => fits.test(place))?.[1] ?? null;

/** All that differs, a cause each; none where the sheets are computed alike. */
export function causesBetween(before: Sheet, after: Sheet): Cause[] {
  const groups = new Map<CauseName, Change[]>();
  const other = before.instrument.strings.length !== after.instrument.strings.length;
  for (const change of changesOf(before, after)) {
    // With the number of strings go the heights of their poles.
    const name = causeOf(change.place);
    const cause = other && (name === 'pole heights' || name === 'single poles') ? 'strings' : name;
    if (cause) groups.set(cause, [...(groups.get(cause) ?? []), change]);
  }
  const alone = groups.size === 1;
  return [...groups].map(([name, changes]) => ({
    name,
    words: changeWords(name, changes),
    undone: alone ? listenedAs(before, after) : undoneIn(after, changes),
  }));
}

const undoneIn = (after: Sheet, changes: readonly Change[]): Sheet =>
  changes.reduce((sheet, { path, from }) => setAt(sheet, path as SheetPath, from as never), after);

/** The pickup that the causes are about: the only one that differs, or else the one given. From 0. */
export function pickupOf(before: Sheet, after: Sheet, chosen: number): number {
  const touched = new Set(
    changesOf(before, after).flatMap(({ path: [root, index], place }) =>
      root === 'pickups' && typeof index === 'number' && causeOf(place) ? [index] : [],
    ),
  );
  const [only] = touched;
  return touched.size === 1 && only !== undefined ? only : chosen;
}
