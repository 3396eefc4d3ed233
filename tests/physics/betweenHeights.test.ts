/** A field between known heights against the exact one at the same heights. */
import { describe, expect, it } from 'vitest';
import { betweenHeights, rungs, widened, withoutHeights } from '../../src/physics/betweenHeights.ts';
import { FieldSolver } from '../../src/physics/field.ts';
import { fieldQuestion, type FieldQuestion } from '../../src/physics/fieldQuestion.ts';
import { PRESETS } from '../fixtures/presets.ts';
import { checkSheet } from '../../src/sheet/check.ts';
import { climbed, differences } from './ladder.ts';

/** dB and m: what the sheet promises of the moment before the exact field is there. */
const LEVEL = 0.1;
const REACH = 0.05e-3;

/** Every ladder of the presets once. */
const ladders = new Map<string, { readonly name: string; readonly question: FieldQuestion }>();
for (const { name, data } of PRESETS) {
  const checked = checkSheet(data);
  if (!checked.ok) throw new Error(`${name}: ${checked.message}`);
  const { sheet } = checked;
  sheet.pickups.forEach((pickup, i) => {
    const question = fieldQuestion(sheet, i);
    if (question && !ladders.has(withoutHeights(question)))
      ladders.set(withoutHeights(question), { name: `${name}, ${pickup.name}`, question });
  });
}

describe.each([...ladders.values()])('$name', ({ question }) => {
  const solver = new FieldSolver();
  const known = climbed(solver, question);

  it('between all rungs, level within 0.1 dB and reach within 0.05 mm of the exact field [exact]', () => {
    const places = known
      .map((one) => one.question.build.gapTreble - question.build.gapTreble)
      .sort((a, b) => a - b);
    expect(places.length).toBeGreaterThan(8);
    // Where the error is largest: half way; every other space between two rungs.
    for (let k = 0; k + 1 < places.length; k += 2) {
      const off = differences(solver, known, widened(question, 0.5 * (places[k]! + places[k + 1]!)))!;
      expect(off.level).toBeLessThan(LEVEL);
      expect(off.reach).toBeLessThan(REACH);
    }
  });

  it('also where one side alone has moved, and where the fretboard is another [exact]', () => {
    const { build } = question;
    for (const change of [
      { gapBass: build.gapBass + 0.4e-3 },
      { gapTreble: build.gapTreble + 0.3e-3, fretboardRadius: 0.3 },
    ]) {
      const off = differences(solver, known, { ...question, build: { ...build, ...change } })!;
      expect(off.level).toBeLessThan(LEVEL);
      expect(off.reach).toBeLessThan(REACH);
    }
  });
});

it('a known height is had back, and what lies outside or too far from any is not made up [exact]', () => {
  const { question } = [...ladders.values()][0]!;
  const solver = new FieldSolver();
  const known = [0, 1e-4, 4e-3].map((by) => ({
    question: widened(question, by),
    answer: solver.answer(widened(question, by)),
  }));
  const had = betweenHeights(known, widened(question, 1e-4))!;
  had.strings.forEach((string, i) => {
    const exact = known[1]!.answer.strings[i]!;
    string.rows.forEach(({ area, towards }, r) => {
      expect(area).toBeCloseTo(exact.rows[r]!.area, 14);
      expect(towards[128]).toBeCloseTo(exact.rows[r]!.towards[128]!, 14);
    });
  });
  for (const by of [-1e-4, 2e-3, 5e-3]) expect(betweenHeights(known, widened(question, by))).toBeNull();
  expect(
    rungs(
      question,
      known.map((one) => one.question),
    ).length,
  ).toBeGreaterThan(8);
});
