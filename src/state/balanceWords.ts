/** What is said of a pickup that was balanced. Pure. */
import type { JobValue } from '../jobs/protocol.ts';
import type { BalanceBy, PickupBuild } from '../sheet/sheet.ts';

type Balanced = JobValue['balance'];

/** How far off at most, «2.4 dB». */
const worst = (offs: readonly number[]): string => `${Math.max(...offs.map(Math.abs)).toFixed(1)} dB`;
const mm = (length: number): string => (1e3 * length).toFixed(2).replace('-', '−');
const cents = (value: number): string => `${value.toFixed(1).replace('-', '−')} cents`;
const signed = (db: number): string =>
  Math.abs(db) < 0.05 ? 'as loud' : `${Math.abs(db).toFixed(1)} dB ${db > 0 ? 'louder' : 'softer'}`;

/** «strings within 0.0 dB, 2.4 dB before»: what it comes to, and by how much it misses. @param than the other pickup's name */
function comesTo(by: BalanceBy, { build, before, after, reached }: Balanced, than: string): string {
  switch (by) {
    case 'poles':
      return `strings ${worst(after)} off at most, ${worst(before)} before`;
    case 'gaps':
      return `gaps ${mm(build.gapBass)} mm (bass) and ${mm(build.gapTreble)} mm (treble): strings ${worst(after)} off at most, ${worst(before)} before`;
    case 'turns': {
      const turns = build.rows.map((row) => row.turns).join(' and ');
      return `${turns} turns: ${reached ? 'as loud as' : `${signed(after[0]!)} than`} the ${than} pickup, ${signed(before[0]!)} before`;
    }
    case 'pull':
      return `gaps ${mm(build.gapBass)} mm (bass) and ${mm(build.gapTreble)} mm (treble)`;
  }
}

/** A sentence or more. */
export function balanceWords(name: string, by: BalanceBy, found: Balanced, than: string): string {
  const { pulls, louder, limits } = found;
  const all = by === 'turns' ? '' : `, the pickup ${signed(louder)}`;
  const said = `${name}: ${comesTo(by, found, than)}${all}; pull ${cents(pulls[1])}, ${cents(pulls[0])} before.`;
  return [said, ...limits].join(' ');
}

/** «poles set», and what it misses: for a trial's name. */
export function balancedWhat(by: BalanceBy, all: readonly Balanced[]): string {
  const what = {
    poles: 'poles set',
    gaps: 'gaps set',
    turns: 'turns for one loudness',
    pull: 'gaps for the pull',
  }[by];
  if (all.every(({ reached }) => reached)) return what;
  const offs = all.flatMap(({ after }) => after);
  return `${what}, ${offs.length > 0 ? `${worst(offs)} off at most` : 'short of what was wanted'}`;
}

/** A string of a balanced pickup. */
export interface BalanceRow {
  readonly string: string;
  /** dB. */
  readonly before: string;
  readonly after: string;
  /** mm: of its pole. */
  readonly height: string;
}

const off = (db: number): string => {
  const text = Math.abs(db).toFixed(1);
  return `${Number(text) === 0 ? '' : db < 0 ? '−' : '+'}${text}`;
};

/** One a string, where strings were balanced. @param was its build before */
export function balanceRows(
  { build, before, after }: Balanced,
  was: PickupBuild,
  strings: readonly string[],
): readonly BalanceRow[] {
  if (before.length < 2) return [];
  const moved = build.rows.findIndex(({ pole }, r) =>
    pole.heights.some((height, i) => height !== was.rows[r]!.pole.heights[i]),
  );
  return before.map((db, i) => ({
    string: strings[i] ?? `${i + 1}`,
    before: off(db),
    after: off(after[i]!),
    height: mm(build.rows[Math.max(0, moved)]!.pole.heights[i]!),
  }));
}
