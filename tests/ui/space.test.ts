import { expect, it } from 'vitest';
import { inkOf } from '../../src/ui/space/inks.ts';
import { NAMED_VIEWS, shareWords, viewWords } from '../../src/ui/space/words.ts';

const turn = (azimuth: number, elevation: number): Parameters<typeof viewWords>[0] => ({
  azimuth: (azimuth * Math.PI) / 180,
  elevation: (elevation * Math.PI) / 180,
});

it.each([
  [0, 0, 'from the treble side, level'],
  [35, 25, 'from the treble side and the nut, 25° above'],
  [90, 0, 'from the nut, level'],
  [180, -10, 'from the bass side, 10° below'],
  [-180, 5, 'from the bass side, 5° above'],
  [-90, 40, 'from the saddle, 40° above'],
  [-45, 40, 'from the treble side and the saddle, 40° above'],
  [77, 90, 'from straight above'],
  [0, -85, 'from straight below'],
])('says from where one looks: %i°, %i°', (azimuth, elevation, words) => {
  expect(viewWords(turn(azimuth, elevation))).toBe(words);
});

it('has a view of its own for every name', () => {
  expect(new Set(NAMED_VIEWS.map((view) => viewWords(view.turn))).size).toBe(NAMED_VIEWS.length);
});

it('says for how much flux a line stands', () => {
  expect(shareWords(5e-7)).toBe('0.5 µWb');
  expect(shareWords(1e-5)).toBe('10 µWb');
});

it('reads the colours that browsers compute', () => {
  expect(inkOf('rgb(255, 0, 51)')).toEqual([1, 0, 0.2]);
  expect(inkOf('rgba(0 0 0 / 0.5)')).toEqual([0, 0, 0]);
});
