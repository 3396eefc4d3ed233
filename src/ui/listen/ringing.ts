/** Which notes of a phrase ring. */
import type { PhraseNote, PhraseNotes } from '../../state/types.ts';

/** s; what has been plucked by then is in the spectrum of the beginning, whose window is a third of a second. */
export const BEGINNING = 0.2;

/** @param at s from the beginning of the phrase; of the round before may still ring what isn't plucked anew */
export const ringingAt = ({ seconds, notes }: PhraseNotes, at: number): readonly PhraseNote[] =>
  notes.filter(({ rings }) =>
    rings.some(({ from, until }) => (from <= at && at < until) || at + seconds < until),
  );
