/** What is played, as plucks in time: for the rendered phrase and for the one that repeats live. */
import { chordShape, PROGRESSION, type Frets } from '../../shape/chords.ts';
import type { Listen, Sheet } from '../../sheet/sheet.ts';
import { TOUCH } from './touch.ts';

/** One pluck. */
export interface ScoreEvent {
  /** s from the beginning of the phrase. */
  readonly time: number;
  /** When the string has been silenced, s from the same beginning; may lie beyond the end of the phrase. */
  readonly until: number;
  /** 1 is the highest. */
  readonly string: number;
  readonly fret: number;
}

/** One turn of the phrase. */
export interface Score {
  /** Length of the phrase, after which it begins anew, s. */
  readonly seconds: number;
  /** In the order of time. A string that is plucked again is silenced just before. */
  readonly events: readonly ScoreEvent[];
}

interface Pluck {
  readonly time: number;
  readonly string: number;
  readonly fret: number;
  /** When it is silenced even though the string isn't plucked again. */
  readonly stop?: number;
}

const BEATS_A_BAR = 4;
const STRUMS_A_BAR = 2;
/** Semitones of a major scale over one octave. */
const MAJOR = [0, 2, 4, 5, 7, 9, 11, 12];

/** The phrase of a checked sheet. */
export function scoreOf(sheet: Sheet): Score {
  const { listen } = sheet;
  const beat = 60 / listen.tempo;
  switch (listen.play) {
    case 'string':
      return score(listen.seconds, [{ time: 0, string: listen.string, fret: listen.fret }]);
    case 'chord':
      return score(listen.seconds, strum(listen.chord, listen.strum, 0));
    case 'arpeggio':
      return arpeggio(listen, beat / 2);
    case 'scale':
      return scale(sheet, beat / 2);
    case 'progression':
      return progression(sheet, beat);
    case 'line':
      return line(listen, beat);
  }
}

/** When each string is plucked, s: evenly from 0 (lowest string) to `seconds` (the highest), in the order given. */
export function strumOnsets(notes: readonly { readonly string: number }[], seconds: number): number[] {
  const order = notes.map((_, index) => index).sort((a, b) => notes[b]!.string - notes[a]!.string);
  const gap = notes.length > 1 ? seconds / (notes.length - 1) : 0;
  return notes.map((_, index) => gap * order.indexOf(index));
}

function strum(frets: Frets, seconds: number, time: number): Pluck[] {
  const notes = frets.flatMap((fret, index) => (fret === null ? [] : [{ string: index + 1, fret }]));
  const onsets = strumOnsets(notes, seconds);
  return notes.map((note, i) => ({ ...note, time: time + onsets[i]! }));
}

/** From the lowest string up and down again, the ends once. */
function arpeggio({ chord }: Listen, eighth: number): Score {
  const up = chord.flatMap((fret, index) => (fret === null ? [] : [{ string: index + 1, fret }])).reverse();
  const round = [...up, ...up.slice(1, -1).reverse()];
  return score(
    round.length * eighth,
    round.map((note, i) => ({ ...note, time: i * eighth })),
  );
}

/**
 * One octave up in position: on to the next string as soon as a note lies more than three frets above the first one (four
 * above an open string). Each note ends when the next begins; notes beyond the last fret are rests.
 */
function scale({ instrument, listen }: Sheet, eighth: number): Score {
  const open = instrument.strings.map(({ midi }) => midi);
  const highest = listen.fret + (listen.fret > 0 ? 3 : 4);
  let string = listen.string;
  const plucks: Pluck[] = [];
  MAJOR.forEach((step, i) => {
    const midi = open[listen.string - 1]! + listen.fret + step;
    const fretOn = (s: number) => midi - open[s - 1]!;
    while (string > 1 && fretOn(string) > highest && fretOn(string - 1) >= 0) string--;
    const fret = fretOn(string);
    if (fret < 0 || fret > instrument.frets) return;
    plucks.push({ time: i * eighth, string, fret, stop: (i + 1) * eighth });
  });
  return score(MAJOR.length * eighth, plucks);
}

function progression({ instrument, listen }: Sheet, beat: number): Score {
  const open = instrument.strings.map(({ midi }) => midi);
  const bar = BEATS_A_BAR * beat;
  const plucks = PROGRESSION.flatMap((chord, i) =>
    Array.from({ length: STRUMS_A_BAR }, (_, half) =>
      strum(chordShape(open, chord), Math.min(listen.strum, beat), (i + half / STRUMS_A_BAR) * bar),
    ).flat(),
  );
  // A string that the next chord leaves out stops with its own chord.
  const stopped = plucks.map((pluck) => ({ ...pluck, stop: bar * (Math.floor(pluck.time / bar) + 1) }));
  return score(PROGRESSION.length * bar, stopped);
}

/** Whole bars: up to the bar line after the last note. */
function line({ line: notes }: Listen, beat: number): Score {
  const last = notes.reduce((latest, note) => Math.max(latest, note.beat), 0);
  const bars = Math.floor(last / BEATS_A_BAR) + 1;
  const plucks = notes.map(({ beat: at, string, fret }) => ({ time: at * beat, string, fret }));
  return score(bars * BEATS_A_BAR * beat, plucks);
}

/** In order, with the end of every note. Of two plucks of one string closer than a touch only the later one is played. */
function score(seconds: number, plucks: readonly Pluck[]): Score {
  const sorted = plucks
    .map((pluck, index) => ({ pluck, index }))
    .sort((a, b) => a.pluck.time - b.pluck.time || a.index - b.index)
    .map(({ pluck }) => pluck);
  const events = sorted.flatMap((pluck, i): ScoreEvent[] => {
    const { time, string, fret } = pluck;
    const again =
      sorted.slice(i + 1).find((later) => later.string === string)?.time ??
      sorted.find((first) => first.string === string)!.time + seconds;
    if (again < time + TOUCH) return [];
    return [{ time, until: Math.min(again, pluck.stop ?? again), string, fret }];
  });
  return { seconds, events };
}
