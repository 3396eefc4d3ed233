/** The notes of a phrase with the partials that are to be expected of them, for a spectrum of what sounds. */
import { circuitOf, listen } from './listening.ts';
import { partialsOf } from './partialTones.ts';
import type { PhraseNote, PhraseNotes } from './prediction.ts';
import type { HeardSheet } from './heard/resolved.ts';
import { scoreOf, type ScoreEvent } from './sound/score.ts';
import { stopString } from './string/note.ts';

/** Of every note where there are several: higher ones lie upon each other. */
const PARTIALS = 12;
const NO_CURVE = new Float64Array(0);

/**
 * Every note once, in the order of its first pluck.
 *
 * @param members indices of the pickups that are heard
 */
export function phraseNotes(sheet: HeardSheet, members: readonly number[]): PhraseNotes {
  const { seconds, events } = scoreOf(sheet);
  const circuit = circuitOf(sheet, members);
  const found = new Map<string, ScoreEvent[]>();
  for (const event of events) {
    const key = `${event.string}/${event.fret}`;
    found.set(key, [...(found.get(key) ?? []), event]);
  }
  const most = found.size > 1 ? PARTIALS : Infinity;
  const notes = [...found.values()].map((plucks): PhraseNote => {
    const { string, fret } = plucks[0]!;
    const note = stopString(sheet.instrument, string, fret);
    return {
      string,
      fret,
      rings: plucks.map(({ time, until }) => ({ from: time, until })),
      partials: partialsOf(circuit, listen(sheet, note, NO_CURVE, { most, members })),
    };
  });
  return { seconds, notes };
}
