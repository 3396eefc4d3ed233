import { describe, expect, it } from 'vitest';
import { STARTING_BUILDS, withBuild, withoutBuild } from '../../src/sheet/builds.ts';
import { checkSheet } from '../../src/sheet/check.ts';
import { withRows } from '../../src/sheet/compose.ts';
import type { Coil } from '../../src/sheet/sheet.ts';
import { exampleSheet } from '../fixtures/sheet.ts';

/** Turns for each square of the wire's overall diameter that a winding machine reaches; single enamel adds 12 %. */
const PACKING = 0.85;
const ENAMEL = 1.12;

describe.each(STARTING_BUILDS)('$name', (start) => {
  const sheet = withBuild(exampleSheet(), 1, start);

  it('[exact] passes the check as it is, and leaves all else as it was', () => {
    expect(checkSheet(sheet)).toStrictEqual({ ok: true, sheet });
    const before = exampleSheet();
    expect(sheet).toStrictEqual({
      ...before,
      pickups: before.pickups.map((p, i) =>
        i === 1 ? { ...p, rows: start.rows, reachBy: 'build', build: start.build } : p,
      ),
    });
  });

  it('leaves every figure of its coils to the build', () => {
    expect(start.rows.map((row) => Object.values(row.coil))).toStrictEqual(
      start.build.rows.map(() => [null, null, null, null]),
    );
  });

  it('[practice] its wire fits its window', () => {
    for (const { window, turns, wire } of start.build.rows) {
      const area = (window.outer - window.inner) * (window.top - window.bottom);
      expect((turns * (ENAMEL * wire.conductor) ** 2) / PACKING).toBeLessThanOrEqual(area);
    }
  });

  it('its parts leave each other room', () => {
    const { pitch, rows, bars, gapBass, gapTreble } = start.build;
    const [bar] = bars;
    rows.forEach(({ pole, window }, i) => {
      const widest = pole.kind === 'screw' ? pole.head.diameter : pole.diameter;
      expect(pitch).toBeGreaterThan(widest);
      expect(Math.min(gapBass, gapTreble)).toBeGreaterThan(Math.max(...pole.heights));
      expect(window.inner).toBeGreaterThan(pole.diameter / 2);
      if (!bar) return;
      const beside = Math.abs(start.rows[i]!.offset - bar.offset) - bar.width / 2 > pole.diameter / 2;
      const below = bar.top < Math.min(...pole.heights) - pole.length;
      expect(beside || below).toBe(true);
      expect(bar.top).toBeLessThan(window.bottom);
    });
    const [a, b] = start.rows;
    if (a && b) {
      const reach = start.build.rows.reduce((sum, row) => sum + row.window.outer, 0);
      expect(Math.abs(a.offset - b.offset)).toBeGreaterThan(reach);
    }
  });

  it('[practice] two coils are opposite in magnet and in winding, so that hum cancels', () => {
    const [a, b] = start.build.rows;
    if (!b) return;
    expect([a!.up, b.up].sort()).toStrictEqual(['north', 'south']);
    expect([a!.wound, b.wound].sort()).toStrictEqual(['anticlockwise', 'clockwise']);
  });

  it('[exact] taken away again, the computed figures stay behind, but not over a measured one', () => {
    const measured = { resistance: 6100, inductance: null, capacitance: null, coreLoss: null };
    const given = {
      ...sheet,
      pickups: sheet.pickups.map((p, i) =>
        i === 1 ? { ...p, rows: p.rows.map((row) => ({ ...row, coil: measured })) } : p,
      ),
    };
    const computed: Coil = { resistance: 5000, inductance: 2, capacitance: 80e-12, coreLoss: 1e6 };
    const without = withoutBuild(
      given,
      1,
      start.rows.map(() => computed),
    );
    expect(checkSheet(without)).toStrictEqual({ ok: true, sheet: without });
    const pickup = without.pickups[1]!;
    expect([pickup.reachBy, pickup.build]).toStrictEqual(['hand', null]);
    for (const row of pickup.rows) expect(row.coil).toStrictEqual({ ...computed, resistance: 6100 });
  });

  it('[exact] one row or two: the build follows, the second the other way round', () => {
    const other = start.rows.length === 1 ? 2 : 1;
    const changed = withRows(sheet, 1, other);
    expect(checkSheet(changed)).toStrictEqual({ ok: true, sheet: changed });
    const rows = changed.pickups[1]!.build!.rows;
    expect(rows).toHaveLength(other);
    expect(rows[0]).toBe(start.build.rows[0]);
    if (rows[1]) expect([rows[0]!.up, rows[0]!.wound]).not.toStrictEqual([rows[1].up, rows[1].wound]);
  });
});

it('[exact] no pickup, no build, no change', () => {
  const sheet = exampleSheet();
  expect(withBuild(sheet, 3, STARTING_BUILDS[0]!)).toBe(sheet);
  expect(withoutBuild(sheet, 0, [])).toBe(sheet);
});
