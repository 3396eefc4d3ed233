/** The figures of the table of strings. */
import { describe, expect, it } from 'vitest';
import { predict } from '../../src/physics/predict.ts';
import { COLUMNS, DASH, stringRows } from '../../src/ui/strings/rows.ts';
import { builtSheet } from '../fixtures/builtSheet.ts';
import { exampleSheet } from '../fixtures/sheet.ts';
import { fieldsOf } from '../fixtures/solved.ts';

describe('the table of strings', () => {
  it('has a figure under every heading for a build, in the units of the headings', () => {
    const sheet = builtSheet('slugs and screws beside an alnico bar');
    const outcome = predict(sheet, fieldsOf(sheet)).pickups[0]!;
    const rows = stringRows(outcome);
    expect(rows.map(({ string }) => string)).toEqual([1, 2, 3, 4, 5, 6]);
    for (const { cells, string } of rows) {
      expect(cells).toHaveLength(COLUMNS.length);
      const { level, widths, field } = outcome.strings[string - 1]!;
      const numbers = cells.map((cell) => Number(cell.split(' · ')[0]!.replace('−', '-')));
      const exact = [
        1e3 * field!.fluxDensity,
        level,
        1e3 * widths[0]!,
        1e2 * field!.saturation,
        field!.centsTowards,
        field!.centsAcross,
        field!.beat,
        1e6 * field!.drawnDown,
      ];
      numbers.forEach((number, c) => {
        expect(Math.abs(number - exact[c]!), COLUMNS[c]!.name).toBeLessThan(
          0.51 * 10 ** -decimals(cells[c]!),
        );
      });
    }
  });

  it('shows a dash where a figure needs a build, and never more than it has', () => {
    const rows = stringRows(predict(exampleSheet()).pickups[0]);
    expect(rows).toHaveLength(6);
    for (const { cells } of rows) {
      expect(cells.filter((cell) => cell === DASH)).toHaveLength(6);
      expect(cells.join(' ')).not.toMatch(/NaN|Infinity|undefined/);
    }
    expect(stringRows(undefined)).toEqual([]);
  });
});

const decimals = (cell: string): number => /\.(\d+)/.exec(cell.split(' · ')[0]!)?.[1]?.length ?? 0;
