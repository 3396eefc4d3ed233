import { describe, expect, it } from 'vitest';
import { FIGURES } from '../../src/sheet/figures.ts';
import {
  withConstruction,
  withCore,
  withGauge,
  withStringBeside,
  withWrap,
} from '../../src/sheet/ownString.ts';
import { plainDensity, STRING_SETS, usualCore, woundDensity } from '../../src/sheet/strings.ts';

const THOU = 25.4e-6;
const [first] = STRING_SETS;
const low = first!.strings.at(-1)!;

describe('[exact] one string by hand', () => {
  it('is the one of another set once it has its gauge', () => {
    for (const { strings } of STRING_SETS.filter(({ family }) => family === 'guitar'))
      for (const spec of strings) {
        const from = spec.construction === 'plain' ? first!.strings[0]! : low;
        expect(withGauge({ ...from, midi: spec.midi }, spec.diameter)).toStrictEqual(spec);
      }
  });

  it('weighs what its core and wrap weigh', () => {
    const thick = withGauge(low, 1.5e-3);
    expect(thick.linearDensity).toBeCloseTo(woundDensity(1.5e-3, thick.core), 5);
    const thin = withCore(thick, 4e-4);
    expect(thin.core).toBe(4e-4);
    expect(thin.linearDensity).toBeCloseTo(woundDensity(1.5e-3, 4e-4), 5);
    expect(withCore(low, 1).core).toBe(low.diameter);
    const plain = withConstruction(low, 'plain');
    expect(plain).toMatchObject({ construction: 'plain', core: low.diameter, midi: low.midi });
    expect(plain.linearDensity).toBeCloseTo(plainDensity(low.diameter), 6);
    expect(withConstruction(plain, 'wound')).toStrictEqual(low);
    expect(withConstruction(low, 'wound')).toBe(low);
    expect(withCore(plain, 3e-4)).toBe(plain);
  });

  it('keeps its metal, in any order of the changes, to the four digits of a weight', () => {
    const one = withWrap(withGauge(low, 1.2e-3), 'nickel');
    const other = withGauge(withWrap(low, 'nickel'), 1.2e-3);
    expect(other).toStrictEqual(one);
  });
});

it('[practice] a usual core is thinner than its string and grows with it', () => {
  let before = 0;
  for (let gauge = 10; gauge <= 150; gauge++) {
    const core = usualCore(gauge * THOU);
    expect(core).toBeGreaterThanOrEqual(before);
    expect(core / (gauge * THOU)).toBeGreaterThan(0.15);
    expect(core / (gauge * THOU)).toBeLessThan(0.7);
    before = core;
  }
});

it.each(STRING_SETS)(
  '[practice] a string beside $name goes on as the set does, within the figures’ limits',
  ({ strings }) => {
    const lower = withStringBeside(strings, 'lower');
    const higher = withStringBeside(strings, 'higher');
    if (strings.length === 8) {
      expect(lower).toBe(strings);
      return;
    }
    const [added, next] = [lower.at(-1)!, strings.at(-1)!];
    expect(added.diameter).toBeGreaterThan(next.diameter);
    expect(added.linearDensity).toBeGreaterThan(next.linearDensity);
    expect(added.midi).toBe(Math.max(FIGURES.midi.min, next.midi - 5));
    expect(higher[0]!.diameter).toBeLessThan(strings[0]!.diameter);
    expect(higher[0]!.midi).toBe(strings[0]!.midi + 5);
    expect(higher.slice(1)).toStrictEqual(strings);
  },
);
