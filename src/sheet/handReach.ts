/** From a computed reach to one set by hand, so that nothing jumps where a maker takes over. */
import { clampFigure, snapFigure } from './figures.ts';
import type { Sheet, StringSpec, WrapMetal } from './sheet.ts';

/** A reach's sensitivity is given for a plain steel string of this diameter, m. */
const REFERENCE_DIAMETER = 0.432e-3;
/** Share of a wrap's metal that counts beside the core's, as physics/string/reach.ts has it. */
const WRAP_SHARE: Readonly<Record<WrapMetal, number>> = {
  'nickel-plated steel': 0.4,
  nickel: 0.22,
  'ferritic stainless steel': 0.33,
  'austenitic stainless steel': 0,
  bronze: 0,
};

/** Level of a string against the reference string: the ratio of what is magnetic in their sections. */
export function levelOfString({ construction, diameter, core, wrap: metal }: StringSpec): number {
  const wrap = construction === 'wound' ? (Math.PI / 4) * (diameter ** 2 - core ** 2) : 0;
  return (core ** 2 + WRAP_SHARE[metal] * wrap) / REFERENCE_DIAMETER ** 2;
}

/** What a row's reach measures on one string. */
export interface MeasuredReach {
  /** That of a bell at half its height, m. */
  readonly width: number;
  /** Area under the bell, V·s/m; its sign is the coil's. */
  readonly area: number;
}

/**
 * Sets a pickup's reach by hand, as wide and as strong on the given string (1–6) as was measured there; its build
 * stays. Rows without a measure keep what they had.
 */
export function withHandReach(
  sheet: Sheet,
  index: number,
  string: number,
  measured: readonly (MeasuredReach | undefined)[],
): Sheet {
  const spec = sheet.instrument.strings[string - 1];
  const level = spec ? levelOfString(spec) : 1;
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
