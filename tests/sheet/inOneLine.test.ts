import fc from 'fast-check';
import { expect, it } from 'vitest';
import { checkSheet } from '../../src/sheet/check.ts';
import { inOneLine } from '../../src/sheet/inOneLine.ts';
import type { Sheet } from '../../src/sheet/sheet.ts';
import { arbitrarySheet } from '../fixtures/arbitrarySheet.ts';
import { PRESETS } from '../fixtures/presets.ts';

const opened = PRESETS.map(({ data }): Sheet => {
  const checked = checkSheet(data);
  if (!checked.ok) throw new Error(checked.message);
  return checked.sheet;
});

it('says in one line what every preset is: how many, of what, how wound, into what [exact]', () => {
  for (const sheet of opened) {
    const words = inOneLine(sheet);
    expect(words).toMatch(
      /^(One|Two|Three) (single coil|humbucker)s?( and (one|two) single coils?)?, .+, into .+ m of cable$/,
    );
    for (const { bars } of sheet.pickups.flatMap(({ build }) => build ?? []))
      if (bars[0])
        expect(words).toContain(`${bars[0].magnet.grade} ${bars.length === 1 ? 'bar under' : 'bars'}`);
    expect(words).toContain(` and ${Number(sheet.harness.cable.length.toFixed(1))} m of cable`);
  }
  expect(inOneLine(opened[0]!)).toMatch(
    /^Three single coils, alnico 5 rods, 7,\d00 .*turns of AWG 42, into 250 kΩ and 3 m of cable$/,
  );
});

it('says of how many pickups steel redirects the field [exact]', () => {
  const plate = {
    ...{ width: 0.015, length: 0.06, thickness: 0.001, offset: 0, across: 0, top: -0.017 },
    steel: 'low-carbon, annealed' as const,
  };
  const withPlates = (of: number): Sheet => ({
    ...opened[0]!,
    pickups: opened[0]!.pickups.map((pickup, i) => ({
      ...pickup,
      build: pickup.build && { ...pickup.build, steel: i < of ? [plate] : [] },
    })),
  });
  expect(inOneLine(withPlates(1))).toContain('coils, alnico 5 rods, one of them with redirecting steel, 7,');
  expect(inOneLine(withPlates(3))).toContain('coils, alnico 5 rods and redirecting steel, 7,');
});

it('has words for any sheet, on one line [exact]', () => {
  fc.assert(
    fc.property(arbitrarySheet, (sheet) => {
      expect(inOneLine(sheet)).toMatch(/^[A-Z][^\n]+$/);
      expect(inOneLine(sheet)).not.toMatch(/undefined|NaN|null/);
    }),
  );
});
