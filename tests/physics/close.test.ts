/** How close a pickup may sit, from the sheet. */
import { describe, expect, it } from 'vitest';
import { close } from '../../src/physics/close.ts';
import { predict } from '../../src/physics/predict.ts';
import { fieldsOf } from '../../src/physics/field.ts';
import { bevelPoles, raise, swapGrade } from '../fixtures/mods.ts';
import type { Sheet } from '../../src/sheet/sheet.ts';
import { builtSheet } from '../fixtures/builtSheet.ts';
import { exampleSheet } from '../fixtures/sheet.ts';

const rods = builtSheet('six rods');
/** The search ends at 10 µm; at these gaps a shift changes by less than 2 cents a millimetre. */
const SEARCHED = 0.02;

/** Cents of the worst string as the prediction has them, the worse of its two polarisations. */
function worst(sheet: Sheet): number {
  const strings = predict(sheet, fieldsOf(sheet)).pickups[0]!.strings;
  return Math.max(
    ...strings.map(({ field }) => Math.max(Math.abs(field!.centsTowards), Math.abs(field!.centsAcross))),
  );
}

describe('how close a pickup may sit', () => {
  it.each([1, 2, 4])(
    'at the answer the prediction’s worst string shifts by the %s cents asked for [exact]',
    (cents) => {
      const answer = close(rods, 0, cents)!;
      const set = raise(rods, 0, answer.raise);
      const { gapBass, gapTreble } = set.pickups[0]!.build!;
      expect(gapBass).toBeCloseTo(answer.gapBass, 9);
      expect(gapTreble).toBeCloseTo(answer.gapTreble, 9);
      expect(Math.abs(worst(set) - cents)).toBeLessThan(SEARCHED);
      expect(Math.abs(Math.abs(answer.shift) - cents)).toBeLessThan(SEARCHED);
      expect(answer.touches).toBe(false);
    },
  );

  it('where it already sits does not matter [exact]', () => {
    const others = [-1e-3, 1.2e-3].map((by) => raise(rods, 0, by));
    const from = [rods, ...others].map((sheet) => close(sheet, 0, 2)!.gapBass);
    for (const gap of from) expect(Math.abs(gap - from[0]!)).toBeLessThan(2e-5);
  });

  it('more cents, closer; a weaker magnet, closer [practice]', () => {
    const gaps = [1, 2, 4].map((cents) => close(rods, 0, cents)!.gapTreble);
    expect(gaps[0]!).toBeGreaterThan(gaps[1]!);
    expect(gaps[1]!).toBeGreaterThan(gaps[2]!);
    expect(close(swapGrade(rods, 0, 'alnico 2'), 0, 2)!.gapTreble).toBeLessThan(gaps[1]!);
  });

  it('the tighter pickup may sit closer [practice]', () => {
    const bevelled = bevelPoles(rods, 0, 1.4e-3);
    expect(close(bevelled, 0, 2)!.gapTreble).toBeLessThan(close(rods, 0, 2)!.gapTreble);
  });

  it('tells cents from touching however near one is to the other [exact]', () => {
    const weak = swapGrade(rods, 0, 'alnico 3');
    const touching = close(weak, 0, 20)!;
    expect(touching.touches).toBe(true);
    const most = Math.abs(touching.shift);
    const over = close(weak, 0, 1.02 * most)!;
    expect([over.touches, over.raise]).toEqual([true, touching.raise]);
    const under = close(weak, 0, 0.98 * most)!;
    expect(under.touches).toBe(false);
    expect(under.raise).toBeLessThan(touching.raise);
  });

  it('says when a pole comes to the strings first, and when no way down is far enough', () => {
    expect(close(swapGrade(rods, 0, 'alnico 3'), 0, 20)!.touches).toBe(true);
    expect(close(rods, 0, 1e-3)).toBeNull();
  });

  it('asks for a build', () => {
    expect(() => close(exampleSheet(), 0, 2)).toThrow('must have a build');
  });
});
