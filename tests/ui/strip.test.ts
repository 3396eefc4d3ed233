/** The strip's figures and its small curve say what the prediction says. */
import { describe, expect, it } from 'vitest';
import { predict } from '../../src/physics/predict.ts';
import { FieldSolver } from '../../src/physics/field.ts';
import { setAt } from '../../src/sheet/edit.ts';
import type { CurveLine } from '../../src/ui/curve/lines.ts';
import { stripFigures } from '../../src/ui/strip/figures.ts';
import { smallCurve } from '../../src/ui/strip/smallCurve.ts';
import { builtSheet } from '../fixtures/builtSheet.ts';
import { exampleSheet } from '../fixtures/sheet.ts';
import { readPath } from '../plot/pathReader.ts';

const sheet = builtSheet('six rods');
const prediction = predict(sheet, new FieldSolver().fields(sheet));
const byHand = predict(exampleSheet());
const here = { prediction, pickup: 0, string: 3 };

describe('the figures', () => {
  it('are those of the prediction, the pull that of the worst string [exact]', () => {
    const [resonance, level, pull] = stripFigures(here, null, 'neck', 1000);
    const peak = prediction.voices[prediction.sounding]!.features.resonance!;
    expect(Number.parseFloat(resonance!.value)).toBeCloseTo(peak.frequency / 1000, 1);
    const millivolts = Math.abs(prediction.pickups[0]!.strings[2]!.level);
    expect(Number.parseFloat(level!.value) / millivolts).toBeCloseTo(1, 2);
    const cents = prediction.pickups[0]!.strings.flatMap(({ field }) => [
      field!.centsTowards,
      field!.centsAcross,
    ]);
    const worst = cents.reduce((most, c) => (Math.abs(c) > Math.abs(most) ? c : most), 0);
    expect(pull!.value).toBe(`${Math.abs(worst).toFixed(1)} cents ${worst < 0 ? 'flat' : 'sharp'}`);
    expect(Number(/^pull, (\d)/.exec(pull!.name)![1])).toBe(Math.floor(cents.indexOf(worst) / 2) + 1);
    expect([resonance, level, pull].map((one) => one!.other)).toEqual(['', '', '']);
    expect(pull!.over).toBe(false);
    // Just less than it is.
    expect(stripFigures(here, null, 'neck', Math.abs(worst) - 1e-6)[2]!.over).toBe(true);
  });

  it('stand beside those of the other trial, and a dash for what it has not', () => {
    const other = { prediction: byHand, pickup: 0, string: 3 };
    const [resonance, level, pull] = stripFigures(here, other, 'neck', 5);
    expect(resonance!.other).toMatch(/^[\d.]+ kHz [+−][\d.]+ dB$/);
    expect(level!.other).toMatch(/^[\d.]+ mV$/);
    expect(pull!.other).toBe('—');
  });
});

describe('the small curve', () => {
  const line = (kind: CurveLine['kind'], of: typeof prediction): CurveLine => ({
    key: kind,
    kind,
    voice: of.voices[of.sounding]!,
    frequencies: of.frequencies,
    colour: '',
    dash: 'none',
    letter: '',
    words: '',
  });
  const dull = predict(setAt(exampleSheet(), ['harness', 'cable', 'length'], 20));

  it('has the open trial and the other, and no other pickup', () => {
    const { lines } = smallCurve(
      [line('main', byHand), line('trial', dull), line('pickup', byHand)],
      220,
      50,
    );
    expect(lines.map(({ kind }) => kind)).toEqual(['main', 'trial']);
    expect(lines[0]!.d).not.toBe(lines[1]!.d);
  });

  it('stays within its frame, whatever the levels, with its decades evenly apart [exact]', () => {
    const loud = line('main', byHand);
    for (const by of [-80, 0, 60]) {
      const voice = { ...loud.voice, reachDb: loud.voice.reachDb.map((db) => db + by) };
      const { lines, decades } = smallCurve([{ ...loud, voice }], 220, 50);
      for (const [x, y] of readPath(lines[0]!.d).flatMap(({ points }) => points)) {
        expect(x).toBeGreaterThanOrEqual(-0.05);
        expect(x).toBeLessThanOrEqual(220.05);
        expect(y).toBeGreaterThanOrEqual(0);
        expect(y).toBeLessThanOrEqual(50);
      }
      expect(decades[2]! - decades[1]!).toBeCloseTo(decades[1]! - decades[0]!, 9);
    }
  });
});
