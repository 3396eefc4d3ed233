/** What two trials come out as when they are built again and again by hands that can't hold everything. */
import { isHeard } from '../shape/hasCoil.ts';
import type { Sheet, Spread } from '../sheet/sheet.ts';
import { FieldSolver, type Fields } from './field.ts';
import { resolve } from './heard/resolve.ts';
import { heardNotes, notesLoudness } from './heardNotes.ts';
import {
  listeningGain,
  patternDifference,
  patternsOf,
  type NotePatterns,
} from './hearing/heardDifference.ts';
import { deviationOf, looseParts, movedFields, movedSheet, type Loose, type Move } from './looseParts.ts';
import { FARTHEST, evenDraws } from './numerics/draws.ts';
import { Kept } from './numerics/kept.ts';
import { reachCurve } from './reachCurve.ts';
import { fieldOff, laddersOf, type Ladders, type Off } from './spreadLadders.ts';

/** Some of the makes of two trials; asked for in parts, so that it can be seen to go on, and be left. */
export interface SpreadWish {
  /** The trial that the sheet is compared with, played as it is; null: it is alone. */
  readonly other: Sheet | null;
  readonly otherFields: Fields | null;
  /** By how much the sheet's phrase is louder than the other's, dB; see phraseLevel. */
  readonly louder: number;
  readonly spread: Spread;
  readonly seed: number;
  /** Of all of them; each has its own strip of what is likely. */
  readonly count: number;
  /** From the one to before the other, both even. */
  readonly from: number;
  readonly to: number;
}

/** Some makes of one trial. */
export interface SideMakes {
  /** dB at `frequencies`, of each: the curve with the width of the reach, of the chosen string. */
  readonly curves: readonly Float64Array[];
  /** By how much each is louder than the trial as it is said to be, dB. */
  readonly louder: Float64Array;
  /** What is heard of every second one beside the one before it, dB at equal loudness, with its sign. */
  readonly own: Float64Array;
  /** The curve of the trial as it is said to be. */
  readonly nominal: Float64Array;
}

export interface SpreadPart {
  readonly from: number;
  /** Hz. */
  readonly frequencies: Float64Array;
  readonly sheet: SideMakes;
  /** null where it is alone, as are those below. */
  readonly other: SideMakes | null;
  /** What is heard of the sheet beside the other, dB at equal loudness, with its sign, of each pair. */
  readonly between: Float64Array | null;
  /** The same of both as they are said to be. */
  readonly nominal: number | null;
}

/** Hz. */
const LOWEST = 50;
const HIGHEST = 15000;
const POINTS = 96;
const FREQUENCIES = Float64Array.from(
  { length: POINTS },
  (_, i) => LOWEST * (HIGHEST / LOWEST) ** (i / (POINTS - 1)),
);

/** A trial, with all that it takes to build it once more. */
interface Side {
  readonly sheet: Sheet;
  readonly spread: Spread;
  readonly loose: readonly Loose[];
  readonly draws: readonly Float64Array[];
  readonly fields: Fields;
  readonly ladders: readonly (Ladders | null)[];
  readonly nominal: Make;
}

/** One make. */
interface Make {
  readonly curve: Float64Array;
  /** See notesLoudness. */
  readonly loudness: number;
  readonly patterns: (gain: number) => readonly NotePatterns[];
  readonly gain: number;
}

/** Keeps what the parts of one question have in common. */
export class Makes {
  private readonly sides = new Kept<Side>(2);

  /** @param fields of the sheet's pickups; null has them computed. @throws FieldError where a build can't be computed */
  part(sheet: Sheet, wish: SpreadWish, fields: Fields | null): SpreadPart {
    const { other: than, otherFields, louder, from, to } = wish;
    const own = this.side(sheet, wish, 0, fields);
    const other = than && this.side({ ...than, listen: sheet.listen }, wish, 1, otherFields);
    const base = (other ?? own).nominal.gain;
    const gain = other ? base * 10 ** (-louder / 10) : base;
    const mine = makesOf(own, gain, from, to);
    const theirs = other && makesOf(other, base, from, to);
    const heard = (a: readonly NotePatterns[], b: readonly NotePatterns[]): number =>
      patternDifference(a, b).most;
    return {
      from,
      frequencies: FREQUENCIES.slice(),
      sheet: mine.makes,
      other: theirs && theirs.makes,
      between: theirs && Float64Array.from(mine.patterns, (one, i) => heard(theirs.patterns[i]!, one)),
      nominal: other && heard(other.nominal.patterns(base), own.nominal.patterns(gain)),
    };
  }

  private side(sheet: Sheet, { spread, seed, count }: SpreadWish, turn: number, fields: Fields | null): Side {
    return this.sides.of(JSON.stringify([sheet, spread, seed, count, turn]), () => {
      const solver = new FieldSolver();
      const base = fields ?? solver.fields(sheet);
      const loose = looseParts(sheet);
      const side = {
        ...{ sheet, spread, loose, fields: base },
        draws: evenDraws(2 * seed + turn, loose.length, count),
        ladders: sheet.pickups.map(({ sounds, build, reachBy }, pickup) =>
          build && isHeard({ sounds, build })
            ? laddersOf(sheet, pickup, farthest(sheet, pickup, spread, reachBy), solver)
            : null,
        ),
      };
      return { ...side, nominal: makeOf(side, []) };
    });
  }
}

const farthest = (sheet: Sheet, pickup: number, spread: Spread, reachBy: 'hand' | 'build'): Off => {
  const most = (key: keyof Spread): number => FARTHEST * deviationOf(spread, key);
  const built = reachBy === 'build';
  return {
    gap: built ? most('gap') : 0,
    magnet: built ? most('magnet') : 0,
    turns: sheet.pickups[pickup]!.rows.map(() => most('turns')),
  };
};

function makesOf(
  side: Side,
  gain: number,
  from: number,
  to: number,
): { makes: SideMakes; patterns: readonly (readonly NotePatterns[])[] } {
  const { nominal } = side;
  const makes = Array.from({ length: to - from }, (_, i) => makeOf(side, movesOf(side, from + i)));
  const louder = Float64Array.from(makes, ({ loudness }) => loudness - nominal.loudness);
  // All as loud as the trial as it is said to be.
  const patterns = makes.map((make, i) => make.patterns(gain * 10 ** (-louder[i]! / 10)));
  const own = Float64Array.from(
    { length: patterns.length >> 1 },
    (_, i) => patternDifference(patterns[2 * i]!, patterns[2 * i + 1]!).most,
  );
  const curves = makes.map(({ curve }) => curve);
  return { makes: { curves, louder, own, nominal: nominal.curve.slice() }, patterns };
}

const movesOf = ({ loose, draws, spread }: Side, i: number): readonly Move[] =>
  loose.map((one, column) => ({ ...one, by: draws[column]![i]! * deviationOf(spread, one.key) }));

function makeOf(side: Omit<Side, 'nominal' | 'draws' | 'loose' | 'spread'>, moves: readonly Move[]): Make {
  const fields = side.fields.map((answer, pickup) => {
    const ladders = side.ladders[pickup];
    return ladders ? fieldOff(ladders, offOf(moves, pickup, ladders)) : answer;
  });
  const sheet = resolve(movedSheet(side.sheet, moves), movedFields(fields, moves));
  const notes = heardNotes(sheet);
  return {
    curve: reachCurve(sheet, FREQUENCIES),
    loudness: notesLoudness(notes),
    gain: listeningGain(notes),
    patterns: (gain) => patternsOf(notes, gain),
  };
}

function offOf(moves: readonly Move[], pickup: number, { turns }: Ladders): Off {
  const ofPickup = moves.filter((move) => 'pickup' in move && move.pickup === pickup);
  const by = (key: 'gap' | 'magnet'): number => ofPickup.find((move) => move.key === key)?.by ?? 0;
  return {
    gap: by('gap'),
    magnet: by('magnet'),
    turns: turns.map((_, row) => ofPickup.find((move) => move.key === 'turns' && move.row === row)?.by ?? 0),
  };
}
