/** Least squares of a few residuals by one or two figures within bounds, without derivatives. */

/** A figure that may be moved. */
export interface Free {
  readonly least: number;
  readonly most: number;
  /** By how much it is moved to see what it does. */
  readonly look: number;
  /** By how much at a time at most. */
  readonly farthest: number;
}

/** Differences of the residuals by each figure. */
export type Columns = readonly (readonly number[])[];

export interface Least {
  readonly x: readonly number[];
  readonly residuals: readonly number[];
  /** Their sum of squares. */
  readonly cost: number;
  readonly columns: Columns | null;
}

/** How long it goes on. */
export interface Patience {
  readonly rounds: number;
  /** Cost that is as good as none. */
  readonly enough: number;
  /** Halvings of a compass that goes on where straight lines don't help; 0: none. */
  readonly compass: number;
}

const costOf = (residuals: readonly number[]): number => residuals.reduce((sum, r) => sum + r * r, 0);
const clamp = (value: number, { least, most }: Free): number => Math.min(most, Math.max(least, value));

/**
 * Gauss and Newton's method with differences that are corrected as it goes (Broyden's rank one), figures at a bound that want
 * to go beyond held there, a little damping so that what is not asked for stays; then steps along every figure, halved where
 * none helps. All in any unit.
 *
 * @param residualsAt of the same number everywhere; null where there are none
 * @param frees one or two, or none
 * @param known differences from a place nearby; null has them found
 * @returns null where the start has no residuals
 */
export function boundedLeast(
  residualsAt: (x: readonly number[]) => readonly number[] | null,
  start: readonly number[],
  frees: readonly Free[],
  { rounds, enough, compass }: Patience,
  known: Columns | null = null,
): Least | null {
  const begin = start.map((value, i) => clamp(value, frees[i]!));
  const first = residualsAt(begin);
  if (!first) return null;
  let now: Least = { x: begin, residuals: first, cost: costOf(first), columns: known };
  if (frees.length === 0 || now.cost < enough) return now;
  let columns = (known ?? differences(residualsAt, now, frees)).map((column) => [...column]);
  for (let round = 0; round < rounds && now.cost >= enough; round++) {
    const step = stepOf(columns, now, frees);
    const found = taken(residualsAt, now, step, frees);
    if (!found) break;
    const moved = found.x.map((value, i) => value - now.x[i]!);
    const size = costOf(moved);
    now.residuals.forEach((before, k) => {
      const straight = moved.reduce((sum, by, i) => sum + columns[i]![k]! * by, 0);
      const wrong = found.residuals[k]! - before - straight;
      moved.forEach((by, i) => (columns[i]![k] = columns[i]![k]! + (wrong * by) / size));
    });
    const better = found.cost < now.cost;
    const little = now.cost - found.cost < 1e-3 * now.cost;
    if (better) now = found;
    // Once more with what was learnt, and no further.
    if (little && !better) columns = differences(residualsAt, now, frees).map((column) => [...column]);
    if (little && (better || round > 1)) break;
  }
  return { ...compassed(residualsAt, now, frees, { rounds, enough, compass }), columns };
}

function differences(
  residualsAt: (x: readonly number[]) => readonly number[] | null,
  { x, residuals }: Least,
  frees: readonly Free[],
): Columns {
  return frees.map((free, i) => {
    const by = x[i]! + free.look <= free.most ? free.look : -free.look;
    const seen = residualsAt(x.map((value, k) => (k === i ? value + by : value)));
    return residuals.map((r, k) => (seen ? (seen[k]! - r) / by : 0));
  });
}

/** Within the bounds, those at one that want beyond it held. */
function stepOf(columns: Columns, { x, residuals }: Least, frees: readonly Free[]): readonly number[] {
  const held = new Set<number>();
  for (;;) {
    const free = frees.flatMap((_, i) => (held.has(i) ? [] : [i]));
    const step = solved(columns, residuals, free);
    const out = free.filter((i, k) => {
      const to = x[i]! + step[k]!;
      const { least, most } = frees[i]!;
      return (to < least && x[i]! <= least + 1e-12) || (to > most && x[i]! >= most - 1e-12);
    });
    if (out.length === 0)
      return frees.map((one, i) => {
        const k = free.indexOf(i);
        return k < 0 ? 0 : Math.min(one.farthest, Math.max(-one.farthest, step[k]!));
      });
    out.forEach((i) => held.add(i));
  }
}

/** Normal equations of one or two figures. */
function solved(columns: Columns, residuals: readonly number[], free: readonly number[]): readonly number[] {
  const dot = (a: readonly number[], b: readonly number[]): number =>
    a.reduce((sum, value, k) => sum + value * b[k]!, 0);
  const [first, second] = free.map((i) => columns[i]!);
  if (!first) return [];
  const p = -dot(first, residuals);
  const a = dot(first, first);
  if (!second) return [a > 0 ? p / a : 0];
  const q = -dot(second, residuals);
  const [b, c] = [dot(first, second), dot(second, second)];
  const damping = 1e-4 * (a + c);
  const whole = (a + damping) * (c + damping) - b * b;
  return whole > 0 ? [((c + damping) * p - b * q) / whole, ((a + damping) * q - b * p) / whole] : [0, 0];
}

/** As much of a step as there are residuals for and as helps; the last that was tried where none does. */
function taken(
  residualsAt: (x: readonly number[]) => readonly number[] | null,
  now: Least,
  step: readonly number[],
  frees: readonly Free[],
): Least | null {
  let last: Least | null = null;
  for (let share = 1; share > 0.1; share *= 0.4) {
    const x = now.x.map((value, i) => clamp(value + share * step[i]!, frees[i]!));
    if (x.every((value, i) => Math.abs(value - now.x[i]!) < 1e-4 * frees[i]!.look)) return last;
    const residuals = residualsAt(x);
    if (!residuals) continue;
    last = { x, residuals, cost: costOf(residuals), columns: null };
    if (last.cost < now.cost) return last;
  }
  return last;
}

function compassed(
  residualsAt: (x: readonly number[]) => readonly number[] | null,
  from: Least,
  frees: readonly Free[],
  { enough, compass }: Patience,
): Least {
  let now = from;
  for (let halving = 0; halving < compass && now.cost >= enough;) {
    const better = frees.flatMap((free, i) =>
      [1, -1].flatMap((sign) => {
        const by = sign * free.look * 2 * 0.5 ** halving;
        const x = now.x.map((value, k) => (k === i ? clamp(value + by, free) : value));
        const residuals = x[i] === now.x[i] ? null : residualsAt(x);
        return residuals ? [{ x, residuals, cost: costOf(residuals), columns: null }] : [];
      }),
    );
    const best = better.reduce<Least>((least, one) => (one.cost < 0.999 * least.cost ? one : least), now);
    if (best === now) halving++;
    else now = best;
  }
  return now;
}
