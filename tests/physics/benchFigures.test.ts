/** What meters read of a pickup by itself. */
import { describe, expect, it } from 'vitest';
import { Alone, leadResistance, UNLOADED, weightsOf } from '../../src/physics/alone.ts';
import { USUAL_WISH } from '../../src/benchSheet/usual.ts';
import { benchFigures, type BenchWish } from '../../src/physics/benchFigures.ts';
import { resolve } from '../../src/physics/heard/resolve.ts';
import { pictures } from '../../src/physics/picture.ts';
import { polePlace } from '../../src/shape/poleRow.ts';
import type { CoilFigures, Pickup } from '../../src/sheet/sheet.ts';
import { computedPreset } from '../fixtures/presetFields.ts';
import { exampleSheet } from '../fixtures/sheet.ts';
import { fieldsOf } from '../fixtures/solved.ts';

const WISH: BenchWish = {
  ...USUAL_WISH,
  pickup: 0,
  probe: { resistance: 1e6, capacitance: 120e-12 },
  bridge: 1000,
  depth: 0.8e-3,
};

/** R, L and C without any loss in a core. */
const COIL = { resistance: 6000, inductance: 2.4, capacitance: 100e-12, coreLoss: null };

function handPickup(coils: readonly CoilFigures[], join: Pickup['join'] = 'series') {
  const sheet = exampleSheet();
  const [first] = sheet.pickups;
  const rows = coils.map((coil) => ({ ...first!.rows[0]!, coil }));
  const pickups = [{ ...first!, join, rows, build: null, reachBy: 'hand' as const }];
  return { sheet, pickup: resolve({ ...sheet, pickups }, [null]).pickups[0]! };
}

describe('[exact] one coil of R, L and C', () => {
  const { pickup } = handPickup([COIL]);
  const { resistance: R, inductance: L, capacitance: C } = COIL;

  it('shows the impedance of a resonant circuit', () => {
    const alone = new Alone(pickup, UNLOADED, [1]);
    for (const f of [100, 1000, 8000]) {
      const w = 2 * Math.PI * f;
      // (R + jωL) ∥ 1/jωC
      const d = (1 - w * w * L * C) ** 2 + (w * R * C) ** 2;
      const re = R / d;
      const im = (w * L * (1 - w * w * L * C) - w * R * R * C) / d;
      expect(alone.impedance(f).re / re).toBeCloseTo(1, 9);
      expect(alone.readInductance(f) / (im / w)).toBeCloseTo(1, 9);
    }
  });

  it.each([
    [UNLOADED, 0, 0],
    [{ resistance: 1e6, capacitance: 120e-12 }, 120e-12, 1e-6],
    [{ resistance: 10e6, capacitance: 0 }, 0, 1e-7],
  ])('peaks where a low-pass of second order does, with %o at its leads', (load, more, leak) => {
    const { resonance } = new Alone(pickup, load, [1]).features();
    // H = 1/(1 + R G + s (R C' + L G) + s² L C')
    const all = C + more;
    const a = 1 + R * leak;
    const b = R * all + L * leak;
    const w2 = (a - (b * b) / (2 * L * all)) / (L * all);
    expect(resonance!.frequency / (Math.sqrt(w2) / (2 * Math.PI))).toBeCloseTo(1, 6);
  });

  it('two in series and in parallel', () => {
    const series = handPickup([COIL, COIL]).pickup;
    const parallel = handPickup([COIL, COIL], 'parallel').pickup;
    expect(leadResistance(series)).toBe(2 * R);
    expect(leadResistance(parallel)).toBeCloseTo(R / 2, 9);
    const L1 = new Alone(pickup, UNLOADED, [1]).readInductance(500);
    expect(new Alone(series, UNLOADED, [0.5, 0.5]).readInductance(500) / L1).toBeCloseTo(2, 9);
    expect(new Alone(parallel, UNLOADED, [0.5, 0.5]).readInductance(500) / L1).toBeCloseTo(0.5, 9);
    // Equal coils side by side or end to end ring where one does.
    const f = new Alone(pickup, UNLOADED, [1]).features().resonance!.frequency;
    for (const two of [series, parallel])
      expect(new Alone(two, UNLOADED, [0.5, 0.5]).features().resonance!.frequency / f).toBeCloseTo(1, 6);
  });
});

it('[exact] what both coils get adds, however they are connected', () => {
  const { sheet, pickup } = handPickup([COIL, COIL]);
  for (const phase of ['in', 'out'] as const)
    for (const reversed of [false, true]) {
      const turned = { ...pickup, phase, reversed };
      const weights = weightsOf(sheet.instrument, turned, 1);
      // 1 V, of which 0 dB are a tenth.
      expect(new Alone(turned, UNLOADED, weights).levelDb(100)).toBeCloseTo(20, 2);
    }
});

describe('of two coils as they are built', () => {
  const { sheet, fields, prediction } = computedPreset('09-holm-two-coils-in-series.json');
  const found = benchFigures(sheet, fields, WISH, prediction);

  it('[exact] wire is turns times the mean turn of what is wound, two straight sides and a circle', () => {
    const { turns, window, wire } = sheet.pickups[0]!.build!.rows[0]!;
    const overall = 1.12 * wire.conductor;
    const { wire: figures, outcome } = found.coils[0]![0]!;
    const wound = window.inner + (turns * overall ** 2) / (0.85 * (window.top - window.bottom));
    const length = turns * (2 * window.straight + Math.PI * (window.inner + wound));
    expect(figures!.length / length).toBeCloseTo(1, 9);
    expect(figures!.overall / overall).toBeCloseTo(1, 12);
    // R is that of the same length of copper of 8.89 g/cm³ and 1.7241e-8 Ω·m.
    const byMass = (figures!.length ** 2 * 1.7241e-8 * 8890) / figures!.copper;
    expect(outcome.resistance / byMass).toBeCloseTo(1, 9);
    expect(figures!.fill).toBeCloseTo((wound - window.inner) / (window.outer - window.inner), 3);
  });

  it('[exact] on a pole stands what the plan’s probe reads there', () => {
    const { pitch, rows } = sheet.pickups[0]!.build!;
    const { heights } = rows[1]!.pole;
    const { probe } = pictures(
      sheet,
      {
        pickup: 0,
        section: false,
        plan: false,
        probe: {
          x: sheet.pickups[0]!.rows[1]!.offset,
          y: polePlace({ pitch, heights }, 2),
          height: heights[2]! + WISH.depth,
        },
      },
      fields[0],
    );
    expect(found.strings![2]!.tops[1]).toBeCloseTo(probe!.height.bz, 12);
  });

  it('a probe lowers the peak, and a guitar lowers it more', () => {
    const [bare, probed, guitar] = [found.unloaded!, found.probed!, found.inGuitar!];
    expect(probed.frequency).toBeLessThan(bare.frequency);
    expect(guitar.frequency).toBeLessThan(probed.frequency);
    expect(guitar).toEqual(prediction.voices[0]!.features.resonance);
  });

  it('of a pickup without a build there are readings, but no wire and no field', () => {
    const hand = { ...exampleSheet() };
    const pickups = hand.pickups.map((pickup) => ({ ...pickup, build: null, reachBy: 'hand' as const }));
    const asked = { ...hand, pickups };
    const figures = benchFigures(asked, fieldsOf(asked), WISH);
    expect(figures.strings).toBeNull();
    expect(figures.coils[0]![0]).toMatchObject({ wire: null, up: null });
    expect(figures.unloaded).not.toBeNull();
  });
});

it('a meter set on a cover without holes reads over the cover', () => {
  const { sheet, fields, prediction } = computedPreset('14-holm-nickel-silver-covers.json');
  const found = benchFigures(sheet, fields, WISH, prediction);
  const open = computedPreset('09-holm-two-coils-in-series.json');
  const bare = benchFigures(open.sheet, open.fields, WISH, open.prediction);
  const at = (figures: typeof found, row: number): number => Math.abs(figures.strings![2]!.tops[row]!);
  expect(at(found, 1)).toBeLessThan(0.9 * at(bare, 1));
  expect(at(found, 0)).toBeCloseTo(at(bare, 0), 3);
});
