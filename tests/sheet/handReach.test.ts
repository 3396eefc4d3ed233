import { expect, it } from 'vitest';
import { STARTING_BUILDS, withBuild } from '../../src/sheet/builds.ts';
import { withHandReach } from '../../src/sheet/handReach.ts';
import { stringLevel } from '../../src/shape/stringLevel.ts';
import { checkSheet } from '../../src/sheet/check.ts';
import { builtSheet } from '../fixtures/builtSheet.ts';

it('[exact] a reach set by hand has the width and the area that were measured, on that string', () => {
  const sheet = withBuild(builtSheet('six rods'), 1, STARTING_BUILDS[5]!);
  const measured = [
    { width: 0.0123, area: -0.031 },
    { width: 0.0117, area: 0.028 },
  ];
  for (const string of [1, 4]) {
    const next = withHandReach(sheet, 1, string, measured);
    expect(checkSheet(next)).toStrictEqual({ ok: true, sheet: next });
    const pickup = next.pickups[1]!;
    expect(pickup.reachBy).toBe('hand');
    expect(pickup.build).toBe(sheet.pickups[1]!.build);
    const level = stringLevel(next.instrument.strings[string - 1]!);
    pickup.rows.forEach(({ reach }, r) => {
      expect(reach.width).toBe(measured[r]!.width);
      // Three digits are kept.
      const ratio = (reach.sensitivity * level) / Math.abs(measured[r]!.area);
      expect(Math.abs(ratio - 1)).toBeLessThan(5e-3);
    });
    expect(next.pickups[0]).toBe(sheet.pickups[0]);
  }
});
