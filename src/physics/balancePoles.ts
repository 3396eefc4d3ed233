/** Pole heights that put the strings where they should stand. */
import { isFitted } from '../shape/singlePole.ts';
import type { PickupBuild } from '../sheet/sheet.ts';
import type { BalancedSheet, Measured } from './balancedSheet.ts';
import { held, leverOf, mm, rounded, type Lever } from './lever.ts';

/** m by which all are moved to see what it does. */
const LOOK = 3e-4;
/** dB a metre, where that says nothing: what a rod of a single coil has at 3 mm. */
const USUAL = 2500;
/** m; less is not turned. */
const STILL = 4e-6;
const MOST_ROUNDS = 12;
const HALVINGS = 5;

/**
 * Rows whose poles are moved: screws where there are any, for they are turned; else all that have a pole under every string, by index.
 *
 * @throws RangeError where none has
 */
export function movableRows({ rows }: PickupBuild): readonly number[] {
  const of = (kinds: readonly string[]): number[] =>
    rows.flatMap(({ pole }, r) =>
      kinds.includes(pole.kind) && pole.heights.every((_, k) => isFitted(pole, k)) ? [r] : [],
    );
  const screws = of(['screw']);
  const found = screws.length > 0 ? screws : of(['rod', 'slug']);
  if (found.length > 0) return found;
  throw new RangeError(
    'A pole must stand under every string for its height to be set; a blade or a bar can’t be moved under one string alone. Balance by the gaps.',
  );
}

const raised = (build: PickupBuild, rows: readonly number[], by: readonly number[]): PickupBuild => ({
  ...build,
  rows: build.rows.map((row, r) => {
    if (!rows.includes(r)) return row;
    const heights = row.pole.heights.map((height, i) => rounded(height + by[i]!));
    return { ...row, pole: { ...row.pole, heights } };
  }),
});

/**
 * Each string by its own pole, by what that pole did the last time: what a neighbour's pole does to a string is a few hundredths
 * of what its own does, so that five to seven solves do.
 */
export function byPoles(
  one: BalancedSheet,
  before: Measured,
): { readonly build: PickupBuild; readonly limits: readonly string[] } {
  const { build, wanted, wish } = one;
  const rows = movableRows(build);
  const levers = wanted.map((_, i) => leverUnder(one, rows, i, wish.heights));
  const at = (by: readonly number[]): PickupBuild => raised(build, rows, by);
  let by: readonly number[] = wanted.map(() => 0);
  let now = before;
  let slopes = lookedAt(one, at, levers, before);
  let best = { by, miss: missOf(one, now) };
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const level = commonLevel(levers, by, slopes, now, wanted, before.mean);
    const aim = by.map((d, i) => held(d + (level + wanted[i]! - now.levels[i]!) / slopes[i]!, levers[i]!));
    if (Math.max(...aim.map((d, i) => Math.abs(d - by[i]!))) < STILL) break;
    const step = stepTo(one, at, by, aim);
    if (!step) break;
    slopes = slopes.map((slope, i) => {
      const moved = step.by[i]! - by[i]!;
      if (Math.abs(moved) < 2e-5) return slope;
      const seen = (step.now.levels[i]! - now.levels[i]!) / moved;
      return Math.min(2 * slope, Math.max(0.5 * slope, seen));
    });
    ({ by, now } = step);
    const miss = missOf(one, now);
    if (miss < best.miss) best = { by, miss };
  }
  const found = at(best.by);
  return { build: found, limits: limitsOf(one, levers, best.by, found, rows) };
}

const missOf = (one: BalancedSheet, now: Measured): number => Math.max(...one.offs(now).map(Math.abs));

function leverUnder(
  one: BalancedSheet,
  rows: readonly number[],
  string: number,
  [least, most]: readonly [number, number],
): Lever {
  const heights = rows.map((r) => one.build.rows[r]!.pole.heights[string]!);
  const range = [least - Math.min(...heights), most - Math.max(...heights)] as const;
  return leverOf(range, (by) =>
    one.allowed(
      raised(
        one.build,
        rows,
        one.wanted.map((_, i) => (i === string ? by : 0)),
      ),
    ),
  );
}

/** dB a metre of every pole, by all of them moved together. */
function lookedAt(
  one: BalancedSheet,
  at: (by: readonly number[]) => PickupBuild,
  levers: readonly Lever[],
  before: Measured,
): readonly number[] {
  const moved = levers.map((lever) => (lever.most >= LOOK ? LOOK : Math.max(lever.least, -LOOK)));
  const seen = one.tried(at(moved));
  return moved.map((by, i) => {
    const slope = seen && by !== 0 ? (seen.levels[i]! - before.levels[i]!) / by : USUAL;
    // Higher is louder; a pole that does next to nothing is not to be driven to its end by that.
    return Math.max(0.1 * USUAL, slope);
  });
}

/** The mean that all can reach, the nearest to what it was, or with the least largest miss; dB. */
function commonLevel(
  levers: readonly Lever[],
  by: readonly number[],
  slopes: readonly number[],
  { levels }: Measured,
  wanted: readonly number[],
  mean: number,
): number {
  const end = (side: 'least' | 'most'): number[] =>
    levers.map((lever, i) => levels[i]! - wanted[i]! + slopes[i]! * (lever[side] - by[i]!));
  const [low, high] = [Math.max(...end('least')), Math.min(...end('most'))];
  return low > high ? 0.5 * (low + high) : Math.min(high, Math.max(low, mean));
}

/** As far towards the aim as the parts leave room. */
function stepTo(
  one: BalancedSheet,
  at: (by: readonly number[]) => PickupBuild,
  by: readonly number[],
  aim: readonly number[],
): { readonly by: readonly number[]; readonly now: Measured } | null {
  for (let i = 0, share = 1; i < HALVINGS; i++, share *= 0.5) {
    const to = by.map((d, k) => d + share * (aim[k]! - d));
    const now = one.tried(at(to));
    if (now) return { by: to, now };
  }
  return null;
}

function limitsOf(
  one: BalancedSheet,
  levers: readonly Lever[],
  by: readonly number[],
  build: PickupBuild,
  rows: readonly number[],
): readonly string[] {
  const said = levers.flatMap((lever, i) => {
    const low = by[i]! <= lever.least + 1e-9;
    if (!low && by[i]! < lever.most - 1e-9) return [];
    const height = mm(build.rows[rows[0]!]!.pole.heights[i]!);
    const why =
      lever.ends[low ? 0 : 1] === 'range'
        ? `a pole stands ${low ? mm(one.wish.heights[0]) : mm(one.wish.heights[1])} high at ${low ? 'least' : 'most'}`
        : 'there is no more room';
    return [`The pole under string ${i + 1} is as ${low ? 'low' : 'high'} as it goes, ${height}: ${why}.`];
  });
  return said.length > 0 ? said : ['The poles come no nearer.'];
}
