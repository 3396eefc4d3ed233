/** What a change came to and why: one figure names itself, no change says nothing, and no field is solved for a circuit. */
import { describe, expect, it, vi } from 'vitest';
import { whyOf } from '../../src/jobs/why.ts';
import { whyAsked } from '../../src/jobs/whyAsked.ts';
import { FieldSolver } from '../../src/physics/field.ts';
import { causesBetween } from '../../src/sheet/causes.ts';
import { checkSheet } from '../../src/sheet/check.ts';
import { setAt } from '../../src/sheet/edit.ts';
import type { Sheet } from '../../src/sheet/sheet.ts';
import { effectsOf } from '../../src/state/whyEffects.ts';
import { whyWords } from '../../src/state/whyWords.ts';
import { builtSheet } from '../fixtures/builtSheet.ts';

const sheet = builtSheet('six rods');
const solver = new FieldSolver();
const fields = solver.fields(sheet);
const why = (after: Sheet, before = sheet) =>
  whyOf(
    after,
    { ...whyAsked(after, before), beforeFields: fields, pickup: 0, string: 2 },
    before === after ? fields : null,
    solver,
  );

const gap = setAt(sheet, ['pickups', 0, 'build', 'gapTreble'], 0.0032);

describe('the why', () => {
  it('of one figure names exactly that, before and after [exact]', () => {
    const from = (1e3 * sheet.pickups[0]!.build!.gapTreble).toFixed(1);
    const answer = why(gap);
    expect(answer.causes.map(({ words }) => words)).toEqual([`gap ${from} → 3.2 mm`]);
    expect(answer.causes[0]!.without).toEqual(answer.before);
    for (const { cause, share } of effectsOf(answer)) expect([cause, share]).toEqual([0, 1]);
    expect(whyWords(answer)).toMatch(
      /^Gap [\d.]+ → 3\.2 mm: .*level [−+][\d.]+ dB.*\([\d.]+ mT at the string instead of [\d.]+\).*\.$/,
    );
  });

  it('of no change, of what is played, and of what is written says nothing [exact]', () => {
    expect(whyWords(why(sheet))).toBe('');
    expect(causesBetween(sheet, { ...sheet, title: 'other', notes: 'other' })).toEqual([]);
    expect(causesBetween(sheet, setAt(sheet, ['listen', 'string'], 5))).toEqual([]);
  });

  it('of the circuit and of place solves no field [exact]', () => {
    const answer = vi.spyOn(solver, 'answer');
    const pot = setAt(sheet, ['harness', 'cable', 'length'], 3);
    const both = setAt(pot, ['harness', 'controls', 0, 'volume', 'position'], 0.95);
    const found = whyOf(
      both,
      { ...whyAsked(both, sheet), beforeFields: fields, pickup: 0, string: 2 },
      fields,
      solver,
    );
    expect(answer).not.toHaveBeenCalled();
    // [exact] A shorter cable lets the resonance rise, a volume turned down lets the level fall.
    const by = new Map(effectsOf(found).map(({ name, cause }) => [name, found.causes[cause!]?.words]));
    expect(by.get('resonance')).toMatch(/^cable/);
    expect(by.get('level')).toMatch(/^volume 10/);
  });

  it('says that nothing follows from what nobody hears [exact]', () => {
    const screw = setAt(sheet, ['pickups', 0, 'build', 'rows', 0, 'pole', 'head', 'height'], 0.0021);
    expect(whyWords(why(screw))).toMatch(
      /^Head height .*: level, resonance, pull and reach stay as they were\.$/,
    );
  });

  it('leaves out a cause without which nothing could be built [exact]', () => {
    // The longer window holds the poles that stand further apart: without it they would not fit.
    const apart = setAt(sheet, ['pickups', 0, 'build', 'pitch'], 0.013);
    const after = setAt(apart, ['pickups', 0, 'build', 'rows', 0, 'window', 'straight'], 0.07);
    expect(checkSheet(after).ok).toBe(true);
    const found = why(after);
    expect(found.causes).toHaveLength(2);
    expect(found.causes.map(({ without }) => without === null)).toContain(true);
    expect(whyWords(found)).not.toMatch(/NaN|undefined|null/);
  });
});

it('an undone cause is the sheet before in that, and the sheet now in all else [exact]', () => {
  const after = setAt(
    setAt(gap, ['pickups', 0, 'place'], 0.1),
    ['pickups', 0, 'build', 'rows', 0, 'turns'],
    5000,
  );
  const causes = causesBetween(sheet, after);
  expect(causes.map(({ name }) => name).sort()).toEqual(['gap', 'place', 'turns and wire']);
  for (const { name, undone } of causes) {
    expect(causesBetween(sheet, undone).map((c) => c.name)).not.toContain(name);
    expect(causesBetween(undone, after).map((c) => c.name)).toEqual([name]);
  }
});
