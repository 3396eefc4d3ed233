/** What the cut under a string shows of rows in which no pole stands there. */
import { describe, expect, it } from 'vitest';
import { sectionDrawing } from '../../src/benchSheet/section.ts';
import { buildSheet } from '../../src/sheet/check.ts';
import { withoutCoil } from '../../src/sheet/looseMagnets.ts';
import type { Pole, Sheet } from '../../src/sheet/sheet.ts';
import { withOthers } from '../../src/sheet/singlePoles.ts';
import { PRESETS } from '../fixtures/presets.ts';

const preset = (number: string): Sheet =>
  buildSheet(PRESETS.find(({ name }) => name.startsWith(number))!.data);

/** Every figure and letter of it. */
function written(sheet: Sheet, index: number, string: number): readonly string[] {
  const pickup = sheet.pickups[index]!;
  const { marks } = sectionDrawing(sheet, pickup, pickup.build!, string);
  for (const mark of marks) if (mark.kind === 'text') expect(Number.isFinite(mark.x + mark.y)).toBe(true);
  return marks.flatMap((mark) => (mark.kind === 'text' ? [mark.text] : []));
}

function withPoles(sheet: Sheet, index: number, change: (pole: Pole) => Pole): Sheet {
  const pickups = sheet.pickups.map((pickup, i) =>
    i === index && pickup.build
      ? {
          ...pickup,
          build: {
            ...pickup.build,
            rows: pickup.build.rows.map((row) => ({ ...row, pole: change(row.pole) })),
          },
        }
      : pickup,
  );
  return { ...sheet, pickups };
}

const bareOf = (sheet: Sheet, index: number): Sheet => ({
  ...sheet,
  pickups: sheet.pickups.map((pickup, i) => (i === index ? withoutCoil(pickup) : pickup)),
});

describe('a cut under a string', () => {
  it('measures no poles where two blades stand, with their coils and without', () => {
    const blades = preset('18');
    const wound = written(blades, 1, 3);
    expect(wound.some((text) => text.startsWith('Ø'))).toBe(false);
    expect(written(blades, 0, 3).filter((text) => text.startsWith('Ø'))).toHaveLength(2);
    const bare = written(bareOf(blades, 1), 1, 3);
    expect(bare.length).toBeLessThan(wound.length);
  });

  it('nor where the pole of either row is left out', () => {
    const alone = withPoles(preset('09'), 0, (pole) => withOthers(pole, 2, false));
    expect(written(alone, 0, 3).filter((text) => text.startsWith('Ø'))).toHaveLength(2);
    expect(written(alone, 0, 4).some((text) => text.startsWith('Ø'))).toBe(false);
    expect(written(bareOf(alone, 0), 0, 4).some((text) => text.startsWith('Ø'))).toBe(false);
  });
});
