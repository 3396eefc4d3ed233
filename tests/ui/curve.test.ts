/** Curves on the log paper and what tells them apart. */
import { describe, expect, it } from 'vitest';
import { predict } from '../../src/physics/predict.ts';
import { setAt } from '../../src/sheet/edit.ts';
import type { Prediction } from '../../src/state/types.ts';
import type { Workbench } from '../../src/state/workbench.svelte.ts';
import { curveLines, reachWords } from '../../src/ui/curve/lines.ts';
import { curveView, endOfText } from '../../src/ui/curve/view.ts';
import { exampleSheet } from '../fixtures/sheet.ts';

const sheet = exampleSheet();
const prediction = predict(sheet);
const dull = predict(setAt(sheet, ['harness', 'cable', 'length'], 20));

function bench(
  change: Partial<Record<'other' | 'before' | 'prediction', unknown>> = {},
  open = 0,
): Workbench {
  const letter = (i: number): string => 'ABCDEF'.charAt(i);
  return {
    sheet,
    prediction,
    other: null,
    before: null,
    trials: { open },
    letter,
    ...change,
  } as unknown as Workbench;
}

const other = (index: number, of: Prediction = dull): unknown => ({
  index,
  letter: 'ABCDEF'.charAt(index),
  sheet: { ...sheet, title: 'long cable' },
  prediction: of,
  voice: of.voices[of.sounding],
});

describe('the lines', () => {
  it('are those of the sheet alone, without letters, while there is one trial', () => {
    const lines = curveLines(bench());
    expect(lines.map(({ kind }) => kind)).toEqual([
      'main',
      ...Array(prediction.voices.length - 1).fill('pickup'),
    ]);
    expect(lines.every(({ letter }) => letter === '')).toBe(true);
    expect(curveLines(bench({ prediction: null }))).toEqual([]);
  });

  it('keep a trial’s pattern and letter whichever of two is open', () => {
    const [a, b] = curveLines(bench({ other: other(1) }, 0));
    const [b2, a2] = curveLines(bench({ other: other(0) }, 1));
    expect([a!.letter, b!.letter, b2!.letter, a2!.letter]).toEqual(['A', 'B', 'B', 'A']);
    expect([a2!.dash, a2!.colour, b2!.dash, b2!.colour]).toEqual([a!.dash, a!.colour, b!.dash, b!.colour]);
    expect(a!.dash).not.toBe(b!.dash);
    expect(b!.words).toContain('long cable');
  });

  it('show what was before a mod in a pattern of its own', () => {
    const lines = curveLines(bench({ other: other(1), before: { prediction: dull } }));
    const before = lines.find(({ kind }) => kind === 'before');
    expect(before?.voice).toBe(dull.voices[dull.sounding]);
    expect(lines.filter(({ dash }) => dash === before?.dash)).toHaveLength(1);
    expect(new Set(lines.map(({ key }) => key)).size).toBe(lines.length);
  });

  it('say how the reach came about', () => {
    const [neck] = prediction.voices;
    expect(reachWords(bench(), neck!)).toBe('reach set by hand');
    const built = { ...sheet, pickups: sheet.pickups.map((p) => ({ ...p, reachBy: 'build' })) };
    const all = { sheet: built } as unknown as Workbench;
    expect(reachWords(all, neck!)).toBe('reach computed from the build');
  });
});

describe('the paper', () => {
  it('has names just above their curves and off every other one, also where curves coincide', () => {
    const [first] = prediction.voices;
    const own = first!.reachDb;
    // The same, one that crosses the name, and one far away.
    const curves = [own, own, own.map((level) => level + 1.5), own.map((level) => level - 20)];
    for (const width of [366, 640, 1100]) {
      const view = curveView(prediction.voices, width);
      for (const index of [0, 1, 2]) {
        const { x, y } = view.tag(prediction.frequencies, own, { index, words: 'bridge', curves });
        const alone = view.tag(prediction.frequencies, own, { index, words: 'bridge', curves: [own] });
        expect(alone.y).toBeGreaterThan(y);
        prediction.frequencies.forEach((frequency, i) => {
          if (view.f.to(frequency) < x || view.f.to(frequency) > x + 36) return;
          for (const curve of curves) {
            const at = view.db.to(curve[i]!);
            // Below its foot or above its head.
            expect(at >= y + 3 || at <= y - 11).toBe(true);
          }
        });
      }
    }
  });

  it('takes in the highest of all curves and keeps letters on it, first ones to the left', () => {
    const voices = [...prediction.voices, ...dull.voices];
    const view = curveView(voices, 640);
    const top = Math.max(...voices.flatMap(({ circuitDb }) => [...circuitDb]));
    // Two lines of 16 px are called out above them.
    expect(view.db.to(top) - view.top).toBeGreaterThan(32);
    for (const { reachDb } of voices) {
      const left = view.foot(prediction.frequencies, reachDb, 'left');
      const right = view.foot(prediction.frequencies, reachDb, 'right');
      for (const { x, y } of [left, right]) {
        expect(x).toBeGreaterThan(view.left);
        expect(x).toBeLessThan(view.right);
        expect(y).toBeGreaterThan(view.top);
        expect(y).toBeLessThan(view.bottom);
      }
      /** Where the curve last passes the height of a letter. */
      const passes = (y: number): number => {
        const last = reachDb.findLastIndex((level) => view.db.to(level) <= y + 1e-9);
        return view.f.to(prediction.frequencies[last]!);
      };
      expect(left.x).toBeLessThan(passes(left.y));
      if (passes(right.y) < view.right - 20) expect(right.x).toBeGreaterThan(passes(right.y));
    }
  });
});

describe('[exact] what is called out', () => {
  it('has no other’s line go through it', () => {
    // 17 letters of 7 px at most, 6 px beside its place at 500 px.
    const words = '−3 dB at 7.00 kHz';
    expect(endOfText(words, 500, 640, null)).toBe(494);
    expect(endOfText(words, 500, 640, 200)).toBe(494);
    for (const line of [380, 420, 460, 496]) expect(endOfText(words, 500, 640, line)).toBe(line - 6);
    expect(endOfText(words, 900, 640, null)).toBe(634);
    expect(endOfText(words, 900, 640, 630)).toBe(624);
    // To the right of it.
    expect(endOfText(words, 500, 640, 520)).toBe(494);
  });
});
