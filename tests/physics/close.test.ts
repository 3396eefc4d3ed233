/** How close a pickup may sit, from the sheet. */
import { describe, expect, it } from 'vitest';
import { close as closeBy, type CloseNotes } from '../../src/physics/close.ts';
import { predict } from '../../src/physics/predict.ts';
import { bevelPoles, raise, swapGrade } from '../fixtures/mods.ts';
import type { Sheet } from '../../src/sheet/sheet.ts';
import { detuning } from '../../src/physics/magnetics/overPickup/pull.ts';
import { stopString } from '../../src/physics/string/note.ts';
import { loweredBy } from '../../src/shape/fretted.ts';
import { stringUnderside } from '../../src/shape/stringCourse.ts';
import { builtSheet } from '../fixtures/builtSheet.ts';
import { exampleSheet } from '../fixtures/sheet.ts';
import { fieldsOf } from '../fixtures/solved.ts';

const rods = builtSheet('six rods');
/** By the pickup's field, where there is one to be had. */
const close = (sheet: Sheet, pickup: number, cents: number, notes?: CloseNotes) =>
  closeBy(sheet, pickup, cents, fieldsOf(sheet)[pickup] ?? null, notes);
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
    const touching = closeBy(weak, 0, 20)!;
    expect(touching.touches).toBe(true);
    const most = Math.abs(touching.shift);
    const over = closeBy(weak, 0, 1.02 * most)!;
    expect([over.touches, over.raise]).toEqual([true, touching.raise]);
    const under = closeBy(weak, 0, 0.98 * most)!;
    expect(under.touches).toBe(false);
    expect(under.raise).toBeLessThan(touching.raise);
  });

  it('says when a pole comes to the strings first, and when no way down is far enough', () => {
    expect(closeBy(swapGrade(rods, 0, 'alnico 3'), 0, 20)!.touches).toBe(true);
    expect(closeBy(rods, 0, 1e-3)).toBeNull();
  });

  const notes = { frets: [0, 5, 12], action: 1.8e-3 };

  it.each([
    ['six rods', 1],
    ['slugs and screws beside an alnico bar', 1],
  ] as const)(
    'each note of %s shifts by the %s cents asked for where its own limit is [exact]',
    (name, cents) => {
      const sheet = builtSheet(name);
      const { instrument } = sheet;
      const { place, build } = sheet.pickups[0]!;
      const under = (i: number): number => stringUnderside(instrument, sheet.pickups[0]!, build!, i + 1);
      const { strings } = close(sheet, 0, cents, notes)!;
      expect(strings).toHaveLength(6);
      for (const i of [0, 5]) {
        for (const { fret, by, gap } of strings[i]!) {
          expect(by).toBe('cents');
          const stopped = stopString(instrument, i + 1, fret);
          const { scaleLength } = instrument;
          const lowered = loweredBy({ scaleLength, action: notes.action }, stopped.length, place);
          // The pickup as much higher as the note allows, and as the string lies lower.
          const face = Math.max(...build!.rows.map(({ pole }) => pole.heights[i]!));
          const [field] = fieldsOf(raise(sheet, 0, under(i) - face - gap! + lowered));
          const { stiffnessZ, stiffnessY } = field!.strings[i]!;
          const middle = place + field!.start + 0.5 * field!.step * (stiffnessZ.length - 1);
          const shift = detuning({ stiffnessZ, stiffnessY }, field!.step, { ...stopped, place: middle }, 1);
          const worse = Math.max(Math.abs(shift.centsZ), Math.abs(shift.centsY));
          expect(Math.abs(worse - cents)).toBeLessThan(SEARCHED);
        }
      }
    },
  );

  it('the worst of the notes asked about is the pickup’s own limit, and more notes never let it closer [exact]', () => {
    const open = close(rods, 0, 2)!;
    const all = close(rods, 0, 2, notes)!;
    expect(open.fret).toBe(0);
    expect(all.raise).toBeLessThanOrEqual(open.raise);
    const raises = all.strings.flatMap((string, i) =>
      string.map(({ gap }) => {
        const { pickups, instrument } = rods;
        const build = pickups[0]!.build!;
        return (
          stringUnderside(instrument, pickups[0]!, build, i + 1) - build.rows[0]!.pole.heights[i]! - gap!
        );
      }),
    );
    expect(Math.abs(Math.min(...raises) - all.raise)).toBeLessThan(2e-5);
    expect(all.strings.map(([first]) => first)).toEqual(open.strings.map(([first]) => first));
  });

  it('a pickup that lies beyond the fret has nothing to fear of it [exact]', () => {
    const beyond = close(rods, 0, 2, { frets: [0, 36], action: 1.8e-3 })!;
    for (const [open, high] of beyond.strings) {
      expect(open!.by).toBe('cents');
      expect(high).toEqual({ fret: 36, by: 'beyond', gap: null });
    }
  });

  it('asks for a build', () => {
    expect(() => closeBy(exampleSheet(), 0, 2)).toThrow('must have a build');
  });
});
