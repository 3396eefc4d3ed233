import { describe, expect, it } from 'vitest';
import { checkSheet } from '../../src/sheet/check.ts';
import { nameStringSet } from '../../src/sheet/strings.ts';
import { PRESETS } from '../fixtures/presets.ts';

const sheets = PRESETS.map(({ name, data }) => {
  const checked = checkSheet(data);
  if (!checked.ok) throw new Error(`${name}: ${checked.message}`);
  return { name, sheet: checked.sheet };
});

it('are at least nine, in order, no two with the same title', () => {
  expect(sheets.length).toBeGreaterThanOrEqual(9);
  sheets.forEach(({ name }, i) =>
    expect(name).toMatch(new RegExp(`^${String(i + 1).padStart(2, '0')}-[a-z-]+\\.json$`)),
  );
  expect(new Set(sheets.map(({ sheet }) => sheet.title)).size).toBe(sheets.length);
});

it('the first is the three-pickup guitar, and every kind of build comes up', () => {
  expect(sheets[0]!.sheet.pickups.map((p) => p.rows.length)).toStrictEqual([1, 1, 1]);
  expect(sheets[0]!.sheet.instrument.scaleLength).toBe(0.648);
  const pickups = sheets.flatMap(({ sheet }) => sheet.pickups);
  expect(pickups.some((p) => p.slant !== 0)).toBe(true);
  expect(pickups.some((p) => p.rows.length === 2 && p.join === 'parallel')).toBe(true);
  expect(pickups.some((p) => p.reversed)).toBe(true);
  const steel = pickups.flatMap((p) => (p.build!.steel.length > 0 ? [p] : []));
  expect(steel).toHaveLength(3);
  expect(pickups.some((p) => p.build!.bars.length === 2)).toBe(true);
  const harnesses = sheets.map(({ sheet }) => sheet.harness);
  expect(new Set(harnesses.map((h) => h.wiring))).toStrictEqual(new Set(['own', 'shared']));
  expect(harnesses.some((h) => h.controls.some((c) => c.bleed))).toBe(true);
  expect(new Set(harnesses.map((h) => h.cable.length)).size).toBeGreaterThan(2);
});

it('[exact] pass the check as they stand, and every pickup says how it is built', () => {
  PRESETS.forEach(({ data }, i) => expect(sheets[i]!.sheet).toStrictEqual(data));
  for (const { sheet } of sheets)
    for (const { build, reachBy } of sheet.pickups) {
      expect(build).not.toBeNull();
      expect(reachBy).toBe('build');
    }
});

it('one shows figures that were measured and typed over the computed ones', () => {
  const [, , bridge] = sheets.find(({ name }) => name.startsWith('06'))!.sheet.pickups;
  expect(bridge!.rows[0]!.coil).toMatchObject({ resistance: 6400, inductance: 2.55, capacitance: null });
});

describe.each(sheets)('[practice] $name is built like real ones', ({ sheet }) => {
  it('stands in order from neck to bridge, rows nearest the neck first, in known strings', () => {
    const places = sheet.pickups.map((p) => p.place);
    expect(places).toStrictEqual([...places].sort((a, b) => b - a));
    for (const { rows } of sheet.pickups)
      if (rows.length === 2) expect(rows[0]!.offset - rows[1]!.offset).toBeCloseTo(0.019, 6);
    expect(nameStringSet(sheet.instrument.strings)).not.toBe('own strings');
  });
});
