/** A person's meters: one set of them, whoever asks. */
import { beforeEach, describe, expect, it, vi } from 'vitest';
import { USUAL_WISH } from '../../src/benchSheet/usual.ts';
import { BenchSheet } from '../../src/state/benchSheet.svelte.ts';
import { Measured, type MeasuredBench } from '../../src/state/measured.svelte.ts';
import { metersOf } from '../../src/state/meters.svelte.ts';
import type { Workbench } from '../../src/state/workbench.svelte.ts';
import { exampleSheet } from '../fixtures/sheet.ts';
import { FakeStorage } from './fakeStorage.ts';

const PROBE = { resistance: 1e6, capacitance: 110e-12 };
const TABLE = [
  'Hz,|Z| Ω',
  ...Array.from({ length: 9 }, (_, i) => `${1000 + 500 * i},${6000 + 900 * i}`),
].join('\n');

/** A page's workbench: no figures are asked of it here. */
const bench = (): MeasuredBench => ({
  sheet: exampleSheet(),
  chosen: 0,
  mod: () => '',
  prediction: null,
  measuredFigures: () => new Promise(() => {}),
});

beforeEach(() => {
  vi.stubGlobal('localStorage', new FakeStorage());
  vi.stubGlobal('sessionStorage', new FakeStorage());
});

describe('[exact] meters', () => {
  it('a probe that is changed on the bench sheet is that of a curve that lies there, and the other way round', () => {
    const page = bench();
    const measured = new Measured(page);
    const benchSheet = new BenchSheet(page as Workbench);
    expect(measured.lay(TABLE, 'a.csv')).toBe(true);
    expect(measured.wish!.probe).toEqual(USUAL_WISH.probe);
    benchSheet.setMeters({ probe: PROBE });
    expect(measured.wish!.probe).toEqual(PROBE);
    measured.setMeters({ celsius: 25 });
    expect(benchSheet.wish).toMatchObject({ probe: PROBE, celsius: 25 });
  });

  it('are there for the next visit, field by field', () => {
    metersOf(bench()).set({ probe: PROBE });
    expect(metersOf(bench()).figures).toEqual({ ...metersOf(bench()).figures, probe: PROBE });
    localStorage.setItem('lodetone.meters', '{"probe":{"resistance":"a","capacitance":1e-12},"bridge":-3}');
    const { bridge, depth, celsius, probe } = USUAL_WISH;
    const expected = { bridge, depth, celsius, probe: { ...probe, capacitance: 1e-12 } };
    expect(metersOf(bench()).figures).toEqual(expected);
    localStorage.setItem('lodetone.meters', 'cut {');
    expect(metersOf(bench()).figures).toEqual({ ...expected, probe });
  });
});
