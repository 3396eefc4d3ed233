/** Where a cover and a base plate lie about a build: plain geometry, as the field's computation has it. */
import { FLANGE, SIDE_ROOM } from '../shape/bobbin.ts';
import type { Cover, PickupBuild, Pole } from './build.ts';

/** Limits of a cover and a base plate; both are centred about the pickup. */
export interface SheetPlace {
  /** Along the strings, from the pickup's centre to the outside of a cover's wall or the edge of a plate, m. */
  readonly halfX: number;
  /** The same across them, m. */
  readonly halfY: number;
  /** z to which a cover's walls reach, and of a base plate's upper face, m. */
  readonly rim: number;
  readonly plate: number;
}

/** @param offsets of the rows' centres from the pickup's, m */
export function sheetPlace({ rows, bar, cover }: PickupBuild, offsets: readonly number[]): SheetPlace {
  const rim = Math.min(...rows.map(({ window }) => window.bottom - FLANGE));
  const lowest = [rim];
  for (const { pole } of rows) {
    if (pole.kind !== 'screw') lowest.push(Math.min(...pole.heights) - pole.length);
  }
  if (bar) lowest.push(bar.top - bar.thickness);
  const along = rows.map(({ window }, r) => Math.abs(offsets[r] ?? 0) + window.outer);
  const across = rows.map(({ window }) => window.straight / 2 + window.outer);
  if (bar && (!cover || bar.top > rim)) {
    along.push(Math.abs(bar.offset) + bar.width / 2);
    across.push(bar.length / 2);
  }
  const room = SIDE_ROOM + (cover?.thickness ?? 0);
  return {
    halfX: Math.max(...along) + room,
    halfY: Math.max(...across) + room,
    rim,
    plate: Math.min(...lowest),
  };
}

/** Whether a cover is open over the poles of a row, counted from 0. */
export const hasHoles = ({ holes }: Cover, row: number): boolean =>
  holes === 'every row' || holes === `row ${row + 1}`;

/** Of a pole's upper end, m. */
export const widthAtTop = ({ kind, head, diameter }: Pole): number =>
  kind === 'screw' ? head.diameter : diameter;
