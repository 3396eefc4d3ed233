/** N or S on every pole of a row whose rods don't all stand alike; nothing where they do, as the plan says it then. */
import { standingPoles } from '../../shape/poleRow.ts';
import { upAt } from '../../shape/singlePole.ts';
import type { RowBuild } from '../../sheet/build.ts';

/** By pole, from string 1. */
export function poleLetters(row: RowBuild): readonly ('N' | 'S' | '')[] {
  const ups = standingPoles(row.pole).map((top, k) => top !== null && upAt(row, k));
  const mixed = row.pole.kind === 'rod' && ups.includes('north') && ups.includes('south');
  return ups.map((up) => (mixed && up ? (up === 'north' ? 'N' : 'S') : ''));
}
