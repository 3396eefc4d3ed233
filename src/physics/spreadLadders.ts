/**
 * A pickup's field as it comes out of its maker's hands: found once at a few gaps, magnets and turns, each for itself, and put
 * together in between. Sizes multiply and shapes add; that a stronger magnet saturates a near string a little more than a far
 * one is what that leaves out.
 */
import type { Sheet } from '../sheet/sheet.ts';
import { blended, heightWeights, rungs, widened, type Weight } from './betweenHeights.ts';
import type { FieldSolver } from './field.ts';
import { fieldQuestion, type FieldQuestion } from './fieldQuestion.ts';
import type { FieldAnswer, FieldCoil } from './heard/fieldAnswer.ts';
import { isWound, type BuiltPole } from './magnetics/build/build.ts';
import { BuildError } from './magnetics/build/checkBuild.ts';

/** How far a pickup may come to be off: gap in m, magnets and turns as shares. */
export interface Off {
  readonly gap: number;
  readonly magnet: number;
  /** One a row. */
  readonly turns: readonly number[];
}

/** Known places along one thing that varies, in the logarithm of it; each beside the index of its field. */
interface Axis {
  readonly at: readonly number[];
  readonly index: readonly number[];
}

/** Fields of one pickup. */
export interface Ladders {
  readonly question: FieldQuestion;
  /** m by which the gap may be moved. */
  readonly gaps: readonly [least: number, most: number];
  /** The first is the pickup as it is said to be. */
  readonly known: readonly FieldAnswer[];
  /** Of the first ones, on the ladder of gaps. */
  readonly heights: readonly FieldQuestion[];
  readonly magnet: Axis;
  readonly turns: readonly Axis[];
}

/** A shift that is too small to see would only show the rounding of what is solved. */
const LEAST_SHIFT = 0.01;

/**
 * Solves a pickup as often as it takes: once, for two other magnets and two other numbers of turns a row, and the strings alone at
 * a few more gaps.
 *
 * @param most how far it may come to be off either way: m of gap, shares
 * @throws as FieldSolver.answer, for the pickup as it is
 */
export function laddersOf(sheet: Sheet, pickup: number, most: Off, solver: FieldSolver): Ladders {
  const question = fieldQuestion(sheet, pickup);
  if (!question) throw new RangeError('The pickup must have a build for its field to vary; it has none.');
  const known = [solver.answer(question)];
  const heights = [question];
  const gaps = gapsAround(question, most.gap).filter((by) => {
    const other = widened(question, by);
    try {
      known.push(solver.answer(other));
    } catch (error) {
      // Closer than any pickup may come.
      if (error instanceof BuildError) return false;
      throw error;
    }
    heights.push(other);
    return true;
  });
  const solved = (other: FieldQuestion): number | null => {
    try {
      return known.push(solver.answer(other)) - 1;
    } catch (error) {
      // A magnet stronger than its grade, more turns than the bobbin takes: what lies there is led on from below.
      if (error instanceof BuildError) return null;
      throw error;
    }
  };
  const axis = (by: number, at: (factor: number) => FieldQuestion): Axis => {
    if (by === 0) return { at: [0], index: [0] };
    const step = Math.max(LEAST_SHIFT, by);
    const up = solved(at(1 + step));
    const factors = [up === null ? (1 - step) ** 2 : 1 + step, 1 - step];
    const index = [up ?? solved(at(factors[0]!)), solved(at(factors[1]!))];
    const found = index.flatMap((k, i) => (k === null ? [] : [{ k, place: Math.log(factors[i]!) }]));
    return { at: [0, ...found.map(({ place }) => place)], index: [0, ...found.map(({ k }) => k)] };
  };
  const magnet = axis(most.magnet, (factor) => magnetised(question, factor));
  const turns = question.build.rows.map((_, row) =>
    axis(most.turns[row] ?? 0, (factor) => wound(question, row, factor)),
  );
  return { question, gaps: [Math.min(0, ...gaps), Math.max(0, ...gaps)], known, heights, magnet, turns };
}

/** Rungs that enclose the gaps, and one more on either side. */
function gapsAround(question: FieldQuestion, most: number): readonly number[] {
  if (most === 0) return [];
  const all = rungs(question, [question]).toSorted((a, b) => a - b);
  const below = all.findLastIndex((by) => by < -most);
  const above = all.findIndex((by) => by > most);
  return all.slice(Math.max(0, below - 1), above < 0 ? all.length : above + 2);
}

const stronger = (pole: BuiltPole, by: number): BuiltPole =>
  pole.kind === 'rod' ? { ...pole, strength: pole.strength * by } : pole;

const magnetised = ({ build, ...rest }: FieldQuestion, by: number): FieldQuestion => ({
  ...rest,
  build: {
    ...build,
    bars: build.bars.map((bar) => ({ ...bar, strength: bar.strength * by })),
    rows: build.rows.map((row) => ({
      ...row,
      pole: stronger(row.pole, by),
      ...(row.own && { own: row.own.map((one) => one && stronger(one, by)) }),
    })),
  },
});

const wound = ({ build, ...rest }: FieldQuestion, row: number, by: number): FieldQuestion => ({
  ...rest,
  build: {
    ...build,
    rows: build.rows.map((one, r) =>
      r === row && isWound(one)
        ? { ...one, winding: { ...one.winding, turns: one.winding.turns * by } }
        : one,
    ),
  },
});

/** Lagrange's weights of an axis's fields. */
function along({ at, index }: Axis, place: number): Weight[] {
  return at.map((own, i) => ({
    k: index[i]!,
    weight: at.reduce(
      (product, other, j) => (j === i ? product : (product * (place - other)) / (own - other)),
      1,
    ),
  }));
}

/**
 * The field as it comes out; gaps beyond those that are known are taken as the last of them.
 * Digits: of the same solved, at two deviations of all at once: pattern within 0.1 dB, but for a partial in a null (0.5 dB once);
 * level within 0.05 dB (tests/physics/spread.test.ts).
 */
export function fieldOff(ladders: Ladders, { gap, magnet, turns }: Off): FieldAnswer {
  const { question, gaps, known, heights } = ladders;
  const by = Math.min(gaps[1], Math.max(gaps[0], gap));
  const axes = [
    along(ladders.magnet, Math.log1p(magnet)),
    ...ladders.turns.map((axis, row) => along(axis, Math.log1p(turns[row] ?? 0))),
  ];
  const other: Weight[] = axes.flat();
  const height = heightWeights(heights, widened(question, by));
  if (!height) throw new RangeError('A gap between known gaps must be enclosed by them; it is not.');
  const weights = height.map((of) => summed([...of, ...other, { k: 0, weight: -axes.length }]));
  const answer = blended(known, weights);
  const ofTurns = summed([...axes.slice(1).flat(), { k: 0, weight: 2 - axes.length }]);
  return {
    ...answer,
    mutual: mixed(ofTurns, (k) => known[k]!.mutual),
    coils: answer.coils.map((coil, row) => coilOff(coil, known, ofTurns, row)),
  };
}

/** Each field once, those that there is nothing of left out. */
function summed(weights: readonly Weight[]): Weight[] {
  const sums = new Map<number, number>();
  for (const { k, weight } of weights) sums.set(k, (sums.get(k) ?? 0) + weight);
  return [...sums].flatMap(([k, weight]) => (Math.abs(weight) > 1e-12 ? [{ k, weight }] : []));
}

const mixed = (weights: readonly Weight[], of: (k: number) => number): number =>
  weights.reduce((sum, { k, weight }) => sum + weight * of(k), 0);

/** What a coil is to the circuit depends on its turns, and hardly on the other's. */
function coilOff(
  coil: FieldCoil,
  known: readonly FieldAnswer[],
  weights: readonly Weight[],
  row: number,
): FieldCoil {
  const at = (k: number): FieldCoil => known[k]!.coils[row]!;
  const figure = (
    name: 'turns' | 'resistance' | 'airInductance' | 'inductance' | 'capacitance' | 'meanTurn',
  ): number => mixed(weights, (k) => at(k)[name]);
  return {
    ...coil,
    turns: figure('turns'),
    resistance: figure('resistance'),
    airInductance: figure('airInductance'),
    inductance: figure('inductance'),
    capacitance: figure('capacitance'),
    meanTurn: figure('meanTurn'),
    core: {
      a: mixed(weights, (k) => at(k).core.a),
      N: mixed(weights, (k) => at(k).core.N),
      rest: mixed(weights, (k) => at(k).core.rest),
    },
  };
}
