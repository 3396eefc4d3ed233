/** The focus's track against what the same sheets come to when they are predicted; of all presets: npm run soak -- focus. */
import { describe, expect, it } from 'vitest';
import { trackOf } from '../../src/jobs/track.ts';
import { FieldSolver } from '../../src/physics/field.ts';
import { fieldQuestion } from '../../src/physics/fieldQuestion.ts';
import { focusTrack } from '../../src/physics/focusTrack.ts';
import { builtSheet } from '../fixtures/builtSheet.ts';
import { STARTING_BUILDS } from '../../src/sheet/builds.ts';
import { holdTrack } from './rig/holdTrack.ts';

describe('the focus along its track [exact]', () => {
  it.each(['gap', 'tip', 'diameter'] as const)('of six rods, by the %s', (lever) => {
    holdTrack(builtSheet(STARTING_BUILDS[0]!.name), 0, lever, [0.4, 0.8]);
  });

  it('of two rows, by the gap', () => {
    const two = STARTING_BUILDS.find(({ build }) => build.rows.length === 2)!;
    holdTrack(builtSheet(two.name), 1, 'gap', [0.2]);
  });
});

it.each(STARTING_BUILDS.map(({ name }) => name))(
  '[exact] a width alone is that of the whole answer: %s',
  (name) => {
    const solver = new FieldSolver();
    const question = fieldQuestion(builtSheet(name), 0)!;
    const { strings } = solver.answer(question);
    for (const [string, { rows }] of strings.entries())
      for (const [row, { width }] of rows.entries())
        expect(solver.width(question, { string, row })).toBeCloseTo(width, 12);
  },
);

it('[exact] a width alone is refused where the answer is', () => {
  const sheet = builtSheet(STARTING_BUILDS[0]!.name);
  const question = fieldQuestion(sheet, 0)!;
  const close = { ...question, build: { ...question.build, gapBass: -1e-3 } };
  const solver = new FieldSolver();
  expect(() => solver.width(close, { string: 0, row: 0 })).toThrow(solver.refusal(close));
  expect(solver.refusal(close)).toMatch(/must be above 0 mm/);
});

it('[exact] without a build there is no track, and none past a row', () => {
  const sheet = builtSheet(STARTING_BUILDS[0]!.name);
  const none = { ...sheet, pickups: sheet.pickups.map((p) => ({ ...p, build: null })) };
  for (const [of, row] of [
    [none, 0],
    [sheet, 1],
  ] as const)
    expect(() => trackOf(of, { pickup: 0, row, lever: 'gap', within: null })).toThrow(/must have a build/);
  const at = (): string => 'No.';
  expect(() => focusTrack({ pickup: 0, row: 0, value: 1, min: 0, max: 2, byRatio: false, at })).toThrow(
    /must have a build/,
  );
});
