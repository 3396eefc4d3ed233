/** What to wind and to build for what is wanted: found among what there is. */
import type { PickupBuild, Search, Sheet, WantKey, Wants } from '../sheet/sheet.ts';
import type { FieldSolver } from './field.ts';
import { FieldError } from './fieldFaults.ts';
import { fieldQuestion } from './fieldQuestion.ts';
import type { FieldAnswer, Fields } from './heard/fieldAnswer.ts';
import { heardWith } from './matters.ts';
import { boundedLeast, type Columns, type Least } from './numerics/boundedLeast.ts';
import { Kept } from './numerics/kept.ts';
import { rewound } from './rewound.ts';
import { againstOf, missingOf, type Against, type Missing } from './searchFigures.ts';
import { endsOf, limitsOf } from './searchLimits.ts';
import {
  builtAt,
  changed,
  checkStock,
  lowering,
  polesOf,
  roomOf,
  withPoles,
  woundsOf,
  type Poles,
  type Room,
  type Wound,
} from './searchSpace.ts';
import { fieldOff, laddersOf, type Ladders } from './spreadLadders.ts';
import { withBuild } from './woundBuild.ts';

export type { Missing } from './searchFigures.ts';

/** What is asked. */
export interface SearchWish extends Search {
  /** From 0. */
  readonly pickup: number;
  /** What `level` and `alike` are against; null: the sheet itself. */
  readonly than: Sheet | null;
}

/** One build, by the engine's own figures. */
export interface Candidate {
  readonly build: PickupBuild;
  readonly missing: readonly Missing[];
  readonly reached: boolean;
  /** Sum of the squares of what is missing, in steps. */
  readonly cost: number;
}

/** How far a search is. */
export interface SearchPart {
  readonly done: number;
  readonly of: number;
  /** The best first, MOST_SHOWN at most, each of other parts. */
  readonly best: readonly Candidate[];
  /** What stands in the way of the first; empty where it reaches all, and before the end. */
  readonly limits: readonly string[];
}

/** As many as are gone through in a minute or two. */
const MOST_CHOICES = 600;
/** Looked at closely, and shown. */
const MOST_CLOSE = 6;
const MOST_SHOWN = 3;
/** Cost below which nothing is missing that counts, and what a change weighs beside it. */
const ENOUGH = 1e-2;
const CHANGE = 1e-4;
/** Of what may be missing of a figure that is to be at most so much. */
const REACHED = 1 + 1e-9;
const AT_MOST = 0.2;

/** What came of one choice as it was first looked at. */
interface Glance {
  readonly poles: PickupBuild;
  readonly wire: Wound;
  readonly room: Room;
  readonly least: Least;
}

/** Keeps a search between its parts. */
export class Searches {
  private readonly runs = new Kept<Run>(1);

  constructor(private readonly solver: FieldSolver) {}

  /**
   * A search goes through its poles one after another, each solved once at a few gaps (`spreadLadders.ts`), and for each through the
   * wire there is (`rewound.ts`), turns and gap by least squares; then the most promising are solved as any sheet is, every time.
   *
   * @param step which part, from 0; asked for in their order each is done once
   * @throws RangeError in words for what can't be asked of this pickup; FieldError where it can't be computed as it is
   */
  part(sheet: Sheet, wish: SearchWish, step: number): SearchPart {
    const run = this.runs.of(JSON.stringify([sheet, wish]), () => new Run(sheet, wish, this.solver));
    return run.to(step + 1);
  }
}

class Run {
  private readonly build: PickupBuild;
  private readonly poles: readonly Poles[];
  private readonly wires: readonly Wound[];
  private readonly against: Against | null;
  /** Whether anything that is wanted depends on the gap: to the strings, or between coils that are heard together. */
  private readonly gapCounts: boolean;
  /** Of the pickups beside it. */
  private readonly others: Fields;
  private readonly glances: Glance[] = [];
  private readonly refused = new Set<string>();
  private candidates: readonly { readonly found: Candidate; readonly from: Glance; readonly least: Least }[] =
    [];
  private close: readonly Glance[] = [];
  private done = 0;

  constructor(
    private readonly sheet: Sheet,
    private readonly wish: SearchWish,
    private readonly solver: FieldSolver,
  ) {
    const { pickup, wants, stock, than } = wish;
    const own = sheet.pickups[pickup];
    if (!own?.build)
      throw new RangeError('The pickup must have a build for another to be found; it has none.');
    if (own.reachBy === 'hand')
      throw new RangeError('The reach must be left to the build for another to be found; it is set by hand.');
    if (Object.keys(wants).length === 0) throw new RangeError('Something must be wanted; nothing is.');
    if (wants.alike !== undefined && !than)
      throw new RangeError('What it is to sound like must be another trial; there is none. Add one.');
    checkStock(own, stock);
    this.build = own.build;
    this.gapCounts = ofStrings(wants) || coilsHeard(heardWith(sheet, pickup)) > 1;
    this.poles = polesOf(stock);
    this.wires = woundsOf(stock, own.build.rows[0]!.wire);
    if (this.poles.length === 0 || this.wires.length === 0)
      throw new RangeError('Every list of what there is must name something; one is empty.');
    const choices = this.poles.length * this.wires.length;
    if (choices > MOST_CHOICES)
      throw new RangeError(
        `Poles and wires must come to at most ${MOST_CHOICES} choices; got ${choices}. Name fewer of them.`,
      );
    this.others = solver.fields(heardWith(sheet, pickup));
    const other = { ...(than ?? sheet), listen: sheet.listen };
    const compared = wants.level !== undefined || wants.alike !== undefined;
    this.against = compared ? againstOf(other, pickup, solver.fields(heardWith(other, pickup))) : null;
  }

  to(parts: number): SearchPart {
    while (this.done < Math.min(parts, this.of)) this.next();
    const ended = this.done >= this.of;
    const best = this.candidates.map(({ found }) => found);
    const first = this.candidates[0];
    return {
      ...{ done: this.done, of: this.of, best: best.slice(0, MOST_SHOWN) },
      limits: !ended || first?.found.reached ? [] : this.limits(first),
    };
  }

  private get of(): number {
    return this.poles.length + (this.done < this.poles.length ? this.likely : this.close.length);
  }

  private get likely(): number {
    return Math.min(MOST_CLOSE, this.poles.length * this.wires.length);
  }

  private limits(first: (typeof this.candidates)[number] | undefined): readonly string[] {
    if (!first) return [...this.refused];
    const { found, from, least } = first;
    const glances = this.glances.map(({ poles, wire, least: { cost } }) => ({ poles, wire, cost }));
    return limitsOf(found.build, this.wish.stock, endsOf(from.room, least), glances);
  }

  private next(): void {
    const poles = this.poles[this.done];
    if (poles) this.glanceAt(withPoles(this.build, poles));
    else this.lookClosely(this.close[this.done - this.poles.length]!);
    this.done++;
    if (this.done === this.poles.length) this.close = this.promising();
  }

  /** Those of all poles and wires that come nearest, the fewer changes the better. */
  private promising(): readonly Glance[] {
    const rank = ({ least, poles, wire, room }: Glance): number =>
      ranked(least.cost, changed(this.build, builtAt(poles, wire, room.at(least.x))));
    return this.glances.toSorted((a, b) => rank(a) - rank(b)).slice(0, MOST_CLOSE);
  }

  private glanceAt(poles: PickupBuild): void {
    const { stock, pickup } = this.wish;
    let ladders: Ladders | null = null;
    for (const wire of this.wires) {
      const room = roomOf(poles, wire, stock, this.gapCounts);
      if (typeof room === 'string') {
        this.refused.add(room);
        continue;
      }
      ladders ??= this.laddersOf(poles);
      if (!ladders) return;
      const known = ladders;
      const glance = (x: readonly number[]): readonly number[] | null => {
        const build = builtAt(poles, wire, room.at(x));
        const sheet = withBuild(this.sheet, pickup, build);
        const gap = build.gapBass - poles.gapBass;
        const near =
          gap === 0 || !this.gapCounts ? known.known[0]! : fieldOff(known, { gap, magnet: 0, turns: [] });
        return this.offs(sheet, rewound(near, fieldQuestion(sheet, pickup)!.build));
      };
      const least = boundedLeast(glance, room.place(0, 0), room.frees, {
        ...{ rounds: 8, enough: 0.1 * ENOUGH, compass: 3 },
      });
      if (!least) continue;
      this.glances.push({ poles, wire, room, least });
    }
  }

  /** null where such poles can't be built. */
  private laddersOf(poles: PickupBuild): Ladders | null {
    const { stock, pickup } = this.wish;
    const [up, down] = stock.gap && this.gapCounts ? lowering(this.build, stock.gap) : [0, 0];
    const most = 1e-3 * Math.max(Math.abs(up), Math.abs(down));
    try {
      const sheet = withBuild(this.sheet, pickup, poles);
      const off = { gap: most, magnet: 0, turns: poles.rows.map(() => 0) };
      return laddersOf(sheet, pickup, off, this.solver);
    } catch (error) {
      if (!(error instanceof RangeError)) throw error;
      this.refused.add(error.message);
      return null;
    }
  }

  private lookClosely(glance: Glance): void {
    const { poles, wire, room, least } = glance;
    const { pickup, wants } = this.wish;
    const solved = (x: readonly number[]): readonly Missing[] | null => {
      const sheet = withBuild(this.sheet, pickup, builtAt(poles, wire, room.at(x)));
      try {
        return this.missing(sheet, this.solver.fields(heardWith(sheet, pickup)));
      } catch (error) {
        if (error instanceof FieldError) return null;
        throw error;
      }
    };
    const columns: Columns | null = least.columns;
    const found = boundedLeast(
      (x) => solved(x)?.map(({ off }) => off) ?? null,
      least.x,
      room.frees,
      { rounds: 5, enough: 0.1 * ENOUGH, compass: wants.alike === undefined ? 0 : 3 },
      columns,
    );
    if (!found) return;
    const missing = solved(found.x)!;
    const candidate: Candidate = {
      build: builtAt(poles, wire, room.at(found.x)),
      missing,
      reached: missing.every(isReached),
      cost: found.cost,
    };
    const rank = ({ cost, build }: Candidate): number => ranked(cost, changed(this.build, build));
    this.candidates = [...this.candidates, { found: candidate, from: glance, least: found }].toSorted(
      (a, b) => rank(a.found) - rank(b.found),
    );
  }

  private offs(sheet: Sheet, answer: FieldAnswer): readonly number[] {
    const { pickup } = this.wish;
    const fields = this.others.map((other, i) => (i === pickup ? answer : other));
    return this.missing(sheet, fields).map(({ off }) => off);
  }

  private missing(sheet: Sheet, fields: Fields): readonly Missing[] {
    return missingOf(sheet, fields, this.wish.pickup, this.wish, this.against);
  }
}

const OF_STRINGS = ['level', 'reach', 'balance', 'pull', 'alike'] as const satisfies readonly WantKey[];

/** Whether anything that is wanted is of strings, not of the circuit alone. */
const ofStrings = (wants: Wants): boolean => OF_STRINGS.some((want) => wants[want] !== undefined);

const coilsHeard = ({ pickups }: Sheet): number =>
  pickups.reduce((sum, { sounds, rows }) => sum + (sounds ? rows.length : 0), 0);

/** What is as good as reached is told apart by how much it changes. */
const ranked = (cost: number, changes: number): number => Math.max(cost, ENOUGH) + CHANGE * changes;

const isReached = ({ want, off }: Missing): boolean =>
  want === 'balance' || want === 'pull' ? off <= AT_MOST : Math.abs(off) <= REACHED;
