/** Gaps at the bass and the treble side that put the strings as near as two can to where they should stand. */
import type { PickupBuild } from '../sheet/sheet.ts';
import type { BalancedSheet, Measured } from './balancedSheet.ts';
import { held, leverOf, mm, rounded, type Lever } from './lever.ts';

/** m by which a side is moved to see what it does, and by how much at a time at most. */
const LOOK = 1e-4;
const FARTHEST = 1.5e-3;
const STILL = 4e-6;
const MOST_ROUNDS = 10;

type Pair = readonly [bass: number, treble: number];

const moved = (build: PickupBuild, [bass, treble]: Pair): PickupBuild => ({
  ...build,
  gapBass: rounded(build.gapBass + bass),
  gapTreble: rounded(build.gapTreble + treble),
});

/**
 * Least squares of what is missing, the mean of all strings kept, by Gauss and Newton's method with differences that are corrected as
 * it goes (Broyden's rank one); a side at its end leaves the rest to the other.
 */
export function byGaps(
  one: BalancedSheet,
  before: Measured,
): { readonly build: PickupBuild; readonly limits: readonly string[] } {
  const { build, wish } = one;
  const lever = (side: 0 | 1): Lever => {
    const gap = side === 0 ? build.gapBass : build.gapTreble;
    const [least, most] = wish.gaps;
    return leverOf([least - gap, most - gap], (by) =>
      one.allowed(moved(build, side === 0 ? [by, 0] : [0, by])),
    );
  };
  const levers = [lever(0), lever(1)] as const;
  const missing = (now: Measured): number[] =>
    now.levels.map((level, i) => before.mean + one.wanted[i]! - level);
  const squares = (rest: readonly number[]): number => rest.reduce((sum, r) => sum + r * r, 0);
  let by: Pair = [0, 0];
  let rest = missing(before);
  const columns = ([0, 1] as const).map((side) => {
    const look = levers[side].most >= LOOK ? LOOK : -LOOK;
    const seen = one.tried(moved(build, side === 0 ? [look, 0] : [0, look]));
    return rest.map((r, i) => (seen ? (r - missing(seen)[i]!) / look : 0));
  }) as [number[], number[]];
  for (let round = 0; round < MOST_ROUNDS; round++) {
    let aim = stepOf(columns, rest, by, levers);
    let now = one.tried(moved(build, aim));
    // Closer than a part lets it, or further than what was seen holds.
    for (let i = 0; i < 4 && (!now || squares(missing(now)) > squares(rest)); i++) {
      aim = [0.5 * (aim[0] + by[0]), 0.5 * (aim[1] + by[1])];
      now = one.tried(moved(build, aim));
    }
    const step: Pair = [aim[0] - by[0], aim[1] - by[1]];
    if (!now || Math.max(...step.map(Math.abs)) < STILL) break;
    const left = missing(now);
    if (squares(left) > squares(rest)) break;
    const size = step[0] ** 2 + step[1] ** 2;
    rest.forEach((r, i) => {
      const wrong = r - left[i]! - columns[0][i]! * step[0] - columns[1][i]! * step[1];
      for (const side of [0, 1] as const) columns[side][i] = columns[side][i]! + (wrong * step[side]) / size;
    });
    [by, rest] = [aim, left];
  }
  const found = moved(build, by);
  return { build: found, limits: limitsOf(levers, by, found) };
}

const dot = (a: readonly number[], b: readonly number[]): number =>
  a.reduce((sum, value, i) => sum + value * b[i]!, 0);

/** Where the least squares of the straight lines lie, within the levers; m. */
function stepOf(
  [bass, treble]: readonly [readonly number[], readonly number[]],
  rest: readonly number[],
  by: Pair,
  levers: readonly [Lever, Lever],
): Pair {
  const [a, b, c] = [dot(bass, bass), dot(bass, treble), dot(treble, treble)];
  const [p, q] = [dot(bass, rest), dot(treble, rest)];
  // Sides that do the same can't be told apart: a millionth of their size keeps the sum finite.
  const whole = a * c - b * b + 1e-6 * a * c;
  if (!(whole > 0)) return by;
  const within = (side: 0 | 1, step: number): number =>
    held(by[side] + Math.min(FARTHEST, Math.max(-FARTHEST, step)), levers[side]);
  const free: Pair = [(c * p - b * q) / whole, (a * q - b * p) / whole];
  const first: Pair = [within(0, free[0]), within(1, free[1])];
  // What one side could not do is asked of the other once more.
  return [
    first[1] - by[1] === free[1] ? first[0] : within(0, (p - b * (first[1] - by[1])) / a),
    first[0] - by[0] === free[0] ? first[1] : within(1, (q - b * (first[0] - by[0])) / c),
  ];
}

function limitsOf(levers: readonly [Lever, Lever], by: Pair, { gapBass, gapTreble }: PickupBuild): string[] {
  const said = (['bass', 'treble'] as const).flatMap((name, side) => {
    const { least, most, ends } = levers[side]!;
    const low = by[side]! <= least + 1e-9;
    if (!low && by[side]! < most - 1e-9) return [];
    const why = ends[low ? 0 : 1] === 'room' ? 'there is no more room' : 'its range ends there';
    const gap = mm(side === 0 ? gapBass : gapTreble);
    return [`The gap on the ${name} side is as ${low ? 'small' : 'large'} as it goes, ${gap}: ${why}.`];
  });
  return said.length > 0
    ? said
    : ['Two gaps only tilt a pickup: what is left lies between the outer strings. Set the poles.'];
}
