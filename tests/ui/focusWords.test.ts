/** What is said at the hand on the focus. */
import { describe, expect, it } from 'vitest';
import { STARTING_BUILDS } from '../../src/sheet/builds.ts';
import { withLever } from '../../src/sheet/focusLever.ts';
import type { FocusTrack } from '../../src/state/focusTracks.svelte.ts';
import type { Prediction } from '../../src/state/types.ts';
import { costOf, endWords, movedWords } from '../../src/ui/section/focusWords.ts';

const { build } = STARTING_BUILDS[0]!;
const even = { ...build, gapBass: 3.2e-3, gapTreble: 3.2e-3 };
const slanting = { ...build, gapBass: 4.2e-3, gapTreble: 2.6e-3 };

describe('[exact] what moves', () => {
  it('is the lever, from where to where', () => {
    expect(movedWords(even, withLever(even, 0, 'gap', 2.4e-3), 0, 'gap')).toBe('gap 3.2 → 2.4 mm');
    expect(movedWords(even, even, 0, 'gap')).toBe('gap 3.2 mm');
    expect(movedWords(even, withLever(even, 0, 'tip', 0.75e-3), 0, 'tip')).toBe('chamfer 0 → 0.75 mm');
    expect(movedWords(slanting, withLever(slanting, 0, 'gap', 3.4e-3), 0, 'gap')).toBe(
      'gap 4.2 → 3.4 mm bass side, 2.6 → 1.8 mm treble side',
    );
  });
});

describe('[exact] what it costs', () => {
  const prediction = (level: number, cents: number): Prediction =>
    ({
      openStrings: [1, 2].map((string) => ({ string, name: string === 1 ? 'E4' : 'B3' })),
      pickups: [
        {
          coils: [],
          strings: [
            { level, widths: [], field: { centsTowards: -0.2, centsAcross: 0.1 } },
            { level: 1, widths: [], field: { centsTowards: cents, centsAcross: 0 } },
          ],
        },
      ],
    }) as unknown as Prediction;

  it('is the pull on the worst string, and the change of level on the chosen one', () => {
    const cost = costOf(prediction(1, -1), prediction(2, -1.5), 0, 1, 2);
    expect(cost).toEqual({ words: '2 B3 pulled 1.5 cents flat, +6.0 dB', over: false });
  });

  it('warns where that is more than is allowed', () => {
    const cost = costOf(prediction(1, -1), prediction(1, -3), 0, 1, 2);
    expect(cost).toEqual({ words: '2 B3 pulled 3.0 cents flat, more than 2.0 cents, ±0 dB', over: true });
  });

  it('is not said while nothing is computed', () => {
    expect(costOf(null, null, 0, 1, 2)).toEqual({ words: '', over: false });
  });
});

it('[exact] the end of a track says why', () => {
  const track = (why: 'limit' | 'turns' | 'refused'): FocusTrack => ({
    widths: Float64Array.of(0.01, 0.02),
    values: Float64Array.of(1e-3, 5.2e-3),
    narrow: { why, message: 'The cover must stay clear.' },
    wide: { why, message: 'The coil must clear its poles.' },
  });
  expect(endWords(track('limit'), true, 'tip')).toBe('No narrower by the tip: the pole is flat.');
  expect(endWords(track('turns'), false, 'diameter')).toMatch(
    /past 5\.2\d* mm the reach grows narrower again/,
  );
  expect(endWords(track('refused'), true, 'gap')).toBe('No narrower by the gap: The cover must stay clear.');
});
