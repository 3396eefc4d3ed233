import type { Sheet } from '../../sheet/sheet.ts';
import { stopString, type SoundingString } from './note.ts';

/** The strings that a sheet plays, as stopped: the chosen one, or for a chord those that have a fret, string 1 first. */
export function playedStrings({ instrument, listen }: Sheet): SoundingString[] {
  if (listen.play === 'string') return [stopString(instrument, listen.string, listen.fret)];
  return listen.chord.flatMap((fret, index) =>
    fret === null ? [] : [stopString(instrument, index + 1, fret)],
  );
}
