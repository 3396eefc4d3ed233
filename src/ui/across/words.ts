/** Levels of the strings against each other, and sentences about them. Pure. */
import type { PickupBuild, Pole } from '../../sheet/sheet.ts';
import { formatFigure } from '../../sheet/units.ts';
import type { SheetFault, PickupOutcome } from '../../state/types.ts';
import { decibels } from '../drawing/figures.ts';

export type Balance = 'their mean' | 'the chosen string';
export const BALANCES: readonly Balance[] = ['their mean', 'the chosen string'];

/**
 * Level of every string, dB against the mean of all (in dB) or against one of them; NaN for a silent string.
 * @param string 1 is the highest
 */
export function balanced(
  outcome: PickupOutcome | undefined,
  balance: Balance,
  string: number,
): readonly number[] {
  const levels = (outcome?.strings ?? []).map((s) => (s.level > 0 ? 20 * Math.log10(s.level) : NaN));
  const heard = levels.filter(Number.isFinite);
  const mean = heard.reduce((sum, level) => sum + level, 0) / heard.length;
  const reference = balance === 'their mean' ? mean : (levels[string - 1] ?? NaN);
  return levels.map((level) => level - reference);
}

const KINDS: Readonly<Record<Pole['kind'], string>> = {
  rod: 'rods',
  slug: 'slugs',
  screw: 'screws',
  none: 'no poles',
};

/** «screws towards the neck», «slugs towards the bridge»; «rods» where there is one row. */
export function rowNames(build: PickupBuild): readonly string[] {
  const two = build.rows.length > 1;
  return build.rows.map(({ pole }, i) => {
    const side = i === 0 ? 'neck' : 'bridge';
    return two ? `${KINDS[pole.kind]} towards the ${side}` : KINDS[pole.kind];
  });
}

/** For the ear: the whole picture in a sentence. */
export function describeAcross(
  name: string,
  build: PickupBuild | null,
  levels: readonly number[],
  balance: Balance,
): string {
  const gaps = build
    ? `gap ${formatFigure(build.gapBass, 'gap')} at the bass side, ${formatFigure(build.gapTreble, 'gap')} at the treble side`
    : 'not built';
  const each = levels.flatMap((level, i) =>
    Number.isFinite(level) ? [`string ${i + 1} ${decibels(level)}`] : [],
  );
  const heard = each.length > 0 ? `; level against ${balance}: ${each.join(', ')}` : '';
  return `${name} pickup seen along the strings, ${gaps}${heard}`;
}

/** What is wrong with the gaps or the pole heights of a pickup, in words. */
export function faultsAcross(faults: readonly SheetFault[], pickup: number): readonly string[] {
  const ours = faults.filter(
    ({ path }) => path[1] === pickup && path.some((key) => /^(gap|heights)/.test(String(key))),
  );
  return [...new Set(ours.map(({ message }) => message))];
}
