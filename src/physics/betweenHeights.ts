/**
 * A pickup's field at heights of its strings between some at which it is known: what is heard in the moment until the
 * exact one is there. In the logarithm of the height over the poles, with every reach taken apart into its size and its
 * shape, all that a string's field consists of is nearly straight, so that four known heights a fifth apart do.
 */
import type { FieldAnswer, FieldCoil, FieldRow, FieldString } from './heard/fieldAnswer.ts';
import type { FieldQuestion } from './fieldQuestion.ts';
import { highestPart, stringHeights } from './magnetics/overPickup/stringHeights.ts';
import { reachArea, reachSpan } from './magnetics/overPickup/reachSpan.ts';

/** A question that is answered. */
export interface KnownField {
  readonly question: FieldQuestion;
  readonly answer: FieldAnswer;
}

/** From one rung to the next, a string's least clearance grows by this. */
const RUNG = 1.2;
/** Clearances of the lowest and the highest rung, m: lower than any pole may come, and as far as any pickup is heard. */
const LOWEST = 0.32e-3;
/** A rung is known where a known field's strings are all so near to it, as a share. */
const SAME_RUNG = 0.015;
const HIGHEST = 8e-3;

/** A string's clearance over the highest pole, m. */
function clearances({ build, strings }: FieldQuestion): readonly number[] {
  const top = highestPart(build);
  return stringHeights(build, strings).map((height, i) => height - 0.5 * strings[i]!.outerDiameter - top);
}

/**
 * By how much both gaps are to be widened, m, for fields that between them cover all heights, the nearest first.
 * @param known on the same ladder
 */
export function rungs(question: FieldQuestion, known: readonly FieldQuestion[]): readonly number[] {
  const clearance = Math.min(...clearances(question));
  const count = Math.ceil(Math.log(HIGHEST / LOWEST) / Math.log(RUNG));
  const places = known.map(logClearances);
  return Array.from({ length: count + 1 }, (_, k) => LOWEST * RUNG ** k - clearance)
    .filter((by) => {
      const rung = logClearances(widened(question, by));
      return !places.some((of) => of.every((place, i) => Math.abs(place - rung[i]!) < SAME_RUNG));
    })
    .sort((a, b) => Math.abs(a) - Math.abs(b));
}

/** A question with both gaps wider, m. */
export const widened = ({ build, ...rest }: FieldQuestion, by: number): FieldQuestion => ({
  ...rest,
  build: { ...build, gapBass: build.gapBass + by, gapTreble: build.gapTreble + by },
});

/** Known heights that are nearer to each other than this share show the steps of the engine's quadrature, not a slope. */
const APART = 0.1;
/** Two known heights further apart than this share say too little about what lies between; and if there are but two. */
const WIDEST = 0.22;
const WIDEST_OF_TWO = 0.06;
/** Share within which a height is a known one. */
const SAME = 1e-9;

/**
 * @param known fields on one ladder with the question
 * @returns null where the known heights do not enclose those asked for closely enough
 * Digits: between rungs level within 0.1 dB and reach within 0.05 mm, of all presets and 19 in 20 random pickups; the others
 * within 1 dB (tests/soak/between.soak.ts).
 */
export function betweenHeights(known: readonly KnownField[], question: FieldQuestion): FieldAnswer | null {
  const weights = heightWeights(
    known.map((one) => one.question),
    question,
  );
  return (
    weights &&
    blended(
      known.map(({ answer }) => answer),
      weights,
    )
  );
}

/**
 * How much of each known field, of every string, there is at the heights asked for; null where they are not enclosed.
 * @param known on one ladder with the question
 */
export function heightWeights(
  known: readonly FieldQuestion[],
  question: FieldQuestion,
): readonly (readonly Weight[])[] | null {
  const places = known.map(logClearances);
  const weights: (readonly Weight[])[] = [];
  for (const [i, place] of logClearances(question).entries()) {
    const found = weightsAt(
      places.map((of) => of[i]!),
      place,
    );
    if (!found) return null;
    weights.push(found);
  }
  return weights;
}

/**
 * Fields mixed, sizes by their logarithms and shapes as they are. What a coil is to the circuit is the first one's.
 * @param weights of every string, adding up to 1
 */
export function blended(known: readonly FieldAnswer[], weights: readonly (readonly Weight[])[]): FieldAnswer {
  const strings = weights.map((of, i) =>
    blendString(
      of.map(({ k }) => known[k]!.strings[i]!),
      of.map(({ weight }) => weight),
      known[0]!.step,
    ),
  );
  const nearest = known[weights[0]![0]!.k]!;
  return { ...nearest, strings, coils: blendCoils(known, weights, strings) };
}

/** Of the axis, for the string feels its middle. */
const logClearances = (question: FieldQuestion): readonly number[] =>
  clearances(question).map((clearance, i) => Math.log(clearance + 0.5 * question.strings[i]!.outerDiameter));

/** Of one of several known fields. */
export interface Weight {
  readonly k: number;
  readonly weight: number;
}

/** Lagrange's weights at a place between the two nearest and one more on either side where there is one. */
function weightsAt(places: readonly number[], at: number): readonly Weight[] | null {
  const below = nearestFirst(places, (place) => at - place);
  const above = nearestFirst(places, (place) => place - at);
  const [low, high] = [below[0], above[0]];
  for (const k of [low, high]) {
    if (k !== undefined && Math.abs(places[k]! - at) < SAME) return [{ k, weight: 1 }];
  }
  if (low === undefined || high === undefined) return null;
  const lower = below.find((k) => places[low]! - places[k]! > APART);
  const higher = above.find((k) => places[k]! - places[high]! > APART);
  const nodes = [low, high, lower, higher].filter((k) => k !== undefined);
  if (places[high]! - places[low]! > (nodes.length > 2 ? WIDEST : WIDEST_OF_TWO)) return null;
  return nodes.map((k) => {
    let weight = 1;
    for (const other of nodes)
      if (other !== k) weight *= (at - places[other]!) / (places[k]! - places[other]!);
    return { k, weight };
  });
}

/** Those to one side, by their distance. */
const nearestFirst = (places: readonly number[], distance: (place: number) => number): readonly number[] =>
  places
    .map((place, k) => ({ k, away: distance(place) }))
    .filter(({ away }) => away >= 0)
    .sort((a, b) => a.away - b.away)
    .map(({ k }) => k);

const mixed = (values: readonly number[], weights: readonly number[]): number =>
  values.reduce((sum, value, j) => sum + weights[j]! * value, 0);

/** Of sizes that share a sign, the mean of their logarithms; else the plain mean. */
function mixedSize(sizes: readonly number[], weights: readonly number[]): number {
  const sign = Math.sign(sizes[0]!);
  if (sign === 0 || !sizes.every((size) => Math.sign(size) === sign)) return mixed(sizes, weights);
  return (
    sign *
    Math.exp(
      mixed(
        sizes.map((size) => Math.log(Math.abs(size))),
        weights,
      ),
    )
  );
}

/** How much there is of samples, whichever way: never through zero, as their sum may go. */
const sizeOf = (samples: Float64Array): number => samples.reduce((sum, value) => sum + Math.abs(value), 0);

/** Samples whose shape and size are mixed apart. */
function mixedSamples(samples: readonly Float64Array[], weights: readonly number[]): Float64Array {
  const sizes = samples.map(sizeOf);
  const size = mixedSize(sizes, weights);
  const plain = sizes.includes(0);
  const out = new Float64Array(samples[0]!.length);
  samples.forEach((values, j) => {
    const factor = plain ? weights[j]! : (weights[j]! * size) / sizes[j]!;
    for (let i = 0; i < out.length; i++) out[i] = out[i]! + factor * values[i]!;
  });
  return out;
}

function blendString(known: readonly FieldString[], weights: readonly number[], step: number): FieldString {
  const samples = (part: 'forceZ' | 'stiffnessZ' | 'stiffnessY'): Float64Array =>
    mixedSamples(
      known.map((string) => string[part]),
      weights,
    );
  return {
    rows: known[0]!.rows.map((_, r) =>
      blendRow(
        known.map(({ rows }) => rows[r]!),
        weights,
        step,
      ),
    ),
    saturation: Math.min(
      1,
      mixedSize(
        known.map((string) => string.saturation),
        weights,
      ),
    ),
    forceZ: samples('forceZ'),
    stiffnessZ: samples('stiffnessZ'),
    stiffnessY: samples('stiffnessY'),
  };
}

function blendRow(known: readonly FieldRow[], weights: readonly number[], step: number): FieldRow {
  const samples = (part: 'towards' | 'across'): Float64Array =>
    mixedSamples(
      known.map((row) => row[part]),
      weights,
    );
  const towards = samples('towards');
  const of = (part: 'coreShare' | 'middle' | 'fieldWidth' | 'tipWidth'): number =>
    mixed(
      known.map((row) => row[part]),
      weights,
    );
  const bend = (power: 0 | 1 | 2): number =>
    mixed(
      known.map(({ curve }) => curve[power]),
      weights,
    );
  return {
    towards,
    across: samples('across'),
    area: reachArea(towards, step),
    coreShare: of('coreShare'),
    width: reachSpan(towards, step).width,
    middle: of('middle'),
    fluxDensity: mixedSize(
      known.map((row) => row.fluxDensity),
      weights,
    ),
    fieldWidth: of('fieldWidth'),
    tipWidth: of('tipWidth'),
    curve: [bend(0), bend(1), bend(2)],
  };
}

/** What a coil is to the circuit does not know of heights, but for what the strings together say of it. */
function blendCoils(
  known: readonly FieldAnswer[],
  weights: readonly (readonly Weight[])[],
  strings: readonly FieldString[],
): readonly FieldCoil[] {
  const shares = new Float64Array(known.length);
  for (const { k, weight } of weights.flat()) shares[k] = shares[k]! + weight / weights.length;
  return known[0]!.coils.map((coil, r) => ({
    ...coil,
    coreShare: strings.reduce((sum, { rows }) => sum + rows[r]!.coreShare, 0) / strings.length,
    loops: coil.loops && {
      ...coil.loops,
      moved: coil.loops.moved.map((_, n) =>
        known.reduce((sum, { coils }, k) => sum + shares[k]! * coils[r]!.loops!.moved[n]!, 0),
      ),
    },
  }));
}
