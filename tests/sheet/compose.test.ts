import fc from 'fast-check';
import { expect, it } from 'vitest';
import { checkSheet } from '../../src/sheet/check.ts';
import {
  withBleed,
  withPickup,
  withRows,
  withSounding,
  withTone,
  withWiring,
  withoutPickup,
} from '../../src/sheet/compose.ts';
import type { Sheet } from '../../src/sheet/sheet.ts';
import { arbitrarySheet } from '../fixtures/arbitrarySheet.ts';

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
