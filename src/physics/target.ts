/** How many turns it takes: for a resonance into the cable and pots that are there. */
import { hasCoil } from '../shape/hasCoil.ts';
import type { Sheet } from '../sheet/sheet.ts';
import type { FieldSolver } from './field.ts';
import type { Fields } from './heard/fieldAnswer.ts';
import { resolve } from './heard/resolve.ts';
import { heardWith, resonanceOf } from './matters.ts';
import { FEWEST_TURNS as FEWEST, MOST_TURNS } from './woundBuild.ts';

/** What is wanted of a pickup, from 0: Hz. */
export interface TargetWish {
  readonly pickup: number;
  readonly resonance: number;
}

/** What it takes, or what comes nearest. */
export interface Target {
  /** Of every row. */
  readonly turns: readonly number[];
  /** With these, Hz; null where there is none. */
  readonly resonance: number | null;
  readonly reached: boolean;
  /** Which limit stands in the way, in a sentence; empty where none does. */
  readonly limit: string;
}

/** Share within which it is reached: one turn in a thousand moves it by a thousandth. */
const NEAR = 2e-3;
/** Solves at most. */
const MOST = 7;

/**
 * Turns of all rows by one factor, found by the secant in the logarithms, in which the resonance is nearly a straight line; three
 * or four solves do. The pickup is heard as the selector has it, or alone where it is not let through; wire and bobbin stay.
 *
 * @throws RangeError for a pickup without a build, or with a typed inductance, which turns do not move; FieldError
 */
export function turnsFor(sheet: Sheet, { pickup, resonance }: TargetWish, solver: FieldSolver): Target {
  const own = sheet.pickups[pickup];
  if (!own?.build)
    throw new RangeError('The pickup must have a build for its turns to be found; it has none.');
  if (!hasCoil(own.build))
    throw new RangeError('The pickup must have a coil for its turns to be found; it has none. Put it on.');
  if (own.rows.some(({ coil }) => coil.inductance !== null))
    throw new RangeError(
      'The inductance must be left to the build for turns to move it; one is typed. Clear it.',
    );
  const start = own.build.rows.map(({ turns }) => turns);
  const wound = (factor: number): number[] => start.map((turns) => Math.round(turns * factor));
  const known = new Map<string, { readonly resonance: number | null; readonly fit: number }>();
  const at = (factor: number) => {
    const turns = wound(factor);
    const key = turns.join(' ');
    const found = known.get(key) ?? solved(withTurns(sheet, pickup, turns), pickup, turns, solver);
    known.set(key, found);
    return found;
  };
  const ready = (factor: number, limit: string): Target => {
    const found = at(factor).resonance;
    const reached = found !== null && Math.abs(Math.log(found / resonance)) < NEAR;
    return { turns: wound(factor), resonance: found, reached, limit: reached ? '' : limit };
  };
  const first = at(1);
  const least = FEWEST / Math.min(...start);
  // By what the bobbin takes of the wire; every refusal of turns comes from it.
  const most = Math.min(first.fit, MOST_TURNS / Math.max(...start));
  const full =
    first.fit <= MOST_TURNS / Math.max(...start)
      ? `The bobbin takes ${wound(most).join(' and ')} turns of this wire, and more would be needed. Take thinner wire, or a wider bobbin.`
      : `A coil has at most ${MOST_TURNS} turns.`;
  const few = `A coil has at least ${FEWEST} turns, and fewer would be needed. Take a shorter cable.`;
  const none = 'The pots and the cable leave no peak. Take pots of more resistance.';
  const low = 'A curve ends at 20 kHz.';
  let [a, fa] = [0, first.resonance === null ? null : Math.log(first.resonance / resonance)];
  // A first guess where there is nothing to see: fewer turns.
  if (fa === null) return ready(1, none);
  let b = clamped(fa, least, most);
  for (let i = 0; i < MOST; i++) {
    const found = at(Math.exp(b)).resonance;
    if (found === null) return ready(Math.exp(b), b < a ? low : none);
    const fb = Math.log(found / resonance);
    if (Math.abs(fb) < 0.2 * NEAR) break;
    const stuck = b <= Math.log(least) + 1e-9 ? fb < 0 : b >= Math.log(most) - 1e-9 ? fb > 0 : false;
    if (stuck) return ready(Math.exp(b), fb > 0 ? full : few);
    const slope: number = Math.abs(b - a) > 1e-6 ? (fb - fa) / (b - a) : -1;
    [a, fa] = [b, fb];
    // Never the wrong way, however a curve that bends tells it.
    b = clamped(b - fb / Math.min(-0.2, slope), least, most);
    if (wound(Math.exp(b)).join() === wound(Math.exp(a)).join()) break;
  }
  return ready(Math.exp(b), 'Whole turns come no nearer.');
}

const clamped = (b: number, least: number, most: number): number =>
  Math.min(Math.log(most), Math.max(Math.log(least), b));

const withTurns = (sheet: Sheet, pickup: number, turns: readonly number[]): Sheet => ({
  ...sheet,
  pickups: sheet.pickups.map((one, i) => {
    if (i !== pickup || !one.build) return one;
    const rows = one.build.rows.map((row, r) => ({ ...row, turns: turns[r]! }));
    return { ...one, build: { ...one.build, rows } };
  }),
});

/** With how many times as many turns the fullest bobbin is full. */
function solved(
  sheet: Sheet,
  pickup: number,
  turns: readonly number[],
  solver: FieldSolver,
): { readonly resonance: number | null; readonly fit: number } {
  const heard = heardWith(sheet, pickup);
  const fields: Fields = solver.fields(heard);
  const coils = fields[pickup]?.coils ?? [];
  const fit = Math.min(...coils.map(({ turnsThatFit }, r) => turnsThatFit / turns[r]!));
  return { resonance: resonanceOf(resolve(heard, fields)), fit };
}
