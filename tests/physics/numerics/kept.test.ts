import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Kept } from '../../../src/physics/numerics/kept.ts';

describe('what is kept', () => {
  it('[exact] is made once and then found', () => {
    const kept = new Kept<number[]>(2);
    let made = 0;
    const make = (): number[] => [++made];
    expect(kept.of('a', make)).toBe(kept.of('a', make));
    expect(kept.get('a')).toStrictEqual([1]);
    expect(kept.get('b')).toBeUndefined();
    expect(made).toBe(1);
  });

  it('[exact] may be undefined or null, and is then made no second time', () => {
    const kept = new Kept<undefined>(2);
    let made = 0;
    const make = (): undefined => {
      made++;
    };
    kept.of('a', make);
    kept.of('a', make);
    expect(made).toBe(1);
  });

  it('[exact] gives way when it was not used for the longest: reading, putting and making are uses', () => {
    const kept = new Kept<number>(3);
    kept.put('a', 1);
    kept.put('b', 2);
    kept.put('c', 3);
    kept.get('a');
    kept.put('d', 4);
    expect(kept.get('b')).toBeUndefined();
    kept.of('c', () => 30);
    kept.put('a', 10);
    kept.put('e', 5);
    expect(kept.all()).toStrictEqual([3, 10, 5]);
    expect(kept.get('d')).toBeUndefined();
  });

  it('[exact] looking at all of them uses none', () => {
    const kept = new Kept<number>(2);
    kept.put('a', 1);
    kept.put('b', 2);
    kept.all();
    kept.put('c', 3);
    expect(kept.all()).toStrictEqual([2, 3]);
  });

  it('[exact] is nothing where making it threw', () => {
    const kept = new Kept<number>(2);
    expect(() =>
      kept.of('a', () => {
        throw new Error('no');
      }),
    ).toThrow('no');
    expect(kept.size).toBe(0);
    expect(kept.of('a', () => 7)).toBe(7);
  });

  it('[exact] never is more than its bound, and holds the last ones used, whatever is done with it', () => {
    const step = fc.record({ key: fc.nat(9), act: fc.constantFrom('get', 'put', 'of') });
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 6 }), fc.array(step, { maxLength: 60 }), (most, steps) => {
        const kept = new Kept<number, number>(most);
        let wanted: number[] = [];
        for (const { key, act } of steps) {
          const there = wanted.includes(key);
          if (act === 'get') expect(kept.get(key)).toBe(there ? key : undefined);
          if (act === 'put') kept.put(key, key);
          if (act === 'of') expect(kept.of(key, () => key)).toBe(key);
          if (there || act !== 'get') wanted = [...wanted.filter((k) => k !== key), key].slice(-most);
          expect(kept.all()).toStrictEqual(wanted);
          expect(kept.size).toBeLessThanOrEqual(most);
        }
      }),
    );
  });

  it.each([0, -1, 1.5, NaN, Infinity])('must be a whole number of values; %s is refused', (most) => {
    expect(() => new Kept(most)).toThrow(/must be a whole number, 1 or more; got/);
  });
});
