import { describe, expect, it } from 'vitest';
import { bellAt, bellOn, bellPeak, sampleBell } from '../../../src/physics/string/reach.ts';
import { stringLevel } from '../../../src/shape/stringLevel.ts';
import { partialWeights } from '../../../src/physics/string/weights.ts';
import { fieldOnStrings } from '../../../src/physics/magnetics/overPickup/pickupField.ts';
import { solvePickup } from '../../../src/physics/magnetics/pickup/solvePickup.ts';
import type { StringSpec } from '../../../src/sheet/sheet.ts';
import { WRAP_METALS } from '../../../src/sheet/wrapMetals.ts';
import { sixRods, twoRows } from '../../fixtures/pickups.ts';
import { exampleSheet } from '../../fixtures/sheet.ts';

const sheet = exampleSheet();
const { instrument } = sheet;
const [neck] = sheet.pickups;

describe('a bell set by hand', () => {
  const bell = bellOn(instrument, neck!, neck!.rows[0]!, 3);

  it('is half as high half its width away, and its area is the sensitivity [exact]', () => {
    expect(bell.width).toBe(14e-3);
    expect(bellAt(bell, bell.centre)).toBe(bellPeak(bell));
    for (const side of [-7e-3, 7e-3]) {
      expect(bellAt(bell, bell.centre + side) / bellPeak(bell)).toBeCloseTo(0.5, 12);
    }
    const { values, step } = sampleBell(bell, 0.648);
    const area = values.reduce((sum, value) => sum + value, 0) * step;
    expect(area / 0.16).toBeCloseTo(1, 8);
  });

  it('is heard in proportion to the cross-section of a plain string [paper: Lotton2017]', () => {
    const [first, second, third] = instrument.strings;
    expect(stringLevel(third!)).toBe(1);
    expect(stringLevel(first!) / stringLevel(second!)).toBeCloseTo((0.254 / 0.33) ** 2, 12);
  });

  it('counts a wrap by its metal as the field engine does over such pickups, within a quarter', () => {
    for (const build of [sixRods('alnico 5'), sixRods('alnico 3'), twoRows()]) {
      const pickup = solvePickup(build);
      const heard = (spec: StringSpec): number => {
        const { core, diameter, construction, wrap } = spec;
        const string = {
          ...{ y: 5.2e-3, coreDiameter: core, outerDiameter: diameter, length: 0.648 },
          ...{ tension: 70, frequency: 200, place: 0.16, wrap: construction === 'wound' ? wrap : null },
        };
        // The axis of every string 2.75 mm above the poles.
        const gap = 2.75e-3 - diameter / 2;
        return fieldOnStrings(pickup, [string], 0, { ...build, gapBass: gap, gapTreble: gap }).strings[0]!
          .rows[0]!.sensitivity;
      };
      const reference = heard(instrument.strings[2]!);
      for (const spec of instrument.strings.slice(3))
        for (const wrap of WRAP_METALS) {
          const ratio = heard({ ...spec, wrap }) / reference / stringLevel({ ...spec, wrap });
          expect(ratio).toBeGreaterThan(0.75);
          expect(ratio).toBeLessThan(1.25);
        }
    }
  });

  it('counts a wound string between its core alone and solid steel [practice]', () => {
    for (const spec of instrument.strings.slice(3)) {
      const core = (spec.core / 0.432e-3) ** 2;
      const solid = (spec.diameter / 0.432e-3) ** 2;
      expect(stringLevel(spec)).toBeGreaterThan(core);
      expect(stringLevel(spec)).toBeLessThan(solid);
    }
  });
});

describe('placement [exact: a standing wave sin(nπx/L) seen by a symmetric reach]', () => {
  const at = (centre: number, width = 5e-3) => {
    const bell = { centre, width, area: 1 };
    return partialWeights(sampleBell(bell, 0.648), 0.648, 60);
  };

  it.each([2, 3, 4, 5, 7])('is deaf to partials with a node at L/%i and to no other', (m) => {
    at(0.648 / m).forEach((weight, i) => {
      const n = i + 1;
      if (n % m === 0) expect(Math.abs(weight)).toBeLessThan(1e-9);
      // The bell's own narrowing is e^(−k²σ²/2); what is left must be |sin(nπ/m)|.
      else {
        const k = (n * Math.PI) / 0.648;
        const sigma = 5e-3 / Math.sqrt(8 * Math.log(2));
        expect(Math.abs(weight * Math.exp(0.5 * (k * sigma) ** 2))).toBeCloseTo(
          Math.abs(Math.sin((n * Math.PI) / m)),
          6,
        );
      }
    });
  });

  it('two rows hear nothing of a wave whose half length is their distance', () => {
    // k d = π: cos(kd/2) = 0; with L = 0.648 and d = L/36 that is partial 36, and 108 = 3 · 36.
    const d = 0.648 / 36;
    const near = partialWeights(sampleBell({ centre: 0.1 - d / 2, width: 4e-3, area: 1 }, 0.648), 0.648, 108);
    const far = partialWeights(sampleBell({ centre: 0.1 + d / 2, width: 4e-3, area: 1 }, 0.648), 0.648, 108);
    for (const n of [36, 108]) {
      expect(Math.abs(near[n - 1]! + far[n - 1]!)).toBeLessThan(1e-9);
      expect(Math.abs(near[n - 1]!)).toBeGreaterThan(0.01);
    }
  });
});
