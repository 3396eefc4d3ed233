/** Who sets a pickup's reach: its build, or the maker's hand, which then begins with what was computed. */
import { BELL_AREA } from '../../shape/bell.ts';
import { withHandReach, type MeasuredReach } from '../../sheet/handReach.ts';
import type { Sheet } from '../../sheet/sheet.ts';
import type { Voice } from '../../state/types.ts';
import type { Workbench } from '../../state/workbench.svelte.ts';

/** Width and area of every row's bell, so that all of them together have the area of the whole reach. */
export function measuredReach({ reach }: Voice): MeasuredReach[] {
  const { x, value, rows } = reach;
  const step = x.length > 1 ? (x[1] as number) - (x[0] as number) : 0;
  const whole = Math.abs(value.reduce((sum, v) => sum + v, 0) * step);
  const parts = rows.map((row) => Math.abs(row.peak * row.width) * BELL_AREA);
  const sum = parts.reduce((all, part) => all + part, 0);
  // Coils out of phase cancel; their sum then says nothing about each of them.
  const share = sum > 0 && whole > sum / 2 ? whole / sum : 1;
  return rows.map((row, r) => ({ width: row.width, area: (parts[r] ?? 0) * share }));
}

/** The sheet with a pickup's reach set by hand as it now is. */
export function byHand(bench: Workbench, index: number): Sheet {
  const { sheet, prediction } = bench;
  const voice = prediction?.voices[index];
  if (sheet.pickups[index]?.reachBy === 'hand') return sheet;
  return withHandReach(sheet, index, sheet.listen.string, voice ? measuredReach(voice) : []);
}

export function reachBy(bench: Workbench, index: number, by: 'hand' | 'build'): void {
  const pickup = bench.sheet.pickups[index];
  if (!pickup || pickup.reachBy === by) return;
  if (by === 'build') bench.set(['pickups', index, 'reachBy'], by);
  else bench.set(['pickups', index], byHand(bench, index).pickups[index]);
}
