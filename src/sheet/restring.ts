/**
 * Other strings on the instrument, four to eight: what goes by string follows, from the poles of every build to the chord.
 * Pure; each returns a new sheet.
 */
import { CHORDS, chordName, chordShape } from '../shape/chords.ts';
import { clampFigure, snapFigure } from './figures.ts';
import { fitBuild, fitPickup, spacingAt } from './fitBuild.ts';
import { notesOf, shiftOf } from './otherInstrument.ts';
import type { Instrument, Listen, Pickup, Sheet, StringSpec } from './sheet.ts';
import { familyOf, type Family } from './strings.ts';

/** What the neck of a family usually is, m; spacings are between neighbouring strings. Common practice. */
const NECKS: Readonly<Record<Family, { scaleLength: number; saddle: number; nut: number }>> = {
  guitar: { scaleLength: 0.648, saddle: 0.0105, nut: 0.0071 },
  bass: { scaleLength: 0.864, saddle: 0.019, nut: 0.0102 },
};

/** The instrument with these strings: as far apart as those before, or as a bass or guitar has them that it was not. */
function instrumentWith(before: Instrument, strings: readonly StringSpec[]): Instrument {
  const family = familyOf(strings);
  const gaps = strings.length - 1;
  if (family === familyOf(before.strings)) {
    const share = gaps / (before.strings.length - 1);
    if (share === 1) return { ...before, strings };
    return {
      ...before,
      strings,
      spreadSaddle: snapFigure(before.spreadSaddle * share, 'spreadSaddle'),
      spreadNut: snapFigure(before.spreadNut * share, 'spreadNut'),
    };
  }
  const neck = NECKS[family];
  return {
    ...before,
    strings,
    scaleLength: neck.scaleLength,
    spreadSaddle: snapFigure(neck.saddle * gaps, 'spreadSaddle'),
    spreadNut: snapFigure(neck.nut * gaps, 'spreadNut'),
  };
}

/** At the same share of the scale as before. */
function movedPickup(pickup: Pickup, before: Instrument, after: Instrument, shift: number): Pickup {
  if (before.scaleLength === after.scaleLength) return fitPickup(pickup, before, after, shift);
  const place = snapFigure((pickup.place * after.scaleLength) / before.scaleLength, 'place');
  const ratio = spacingAt(after, place) / spacingAt(before, pickup.place);
  const build = pickup.build && fitBuild(pickup.build, after.strings.length, shift, ratio);
  return { ...pickup, place, build };
}

/** A chord that has a name keeps it; another keeps its frets on the strings that are still there. */
function chordWith(
  listen: Listen,
  before: Instrument,
  strings: readonly StringSpec[],
  shift: number,
): Listen['chord'] {
  const open = notesOf(strings);
  const name = chordName(notesOf(before.strings), listen.chord);
  const named = CHORDS.find((chord) => chord.name === name);
  if (named) return chordShape(open, named);
  if (before.strings.length === strings.length) return listen.chord;
  const kept = open.map((_, i) => listen.chord[i - shift] ?? null);
  return kept.some((fret) => fret !== null) ? kept : chordShape(open, CHORDS[0]!);
}

function listenWith(listen: Listen, before: Instrument, after: Instrument, shift: number): Listen {
  const { strings } = after;
  const there = (string: number): boolean => string >= 1 && string <= strings.length;
  const line = listen.line.map((note) => ({ ...note, string: note.string + shift }));
  return {
    ...listen,
    string: Math.min(strings.length, Math.max(1, listen.string + shift)),
    line:
      shift === 0 && line.every(({ string }) => there(string))
        ? listen.line
        : line.filter((n) => there(n.string)),
    chord: chordWith(listen, before, strings, shift),
    pluck: {
      ...listen.pluck,
      place:
        before.scaleLength === after.scaleLength
          ? listen.pluck.place
          : snapFigure((listen.pluck.place * after.scaleLength) / before.scaleLength, 'pluckPlace'),
    },
  };
}

/** The sheet with other strings; the very same sheet with the very same strings. */
export function withStrings(sheet: Sheet, strings: readonly StringSpec[]): Sheet {
  const before = sheet.instrument;
  if (strings === before.strings) return sheet;
  const after = instrumentWith(before, strings);
  const shift = shiftOf(before.strings, strings);
  return {
    ...sheet,
    instrument: after,
    pickups: sheet.pickups.map((pickup) => movedPickup(pickup, before, after, shift)),
    listen: listenWith(sheet.listen, before, after, shift),
  };
}

/** The strings in another tuning. @param notes MIDI note numbers, string 1 first, as many as there are strings */
export const retuned = (strings: readonly StringSpec[], notes: readonly number[]): readonly StringSpec[] =>
  strings.map((spec, i) => ({ ...spec, midi: clampFigure(notes[i] ?? spec.midi, 'midi') }));

const NUMBERS = ['', '', '', '', 'Four', 'Five', 'Six', 'Seven', 'Eight'];

/** What other strings brought with them, in a sentence or two; empty when nothing but the strings is new. */
export function restrungWords(before: Sheet, after: Sheet): string {
  const [was, is] = [before.instrument, after.instrument];
  const count = is.strings.length;
  const said: string[] = [];
  if (was.scaleLength !== is.scaleLength)
    said.push(
      `The scale is ${Math.round(is.scaleLength * 1e3)} mm now; pickups and pluck stand at the same share of it.`,
    );
  if (count !== was.strings.length) {
    const built = after.pickups.some(({ build }) => build);
    said.push(
      `${NUMBERS[count]} strings now${built ? `: every row has ${NUMBERS[count]!.toLowerCase()} poles, and coils and bars are as long as that takes` : ''}.`,
    );
  } else if (after.pickups.some(({ build }, i) => build && build.pitch !== before.pickups[i]?.build?.pitch))
    said.push('The poles follow the strings, and coils and bars are as long as that takes.');
  const lost = before.listen.line.length - after.listen.line.length;
  if (lost > 0)
    said.push(`${lost} ${lost === 1 ? 'note' : 'notes'} of the line lay on strings that are gone.`);
  return said.length > 0 ? `${said.join(' ')} Undo brings back what was.` : '';
}
