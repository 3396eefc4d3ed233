/**
 * A field between known heights against the exact one at the same heights. Of the ladders that the presets climb one for
 * every kind of build in npm test, all of them in npm run soak; of its strings the outer two, which set the gaps, and one
 * between, in npm run soak all: a string's field is the same whatever strings are beside it (predict/any-strings.test.ts).
 */
import { beforeAll, describe, expect, it } from 'vitest';
import { betweenHeights, rungs, widened } from '../../src/physics/betweenHeights.ts';
import { FieldSolver } from '../../src/physics/field.ts';
import { fieldQuestion, withoutHeights, type FieldQuestion } from '../../src/physics/fieldQuestion.ts';
import { PRESETS } from '../fixtures/presets.ts';
import { checkSheet } from '../../src/sheet/check.ts';
import { soakPlan } from '../soak/tools/plan.ts';
import { climbed, differences } from './ladder.ts';

/** dB and m: what the sheet promises of the moment before the exact field is there. */
const LEVEL = 0.1;
const REACH = 0.05e-3;

/** Strings between the outer two. */
const { count } = soakPlan('betweenHeights', 1, 6);
/** Every so many spaces between two rungs are looked into: which, is another on every ladder. */
const LONG = process.env['LODETONE_SOAK'] === 'long';
const STRIDE = LONG ? 2 : 4;

/** What makes a field of another kind: poles, bars, steel, plates about them, how many strings there are. */
const kindOf = ({ build, strings }: FieldQuestion): string =>
  JSON.stringify([
    build.rows.map(({ pole }) => pole.kind),
    [build.bars.length, build.steel?.length ?? 0, build.cover ?? null, build.basePlate ?? null].map(Boolean),
    strings.length,
  ]);

/** Every ladder of the presets once; in npm test every kind of them. */
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

/** With the outer strings and `count` others, other ones on every ladder. */
function withFew(question: FieldQuestion, at: number): FieldQuestion {
  const [first, ...others] = question.strings;
  const last = others.pop()!;
  const from = at % Math.max(1, others.length);
  const turned = [...others.slice(from), ...others.slice(0, from)];
  return { ...question, strings: [first!, ...turned.slice(0, count), last] };
}

const taken = [...ladders.values()].filter(
  ({ question }, i, all) => LONG || all.findIndex((one) => kindOf(one.question) === kindOf(question)) === i,
);

const climbs = taken.map(({ name, question }, at) => ({
  ...{ name, at },
  question: withFew(question, at),
}));

describe.each(climbs)('$name', ({ question, at }) => {
  const solver = new FieldSolver();
  let known: ReturnType<typeof climbed>;
  beforeAll(() => void (known = climbed(solver, question)));

  it('between all rungs, level within 0.1 dB and reach within 0.05 mm of the exact field [exact]', () => {
    const places = known
      .map((one) => one.question.build.gapTreble - question.build.gapTreble)
      .sort((a, b) => a - b);
    expect(places.length).toBeGreaterThan(8);
    // Where the error is largest: half way.
    for (let k = at % STRIDE; k + 1 < places.length; k += STRIDE) {
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
