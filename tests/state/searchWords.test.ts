import { describe, expect, it } from 'vitest';
import { setAt } from '../../src/sheet/edit.ts';
import { buildWords, candidateWhat, missingRows, searchWords } from '../../src/state/searchWords.ts';
import { builtSheet } from '../fixtures/builtSheet.ts';

const buildOf = (name: string) => builtSheet(name).pickups[0]!.build!;
const rods = buildOf('six rods');
const turns = rods.rows[0]!.turns;

describe('what a search found, in words', () => {
  it('[exact] a build: turns, wire, every kind of pole and magnet that may have been chosen, gaps', () => {
    expect(buildWords(rods)).toMatch(
      /^\d+ turns of 0\.06\d+ mm \(AWG 42\), \w+; alnico \d rods of \d\.\d\d × \d\d\.\d\d mm; gaps \d\.\d\d and \d\.\d\d mm$/,
    );
    const two = buildOf('slugs and screws beside an alnico bar');
    expect(buildWords(two)).toMatch(
      /^\d+ and \d+ turns of .*; (alnico|ceramic) \d bar, (screws|slugs) of .* mm, (slugs|screws) of .* mm; gaps/,
    );
    const bare = setAt(builtSheet('six rods'), ['pickups', 0, 'build', 'rows', 0, 'pole', 'kind'], 'none');
    expect(buildWords(bare.pickups[0]!.build!)).toMatch(/^\d+ turns of [^;]*; gaps [^;]*$/);
  });

  it('[exact] by how much each misses: shares of some, dB and cents of others, nothing below a most', () => {
    const one = {
      ...{ build: rods, reached: false, cost: 9 },
      missing: [
        { want: 'resonance', wanted: 5000, got: 5020, off: 0.4 },
        { want: 'level', wanted: 2, got: 0.5, off: -3 },
        { want: 'pull', wanted: 2, got: 3.26, off: 2.5 },
        { want: 'balance', wanted: 1, got: 0.4, off: 0 },
        { want: 'q', wanted: 2, got: null, off: 100 },
        { want: 'resistance', wanted: 6000, got: 6001, off: 0.01 },
      ],
    } as const;
    expect(missingRows(one).map(({ name, wanted, got, off }) => [name, wanted, got, off])).toEqual([
      ['resonance', '5 kHz', '5.02 kHz', '0.4 % more'],
      ['level', '2.0 dB', '0.5 dB', '1.5 dB less'],
      ['pull', 'at most 2.0 cents', '3.26 cents', '1.3 cents more'],
      ['balance of the strings', 'at most 1.0 dB', '0.4 dB', ''],
      ['Q of the resonance', '2.0', 'none', 'there is none'],
      ['DC resistance', '6.00 kΩ', '6.001 kΩ', ''],
    ]);
    expect(candidateWhat(one)).toBe(
      `${turns} turns of ${buildWords(rods).split(' turns of ')[1]!.split(', ')[0]}: resonance 0.4 % more, level 1.5 dB less, pull 1.3 cents more, no resonance`,
    );
    const part = { done: 4, of: 4, best: [one], limits: ['More turns than 8000 are not allowed.'] };
    expect(searchWords(part)).toBe(
      'Not reachable; the nearest stands first. More turns than 8000 are not allowed.',
    );
    expect(searchWords({ ...part, best: [{ ...one, reached: true }], limits: [] })).toBe('Reached.');
    expect(searchWords({ ...part, best: [] })).toMatch(/^Not reachable: nothing can be built of this\. /);
  });
});
