import { describe, expect, it } from 'vitest';
import { mattersOf } from '../../src/jobs/matters.ts';
import { predict } from '../../src/physics/predict.ts';
import { checkSheet } from '../../src/sheet/check.ts';
import { setAt } from '../../src/sheet/edit.ts';
import type { Sheet } from '../../src/sheet/sheet.ts';
import { DEFAULT_SPREAD } from '../../src/sheet/spread.ts';
import { stepsOf } from '../../src/sheet/steps.ts';
import { builtSheet } from '../fixtures/builtSheet.ts';
import { solved as solver } from '../fixtures/solved.ts';

function rods(): Sheet {
  const sheet = builtSheet('six rods');
  const listen = { ...sheet.listen, play: 'string', string: 3, fret: 2 } as const;
  const alone = { ...sheet, listen, pickups: sheet.pickups.map((p, i) => ({ ...p, sounds: i === 0 })) };
  return setAt(alone, ['pickups', 0, 'build', 'rows', 0, 'turns'], 7500);
}

const SHEET = rods();
const FIELDS = solver.fields(SHEET);
const STEPS = stepsOf(SHEET, 0, DEFAULT_SPREAD, [6000]);
const step = (name: string) => STEPS.find((one) => one.name === name)!;
const effect = (name: string) => {
  const { up, down } = step(name);
  return mattersOf(SHEET, { pickup: 0, up, down }, FIELDS, solver)!;
};

describe('steps', () => {
  it('[exact] of every dimension and part, each a sheet that opens, up or down', () => {
    expect(STEPS.map(({ name, by }) => `${name} ${by}`)).toEqual([
      ...['turns 2 %', 'wire resistance 5 %', 'coil, inner radius 0.1 mm', 'coil, lower edge 0.1 mm'],
      ...['magnets 10 %', 'gap 0.3 mm', 'poles, diameter 0.1 mm', 'poles, length 0.1 mm', 'place 1 mm'],
      ...['volume pot 20 %', 'tone pot 20 %', 'tone capacitor 10 %', 'cable 10 %', 'pluck place 5 mm'],
    ]);
    for (const { name, up, down } of STEPS) {
      const opens = [up, down].map((sheet) => checkSheet(sheet).ok);
      // Magnets are full as it is.
      expect([name, opens]).toEqual([name, [name !== 'magnets', true]]);
    }
    expect(step('turns').words).toEqual(['turns 7500 → 7650', 'turns 7500 → 7350']);
    expect(stepsOf(SHEET, 0, { ...DEFAULT_SPREAD, gap: 0, cable: 0 }, [6000])).toHaveLength(STEPS.length - 2);
  });
});

describe('what matters', () => {
  /** What the prediction says of one sheet. */
  const said = (sheet: Sheet) => {
    const prediction = predict(sheet, solver.fields(sheet));
    const { strings } = prediction.pickups[0]!;
    const levels = strings.map(({ level }) => 20 * Math.log10(level));
    const mean = levels.reduce((sum, db) => sum + db, 0) / levels.length;
    return {
      resonance: Math.log(prediction.voices[0]!.features.resonance!.frequency),
      pulls: strings.map(({ field }) => field!.centsTowards),
      balance: levels.map((db) => db - mean),
    };
  };
  const farthest = (values: readonly number[]): number =>
    values.reduce((most, value) => (Math.abs(value) > Math.abs(most) ? value : most), 0);

  it('[exact] within 2 % of central differences by the prediction', () => {
    const close = (value: number, of: number): void =>
      expect(Math.abs(value - of)).toBeLessThan(0.02 * Math.abs(of));
    const gap = step('gap');
    const [near, far] = [said(gap.down), said(gap.up)];
    const { way, effect: ofGap } = effect('gap');
    expect(way).toBe('up');
    close(ofGap.balance, 0.5 * farthest(far.balance.map((db, i) => db - near.balance[i]!)));
    close(ofGap.pull!, 0.5 * farthest(far.pulls.map((cents, i) => cents - near.pulls[i]!)));
    // Of a third of the step it is a third.
    const thirds = stepsOf(SHEET, 0, { ...DEFAULT_SPREAD, turns: 0.02 / 3 }, []);
    const third = thirds.find(({ name }) => name === 'turns')!;
    const [fewer, more] = [said(third.down), said(third.up)];
    close(effect('turns').effect.resonance!, 1.5 * (more.resonance - fewer.resonance));
  });

  it('[exact] signs: closer is louder and pulls harder, more turns lower the resonance; a full magnet goes down', () => {
    const gap = effect('gap').effect;
    expect(gap.level).toBeLessThan(-0.1);
    // The pull flattens; further away it is less.
    expect(gap.pull!).toBeGreaterThan(0);
    expect(effect('turns').effect.resonance!).toBeCloseTo(-0.02, 2);
    const magnets = effect('magnets');
    expect(magnets.way).toBe('down');
    expect(magnets.effect.level).toBeLessThan(0);
    expect(mattersOf(SHEET, { pickup: 0, up: null, down: null }, FIELDS, solver)).toBeNull();
    // What the circuit is does nothing to the strings.
    expect(effect('cable').effect).toMatchObject({ balance: 0, pull: 0 });
  });
});
