/** From a computed reach to one set by hand, so that nothing jumps where a maker takes over. */
import { stringLevel } from '../shape/stringLevel.ts';
import { clampFigure, snapFigure } from './figures.ts';
import type { Sheet } from './sheet.ts';

/** What a row's reach measures on one string. */
export interface MeasuredReach {
  /** That of a bell at half its height, m. */
  readonly width: number;
  /** Area under the bell, V·s/m; its sign is the coil's. */
  readonly area: number;
}

/**
 * Sets a pickup's reach by hand, as wide and as strong on the given string as was measured there; its build
 * stays. Rows without a measure keep what they had.
 */
export function withHandReach(
  sheet: Sheet,
  index: number,
  string: number,
  measured: readonly (MeasuredReach | undefined)[],
): Sheet {
  const spec = sheet.instrument.strings[string - 1];
  const level = spec ? stringLevel(spec) : 1;
  const pickups = sheet.pickups.map((pickup, i) => {
    if (i !== index) return pickup;
    const rows = pickup.rows.map((row, r) => {
      const found = measured[r];
      if (!found || !Number.isFinite(found.width) || !Number.isFinite(found.area)) return row;
      const sensitivity = clampFigure(digits(Math.abs(found.area) / level), 'sensitivity');
      return {
        ...row,
        reach: { ...row.reach, width: snapFigure(found.width, 'focus'), sensitivity },
      };
    });
    return { ...pickup, rows, reachBy: 'hand' as const };
  });
  return { ...sheet, pickups };
}

/** Three digits, so that the figure reads well: within half a per cent, a twentieth of a decibel. */
const digits = (value: number): number => Number(value.toPrecision(3));
