/** What the section says of the widths, and where it writes of the dip. */
import { describe, expect, it } from 'vitest';
import { linearScale } from '../../src/plot/scale.ts';
import { dipViews } from '../../src/ui/section/dips.ts';
import { fieldWords, widthsOf } from '../../src/ui/section/widths.ts';
import { predict } from '../../src/physics/predict.ts';
import { builtSheet } from '../fixtures/builtSheet.ts';

const field = {
  fluxDensity: 0.03,
  widths: [9.14e-3],
  tipWidths: [6.02e-3],
  saturation: 0.2,
  centsTowards: -1,
  centsAcross: 0,
  beat: 0,
  drawnDown: 0,
};

describe('the widths', () => {
  it('in tenths of a millimetre, of two rows both', () => {
    expect(fieldWords(field)).toBe('9.1 mm wide at the string, 6.0 over the tip');
    expect(fieldWords({ ...field, widths: [9.14e-3, 8.9e-3], tipWidths: [6.02e-3, 5.5e-3] })).toBe(
      '9.1 · 8.9 mm wide at the string, 6.0 · 5.5 over the tip',
    );
    expect(fieldWords(null)).toBe('');
  });

  it('are those of the prediction, and nothing without one', () => {
    expect(widthsOf(null, 0, 3, 0)).toEqual({ reach: null, fieldWidth: null, tipWidth: null });
    const prediction = predict(builtSheet('six rods'));
    const over = prediction.pickups[0]!.strings[2]!;
    expect(widthsOf(prediction, 0, 3, 0)).toEqual({
      reach: over.widths[0],
      fieldWidth: over.field!.widths[0],
      tipWidth: over.field!.tipWidths[0],
    });
  });

  it('the dip is written over the curve, in the valley, and not where there is none', () => {
    const x = Float64Array.from({ length: 401 }, (_, i) => 0.14 + i * 1e-4);
    const humps = x.map((at) => ((at - 0.16) / 5e-3) ** 2 * Math.exp(1 - ((at - 0.16) / 5e-3) ** 2) + 0.1);
    const view = { x: linearScale([0.14, 0.18], [0, 400]), string: 200, bellHeight: 96, reference: 1.1 };
    const reach = (value: Float64Array) => ({ x, value, rows: [] });
    const [dip, ...more] = dipViews(reach(humps), [0.16], view);
    expect(more).toEqual([]);
    expect(Math.abs(dip!.x - 200)).toBeLessThan(1.01);
    const curve = 200 - (0.1 / 1.1) * 96;
    // Between the dip and the brim, 1.1 high, and clear of the curve below.
    expect(dip!.y + 24).toBeLessThan(curve);
    expect(Math.abs(dip!.y + 12 - (curve + 200 - 96) / 2)).toBeLessThan(0.5);
    expect(dipViews(reach(x.map((at) => Math.exp(-(((at - 0.16) / 5e-3) ** 2)))), [0.16], view)).toEqual([]);
  });
});
