import { describe, expect, it } from 'vitest';
import { predict } from '../../src/physics/predict.ts';
import { turnsFor, type Target } from '../../src/physics/target.ts';
import { setAt } from '../../src/sheet/edit.ts';
import type { Sheet } from '../../src/sheet/sheet.ts';
import { builtSheet } from '../fixtures/builtSheet.ts';
import { exampleSheet } from '../fixtures/sheet.ts';
import { solved as solver } from '../fixtures/solved.ts';

/** A pickup alone, as that of a bench. */
function rods(turns: number): Sheet {
  const sheet = builtSheet('six rods');
  const alone = { ...sheet, pickups: [{ ...sheet.pickups[0]!, sounds: true }] };
  return setAt(alone, ['pickups', 0, 'build', 'rows', 0, 'turns'], turns);
}

const resonanceOf = (turns: number): number => {
  const sheet = rods(turns);
  return predict(sheet, solver.fields(sheet)).voices[0]!.features.resonance!.frequency;
};
const wind = (from: number, resonance: number): Target =>
  turnsFor(rods(from), { pickup: 0, resonance }, solver);

describe('turns for a resonance', () => {
  it.each([4321, 6000, 7900])(
    '[exact] finds %i planted turns again, from a winding that is far off',
    (turns) => {
      const wanted = resonanceOf(turns);
      const found = wind(7000, wanted);
      expect(found).toMatchObject({ reached: true, limit: '' });
      expect(Math.abs(found.turns[0]! / turns - 1)).toBeLessThan(0.003);
      expect(Math.abs(found.resonance! / wanted - 1)).toBeLessThan(0.002);
    },
  );

  it('[exact] says what is not reachable, how near it comes, and what stands in the way', () => {
    const low = wind(7000, 1500);
    expect(low.reached).toBe(false);
    expect(low.limit).toMatch(/^The bobbin takes \d+ turns of this wire, and more would be needed\./);
    // As full as it can be: one more would be refused, and that is its resonance.
    expect(low.limit).toContain(String(low.turns[0]));
    expect(() => solver.fields(rods(low.turns[0]! + 2))).toThrow(/must fit the bobbin/);
    expect(low.resonance).toBeCloseTo(resonanceOf(low.turns[0]!), 6);
    const high = wind(7000, 20e3);
    expect(high.reached).toBe(false);
    expect(high.limit).not.toBe('');
    // Its pot turned down takes the peak away.
    const small = setAt(rods(7000), ['harness', 'controls', 0, 'volume', 'resistance'], 1e3);
    expect(turnsFor(small, { pickup: 0, resonance: 4000 }, solver)).toMatchObject({
      ...{ reached: false, resonance: null },
      limit: 'The pots and the cable leave no peak. Take pots of more resistance.',
    });
  });

  it('[exact] without a build, or with a typed inductance, there are no turns to find', () => {
    expect(() => turnsFor(exampleSheet(), { pickup: 0, resonance: 4000 }, solver)).toThrow(
      /must have a build/,
    );
    const typed = setAt(rods(7000), ['pickups', 0, 'rows', 0, 'coil', 'inductance'], 2);
    expect(() => turnsFor(typed, { pickup: 0, resonance: 4000 }, solver)).toThrow(/left to the build/);
  });
});
