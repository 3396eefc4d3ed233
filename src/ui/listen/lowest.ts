/** The lowest note that is played, for the width of the scope's picture. */
import type { Sheet } from '../../sheet/sheet.ts';
import type { Prediction } from '../../state/types.ts';

/** Hz; before anything is predicted, that of an open string in the middle. */
const USUAL = 147;

export function lowestPlayed({ listen }: Sheet, prediction: Prediction | null): number {
  if (!prediction) return USUAL;
  const { note, openStrings } = prediction;
  const stopped = (index: number, fret: number): number =>
    (openStrings[index]?.frequency ?? USUAL) * 2 ** (fret / 12);
  switch (listen.play) {
    case 'string':
    case 'scale':
      return note.frequency;
    case 'chord':
    case 'arpeggio':
      return Math.min(...listen.chord.flatMap((fret, i) => (fret === null ? [] : [stopped(i, fret)])));
    case 'progression':
      return stopped(openStrings.length - 1, 0);
    case 'line':
      return Math.min(USUAL, ...listen.line.map(({ string, fret }) => stopped(string - 1, fret)));
  }
}
