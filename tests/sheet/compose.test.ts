import { withSounding } from '../../src/sheet/sounding.ts';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { STARTING_BUILDS, withBuild } from '../../src/sheet/builds.ts';
import { checkSheet } from '../../src/sheet/check.ts';
import {
  withBleed,
  withPickup,
  withRows,
  withTone,
  withWiring,
  withoutPickup,
} from '../../src/sheet/compose.ts';
import type { Sheet } from '../../src/sheet/sheet.ts';
import { arbitrarySheet } from '../fixtures/arbitrarySheet.ts';
import { exampleSheet } from '../fixtures/sheet.ts';

const SEED = 25;

/** Pickups where two rows fit: twenty millimetres from either end. */
const roomy = arbitrarySheet.map((sheet): Sheet => {
  const { scaleLength } = sheet.instrument;
  const clamp = (place: number): number => Math.min(scaleLength - 0.02, Math.max(0.02, place));
  const pickups = sheet.pickups.map((p) => ({
    ...p,
    place: clamp(p.place),
    rows: p.rows.map((r) => ({ ...r, offset: r.offset / 2 })),
  }));
  return { ...sheet, pickups };
});

const index = fc.nat(3);

it.each<[name: string, change: (sheet: Sheet, i: number, flag: boolean) => Sheet]>([
  ['one row', (s, i) => withRows(s, i, 1)],
  ['two rows', (s, i) => withRows(s, i, 2)],
  ['another pickup', (s) => withPickup(s)],
  ['a pickup less', (s, i) => withoutPickup(s, i)],
  ['one that sounds', (s, i) => withSounding(s, [i % s.pickups.length])],
  ['own or shared controls', (s, _, flag) => withWiring(s, flag ? 'own' : 'shared')],
  ['a bleed or none', (s, i, flag) => withBleed(s, i, flag)],
  ['a tone or none', (s, i, flag) => withTone(s, i, flag)],
])('[exact] %s leaves a sheet that passes', (_, change) => {
  fc.assert(
    fc.property(roomy, index, fc.boolean(), (sheet, i, flag) => {
      const next = change(sheet, i, flag);
      expect(checkSheet(next)).toStrictEqual({ ok: true, sheet: next });
    }),
    { seed: SEED, numRuns: 200 },
  );
});

it('[exact] a pickup added and taken out again leaves the others as they were', () => {
  fc.assert(
    fc.property(roomy, (sheet) => {
      const more = withPickup(sheet);
      if (more === sheet) expect(sheet.pickups).toHaveLength(3);
      else {
        const at = more.pickups.findIndex((p) => !sheet.pickups.includes(p));
        const back = withoutPickup(more, at);
        expect(new Set(back.pickups)).toStrictEqual(new Set(sheet.pickups));
        expect(back.harness.controls).toHaveLength(sheet.harness.controls.length);
      }
    }),
    { seed: SEED, numRuns: 200 },
  );
});

it('[exact] with own controls every pickup keeps its set when one is added', () => {
  fc.assert(
    fc.property(roomy, (sheet) => {
      if (sheet.harness.wiring !== 'own') return;
      const more = withPickup(sheet);
      sheet.pickups.forEach((pickup, i) => {
        const at = more.pickups.indexOf(pickup);
        expect(more.harness.controls[at]).toStrictEqual(sheet.harness.controls[i]);
      });
    }),
    { seed: SEED, numRuns: 200 },
  );
});

it.each(STARTING_BUILDS)('[exact] $name: one row of two stays where it is when they share a bar', (start) => {
  const sheet = withBuild(exampleSheet(), 0, start);
  const one = withRows(sheet, 0, 1).pickups[0]!;
  expect(one.rows[0]!.offset).toBe(start.build.bars.length > 0 ? start.rows[0]!.offset : 0);
  expect(one.build!.bars).toStrictEqual(start.build.bars);
});

it.each(STARTING_BUILDS.filter((start) => start.rows.length === 1))(
  'a second row for $name: poles, coils and bar leave each other room',
  (start) => {
    const pickup = withRows(withBuild(exampleSheet(), 0, start), 0, 2).pickups[0]!;
    const { rows } = pickup.build!;
    const [bar] = pickup.build!.bars;
    const half = Math.abs(pickup.rows[0]!.offset);
    expect(half).toBeGreaterThan(Math.max(...rows.map((row) => row.window.outer)));
    if (!bar) return;
    expect(bar.direction).toBe('across the width');
    for (const { pole, window } of rows) {
      expect(bar.width / 2).toBeLessThan(half - pole.diameter / 2);
      expect(bar.top).toBeLessThan(window.bottom);
    }
  },
);

it('[exact] a single row on the bridge side gets its twin on the neck side, opposite in magnet and winding', () => {
  const start = STARTING_BUILDS[5]!;
  const sheet = withBuild(exampleSheet(), 0, start);
  const pickup = sheet.pickups[0]!;
  const alone = {
    ...pickup,
    rows: [pickup.rows[1]!],
    build: { ...start.build, rows: [start.build.rows[1]!] },
  };
  const two = withRows({ ...sheet, pickups: [alone] }, 0, 2).pickups[0]!;
  expect(two.build!.rows[1]).toBe(start.build.rows[1]);
  expect(two.build!.rows[0]!.up).toBe(start.build.rows[0]!.up);
  expect(two.build!.rows[0]!.wound).toBe(start.build.rows[0]!.wound);
  expect(two.rows.map((row) => row.offset)).toStrictEqual([0.0095, -0.0095]);
});
