import { describe, expect, it } from 'vitest';
import { calledApart } from '../../src/sheet/calledApart.ts';

const called = (...names: string[]): readonly string[] => calledApart(names.map((name) => ({ name })));

describe('what pickups are called', () => {
  it('is their name', () => expect(called('neck', 'bridge')).toEqual(['neck', 'bridge']));

  it('is never the same for two, whatever they are named', () => {
    expect(called('twin', 'twin')).toEqual(['1 twin', '2 twin']);
    for (const names of [
      ['a', 'a', '1 a'],
      ['2 a', 'a', 'a'],
      ['', '', ''],
    ])
      expect(new Set(called(...names)).size).toBe(3);
  });
});
