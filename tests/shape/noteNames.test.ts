import { expect, it } from 'vitest';
import { noteName, noteNumber } from '../../src/shape/noteNames.ts';

it('[exact] a name is read as the note that it was written for', () => {
  for (let midi = 0; midi < 128; midi++) expect(noteNumber(noteName(midi))).toBe(midi);
});

it('is read in every usual spelling, and nothing else is', () => {
  expect(['e2', 'E2', ' F#1 ', 'f♯1', 'Gb1', 'Bb0', 'Cb4', 'B#3', 'c-1'].map(noteNumber)).toStrictEqual([
    40, 40, 30, 30, 30, 22, 59, 60, 0,
  ]);
  for (const text of ['', 'H2', 'E', '2', 'E2E', 'E##2', 'E200']) expect(noteNumber(text)).toBeNull();
});
