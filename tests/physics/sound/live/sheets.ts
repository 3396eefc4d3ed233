/** Sheets that differ from the example in one thing each. */
import type {
  Listen,
  Reach,
  ResolvedRow as Row,
  ResolvedSheet as Sheet,
} from '../../../../src/sheet/sheet.ts';
import { exampleSheet } from '../../../fixtures/sheet.ts';

export interface Wishes {
  readonly fade?: number | null;
  readonly reach?: Partial<Reach>;
  readonly listen?: Partial<Listen>;
  /** Indices of the pickups that sound; the neck's unless given. */
  readonly sounds?: readonly number[];
}

export function sheetWith({ fade = null, reach = {}, listen = {}, sounds = [0] }: Wishes = {}): Sheet {
  const sheet = exampleSheet();
  return {
    ...sheet,
    pickups: sheet.pickups.map((pickup, i) => ({
      ...pickup,
      sounds: sounds.includes(i),
      rows: pickup.rows.map((row) => ({ ...row, reach: { ...row.reach, fade, ...reach } })),
    })),
    listen: {
      ...sheet.listen,
      tempo: 120,
      line: [
        { beat: 0, string: 2, fret: 3 },
        { beat: 0.5, string: 2, fret: 5 },
        { beat: 1, string: 1, fret: 0 },
        { beat: 2.25, string: 3, fret: 7 },
      ],
      through: 'cable',
      seconds: 1,
      ...listen,
    },
  };
}

/** With the first row of the first pickup changed. */
export function withRow(sheet: Sheet, change: (row: Row) => Row): Sheet {
  const pickups = sheet.pickups.map((pickup, i) =>
    i === 0 ? { ...pickup, rows: pickup.rows.map((row, r) => (r === 0 ? change(row) : row)) } : pickup,
  );
  return { ...sheet, pickups };
}

export function decibels(ratio: number): number {
  return 20 * Math.log10(ratio);
}
