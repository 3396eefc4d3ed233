/** What stands on the page, against the sheet and against what the screen is given. */
import { describe, expect, it } from 'vitest';
import { stateOf } from '../../src/benchSheet/benchPage.ts';
import { drawingSvg, sections } from '../../src/benchSheet/drawingFile.ts';
import { documentText } from '../../src/benchSheet/html.ts';
import { leadsOf } from '../../src/benchSheet/leads.ts';
import { ROOM } from '../../src/benchSheet/page.ts';
import { checkSheet } from '../../src/sheet/check.ts';
import { formatFigure } from '../../src/sheet/format.ts';
import { withoutCoil } from '../../src/sheet/looseMagnets.ts';
import { decibels, hertz, threeDigits } from '../../src/sheet/shown.ts';
import type { Pickup } from '../../src/sheet/sheet.ts';
import { computedPreset } from '../fixtures/presetFields.ts';
import { PRESETS } from '../fixtures/presets.ts';
import { blocksOf, setPreset, tableOf } from './rig.ts';

/** Rods, a bar under slugs, two coils in parallel, covers, four and seven strings. */
const UNLIKE = PRESETS.map(({ name }) => name).filter((name) => /^(01|05|10|14|15|16)/.test(name));

describe.each(UNLIKE)('%s', (name) => {
  it('[exact] bears the figures of the prediction, as the screen writes them', async () => {
    const { page } = await setPreset(name);
    const { sheet, prediction } = computedPreset(name);
    const coils = tableOf(page, 'Coils');
    const all = prediction.pickups.flatMap((outcome) => outcome.coils);
    expect(coils.rows).toHaveLength(all.length);
    coils.rows.forEach((row, i) => {
      const { resistance, inductance, capacitance } = all[i]!;
      const three = (value: number): number => Number(value.toPrecision(3));
      expect(row.slice(-3)).toEqual([
        formatFigure(three(resistance), 'coilResistance'),
        formatFigure(three(inductance), 'coilInductance'),
        formatFigure(three(capacitance), 'coilCapacitance'),
      ]);
    });
    const { resonance } = prediction.voices[0]!.features;
    expect(tableOf(page, 'At its leads').note).toContain(
      resonance
        ? ` ${hertz(resonance.frequency)}, ${decibels(resonance.heightDb)}, Q ${resonance.q.toFixed(1)}.`
        : ' no peak.',
    );
    tableOf(page, 'Gaps and field').rows.forEach((row, i) => {
      expect(row[0]).toBe(`${i + 1} ${prediction.openStrings[i]!.name}`);
      expect(row.at(-1)).toBe(threeDigits(prediction.pickups[0]!.strings[i]!.field!.fluxDensity * 1e3));
    });
    expect(page.title).toBe(sheet.title);
  });

  it('names the pole that is up as the strings find it and as the rods are set in', async () => {
    const { page } = await setPreset(name);
    const { sheet } = computedPreset(name);
    const { head, rows } = tableOf(page, 'Coils');
    const up = head.indexOf('pole up');
    const built = sheet.pickups.flatMap(({ build }) => build?.rows ?? []);
    built.forEach((row, i) => {
      if (row.pole.kind === 'rod') expect(rows[i]![up]).toBe(row.up);
    });
    // Over the chosen pickup: what a meter set on the poles shows.
    const tops = tableOf(page, 'Gaps and field')
      .rows[0]!.slice(2, -1)
      .filter((_, c) => c % 2 === 0);
    tops.forEach((top, r) => expect(top.startsWith('N')).toBe(rows[r]![up] === 'north'));
  });

  it('has drawings within its columns, whose letters are nine points', async () => {
    const { page } = await setPreset(name);
    for (const block of blocksOf(page)) {
      const drawing = 'drawing' in block ? block.drawing : null;
      if (!drawing) continue;
      expect(drawing.width).toBeLessThanOrEqual(ROOM.width / 2);
      for (const mark of drawing.marks) {
        if (mark.kind === 'text') {
          expect(mark.x, mark.text).toBeGreaterThanOrEqual(0);
          expect(mark.x, mark.text).toBeLessThanOrEqual(drawing.width);
          expect(mark.y, mark.text).toBeLessThanOrEqual(drawing.height);
        } else expect(mark.d).not.toMatch(/NaN|Infinity|undefined/);
      }
    }
  });
});

it('[exact] the ends of two coils: in series the first’s start is hot; turned round, everything is', () => {
  const pickup = (over: Partial<Pickup>): Pickup =>
    ({ rows: [{}, {}], join: 'series', phase: 'in', reversed: false, ...over }) as unknown as Pickup;
  const both = (over: Partial<Pickup>): string[] =>
    [0, 1].map((r) => Object.values(leadsOf(pickup(over), r)).join(' '));
  expect(both({})).toEqual(['hot coil 2', 'coil 1 ground']);
  expect(both({ phase: 'out' })).toEqual(['hot coil 2', 'ground coil 1']);
  expect(both({ reversed: true })).toEqual(['ground coil 2', 'coil 1 hot']);
  expect(both({ join: 'parallel' })).toEqual(['hot ground', 'hot ground']);
  expect(both({ join: 'parallel', phase: 'out' })).toEqual(['hot ground', 'ground hot']);
});

it('the state tells two sheets apart, and is the same of the same', () => {
  const { sheet } = computedPreset(PRESETS[0]!.name);
  expect(stateOf(sheet)).toMatch(/^[\dA-F]{4} [\dA-F]{4}$/);
  expect(stateOf(structuredClone(sheet))).toBe(stateOf(sheet));
  expect(stateOf({ ...sheet, notes: 'another' })).not.toBe(stateOf(sheet));
});

it('what a person wrote cannot become markup', async () => {
  const { page } = await setPreset(PRESETS[0]!.name);
  const html = documentText({ ...page, title: '<b onclick="x">&' }, '');
  expect(html).toContain('<h1>&lt;b onclick=&quot;x&quot;&gt;&amp;</h1>');
});

it.each(PRESETS.map(({ name }) => name))('%s is drawn as well when its coils are off', (name) => {
  const checked = checkSheet(PRESETS.find((preset) => preset.name === name)?.data);
  if (!checked.ok) throw new Error(checked.message);
  const { sheet } = checked;
  const drawings = sections({ ...sheet, pickups: sheet.pickups.map(withoutCoil) });
  expect(drawings.length).toBeGreaterThan(0);
  for (const { drawing } of drawings) expect(drawingSvg(drawing, '')).not.toMatch(/NaN|Infinity|undefined/);
});
