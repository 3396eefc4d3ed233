/** How many turns it takes: for a resonance into the cable and pots that are there. */
import { hasCoil } from '../shape/hasCoil.ts';
import type { Sheet } from '../sheet/sheet.ts';
import type { FieldSolver } from './field.ts';
import { fieldQuestion } from './fieldQuestion.ts';
import type { FieldAnswer, Fields } from './heard/fieldAnswer.ts';
import { resolve } from './heard/resolve.ts';
import { heardWith, resonanceOf } from './matters.ts';
import { rewound } from './rewound.ts';
import { FEWEST_TURNS as FEWEST, MOST_TURNS, withBuild } from './woundBuild.ts';

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
/** Of turns, a share: a tenth of one in a coil. */
const ENOUGH = 1e-5;
/** Solves at most, and steps of what is reckoned in between. */
const MOST = 7;
const MOST_STEPS = 12;

/**
 * Turns of all rows by one factor. What other turns do is reckoned from what is known (`rewound.ts`) and the pickup solved where they lead, until
 * its own resonance is the one: two solves do, as a rule. The pickup is heard as the selector has it, or alone where it is not let through; wire and bobbin stay.
 *
 * @param fields of the sheet's pickups; null has them computed
 * @throws RangeError for a pickup without a build, or with a typed inductance, which turns do not move; FieldError
 */
export function turnsFor(
  sheet: Sheet,
  { pickup, resonance }: TargetWish,
  solver: FieldSolver,
  fields: Fields | null = null,
): Target {
  const own = sheet.pickups[pickup];
  if (!own?.build)
    throw new RangeError('The pickup must have a build for its turns to be found; it has none.');
  if (!hasCoil(own.build))
    throw new RangeError('The pickup must have a coil for its turns to be found; it has none. Put it on.');
  if (own.rows.some(({ coil }) => coil.inductance !== null))
    throw new RangeError(
      'The inductance must be left to the build for turns to move it; one is typed. Clear it.',
    );
  const wind = new Wound(sheet, pickup, solver, fields ?? solver.fields(sheet));
  const ready = (b: number, limit: string): Target => {
    const found = wind.at(b);
    const reached = found !== null && Math.abs(Math.log(found / resonance)) < NEAR;
    return { turns: wind.turns(b), resonance: found, reached, limit: reached ? '' : limit };
  };
  const [least, most] = wind.ends;
  const full = wind.fills
    ? `The bobbin takes ${wind.turns(most).join(' and ')} turns of this wire, and more would be needed. Take thinner wire, or a wider bobbin.`
    : `A coil has at most ${MOST_TURNS} turns.`;
  const few = `A coil has at least ${FEWEST} turns, and fewer would be needed. Take a shorter cable.`;
  const none = 'The pots and the cable leave no peak. Take pots of more resistance.';
  const low = 'A curve ends at 20 kHz.';
  let b = 0;
  for (let i = 0; i < MOST; i++) {
    const found = wind.at(b);
    if (found === null) return ready(b, b < 0 ? low : none);
    const off = Math.log(found / resonance);
    if (Math.abs(off) < 0.2 * NEAR) break;
    const stuck = b <= least + 1e-9 ? off < 0 : b >= most - 1e-9 ? off > 0 : false;
    if (stuck) return ready(b, off > 0 ? full : few);
    const next = wind.reckoned(b, resonance);
    if (wind.turns(next).join() === wind.turns(b).join()) break;
    b = next;
  }
  return ready(b, 'Whole turns come no nearer.');
}

/** A pickup with its turns by a factor, of which `b` is the natural logarithm. */
class Wound {
  /** Between which `b` may lie. */
  readonly ends: readonly [least: number, most: number];
  /** Whether it is the bobbin that ends it. */
  readonly fills: boolean;
  private readonly start: readonly number[];
  private readonly heard: Sheet;
  private readonly known = new Map<string, number | null>();
  private readonly first: FieldAnswer;

  /** @param fields of the sheet's pickups */
  constructor(
    sheet: Sheet,
    private readonly pickup: number,
    private readonly solver: FieldSolver,
    private readonly fields: Fields,
  ) {
    this.heard = heardWith(sheet, pickup);
    this.first = fields[pickup]!;
    this.start = sheet.pickups[pickup]!.build!.rows.map(({ turns }) => turns);
    // By what the bobbin takes of the wire; every refusal of turns comes from it.
    const fit = Math.min(...this.first.coils.map(({ turnsThatFit }, r) => turnsThatFit / this.start[r]!));
    const most = MOST_TURNS / Math.max(...this.start);
    this.fills = fit <= most;
    this.ends = [Math.log(FEWEST / Math.min(...this.start)), Math.log(Math.min(fit, most))];
  }

  turns(b: number): readonly number[] {
    return this.start.map((turns) => Math.round(turns * Math.exp(b)));
  }

  /** The resonance with these turns, Hz; null where there is none. @throws FieldError */
  at(b: number): number | null {
    const key = this.turns(b).join(' ');
    const known = this.known.get(key);
    if (known !== undefined) return known;
    const sheet = this.wound(this.turns(b));
    const asked = sheet.pickups.map((_, i) => i === this.pickup);
    const answer = b === 0 ? this.first : this.solver.fields(sheet, asked)[this.pickup]!;
    const found = this.resonance(sheet, answer);
    this.known.set(key, found);
    return found;
  }

  /** Where the resonance (Hz) should be found, by how far what is reckoned is off at a place that is known: the secant, in logarithms. */
  reckoned(from: number, resonance: number): number {
    const [least, most] = this.ends;
    const within = (b: number): number => Math.min(most, Math.max(least, b));
    const guess = (b: number): number | null => {
      // Not in whole turns: a secant wants a smooth curve.
      const sheet = this.wound(this.start.map((turns) => turns * Math.exp(b)));
      return this.resonance(sheet, rewound(this.first, fieldQuestion(sheet, this.pickup)!.build));
    };
    const off = Math.log(this.at(from)! / resonance);
    const start = guess(from);
    let [a, fa] = [from, off];
    let b = within(from + off);
    for (let i = 0; start !== null && i < MOST_STEPS && Math.abs(b - a) > ENOUGH; i++) {
      const found = guess(b);
      if (found === null) break;
      const fb = off + Math.log(found / start);
      const slope: number = (fb - fa) / (b - a);
      [a, fa] = [b, fb];
      // Never the wrong way, however a curve that bends tells it.
      b = within(b - fb / Math.min(-0.2, slope));
    }
    return b;
  }

  private resonance(sheet: Sheet, answer: FieldAnswer): number | null {
    return resonanceOf(
      resolve(
        sheet,
        this.fields.map((field, i) => (i === this.pickup ? answer : field)),
      ),
    );
  }

  private wound(turns: readonly number[]): Sheet {
    const { build } = this.heard.pickups[this.pickup]!;
    const rows = build!.rows.map((row, r) => ({ ...row, turns: turns[r]! }));
    return withBuild(this.heard, this.pickup, { ...build!, rows });
  }
}
