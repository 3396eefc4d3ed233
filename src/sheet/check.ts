/**
 * The door for sheets from outside: links, files, storage. Builds a fresh plain sheet from the fields it knows,
 * drops all others, and says in a maker's words what is wrong with the first that will not do.
 */
import { checkControls, checkPickup, CONTROL_SETS } from './checkParts.ts';
import { DEFAULT_LINE, DEFAULT_RADIUS, DEFAULT_TEMPO, DEFAULT_WRAP } from './defaults.ts';
import {
  asFields,
  checkFormat,
  choice,
  Fault,
  figure,
  figureOrNoneIn,
  group,
  list,
  orDefault,
  refuse,
  text,
  type Fields,
} from './fault.ts';
import {
  OLDEST_FORMAT,
  SHEET_FORMAT,
  type Harness,
  type Instrument,
  type LineNote,
  type Listen,
  type Sheet,
  type StringSpec,
} from './sheet.ts';
import { checkMagnets } from './checkMagnets.ts';
import { FEWEST_STRINGS, MOST_STRINGS } from '../shape/strings.ts';
import { WRAP_METALS } from './wrapMetals.ts';

/** A sheet to be trusted, or a sentence about the first thing that is wrong. */
export type Checked =
  | { readonly ok: true; readonly sheet: Sheet }
  | { readonly ok: false; readonly message: string };

/** UTF-16 units. */
export const LONGEST_TITLE = 80;
export const LONGEST_NOTES = 600;
/** Of the maker's own line. */
export const MOST_NOTES = 64;

const PLAYS = ['string', 'chord', 'arpeggio', 'scale', 'progression', 'line'] as const;

function checkString(value: unknown, number: number): StringSpec {
  const where = `String ${number}`;
  const fields = asFields(value, '', where);
  const construction = choice(fields, 'construction', ['plain', 'wound'], where, 'Construction');
  const diameter = figure(fields, 'diameter', 'stringDiameter', where);
  const core = figure(fields, 'core', 'stringCore', where);
  if (core > diameter) refuse(where, 'String core must be no thicker than the string; got more.');
  if (construction === 'plain' && core !== diameter)
    refuse(where, 'String core must be as thick as a plain string; got less. A thinner core makes it wound.');
  return {
    midi: figure(fields, 'midi', 'midi', where),
    construction,
    diameter,
    core,
    wrap: orDefault(fields, 'wrap', DEFAULT_WRAP, () => choice(fields, 'wrap', WRAP_METALS, where, 'Wrap')),
    linearDensity: figure(fields, 'linearDensity', 'linearDensity', where),
  };
}

function checkInstrument(fields: Fields): Instrument {
  return {
    scaleLength: figure(fields, 'scaleLength', 'scaleLength', ''),
    frets: figure(fields, 'frets', 'frets', ''),
    spreadSaddle: figure(fields, 'spreadSaddle', 'spreadSaddle', ''),
    spreadNut: figure(fields, 'spreadNut', 'spreadNut', ''),
    radius: orDefault(fields, 'radius', DEFAULT_RADIUS, () => figure(fields, 'radius', 'radius', '')),
    strings: list(fields, 'strings', '', 'Strings', FEWEST_STRINGS, MOST_STRINGS).map((string, i) =>
      checkString(string, i + 1),
    ),
  };
}

function checkHarness(fields: Fields, pickups: number): Harness {
  const wiring = choice(fields, 'wiring', ['shared', 'own'], '', 'Wiring');
  const sets = wiring === 'own' ? pickups : 1;
  const cable = group(fields, 'cable', '', 'Cable');
  const input = group(fields, 'input', '', 'Input');
  return {
    wiring,
    controls: list(fields, 'controls', '', CONTROL_SETS, sets, sets).map((set, i) =>
      checkControls(set, wiring === 'own' ? `Controls of pickup ${i + 1}` : 'Controls'),
    ),
    cable: {
      length: figure(cable, 'length', 'cableLength', ''),
      capacitancePerMetre: figure(cable, 'capacitancePerMetre', 'cablePerMetre', ''),
    },
    input: {
      resistance: figure(input, 'resistance', 'inputResistance', ''),
      capacitance: figure(input, 'capacitance', 'inputCapacitance', ''),
    },
  };
}

/** String 1 and so on. */
const numbersOf = (strings: readonly StringSpec[]): readonly number[] => strings.map((_, i) => i + 1);

function checkFret(fret: number, frets: number, where: string): number {
  if (fret > frets) refuse(where, `Fret must be at most ${frets}, the last on this neck; got ${fret}.`);
  return fret;
}

function checkLineNote(value: unknown, number: number, { frets, strings }: Instrument): LineNote {
  const where = `Line, note ${number}`;
  const fields = asFields(value, '', where);
  return {
    beat: figure(fields, 'beat', 'beat', where, { size: 0.25, name: 'a quarter' }),
    string: choice(fields, 'string', numbersOf(strings), where, 'String'),
    fret: checkFret(figure(fields, 'fret', 'fret', where), frets, where),
  };
}

function checkListen(fields: Fields, instrument: Instrument): Listen {
  const pluck = group(fields, 'pluck', '', 'Pluck');
  const place = figure(pluck, 'place', 'pluckPlace', '');
  if (place >= instrument.scaleLength)
    refuse('', 'Pluck place must be on the string, nearer than the nut; got beyond it.');
  const { strings } = instrument;
  const count = strings.length;
  const chord = list(fields, 'chord', '', 'Strings of the chord', count, count).map((_, i, frets) => {
    const where = `Chord, string ${i + 1}`;
    const fret = figureOrNoneIn(frets, i, 'fret', where);
    return fret === null ? null : checkFret(fret, instrument.frets, where);
  });
  if (chord.every((fret) => fret === null))
    refuse('', 'Chord must have at least one string that is played; got none.');
  return {
    play: choice(fields, 'play', PLAYS, '', 'What is played'),
    tempo: orDefault(fields, 'tempo', DEFAULT_TEMPO, () => figure(fields, 'tempo', 'tempo', '')),
    line: orDefault(fields, 'line', DEFAULT_LINE, () =>
      list(fields, 'line', '', 'Notes of the line', 0, MOST_NOTES).map((note, i) =>
        checkLineNote(note, i + 1, instrument),
      ),
    ),
    through: orDefault(fields, 'through', 'cable', () =>
      choice(fields, 'through', ['cable', 'loudspeaker'], '', 'What is listened through'),
    ),
    string: choice(fields, 'string', numbersOf(strings), '', 'Chosen string'),
    fret: checkFret(figure(fields, 'fret', 'fret', ''), instrument.frets, ''),
    chord,
    strum: figure(fields, 'strum', 'strum', ''),
    pluck: {
      place,
      width: figure(pluck, 'width', 'pluckWidth', ''),
      depth: figure(pluck, 'depth', 'pluckDepth', ''),
      angle: figure(pluck, 'angle', 'pluckAngle', ''),
    },
    seconds: figure(fields, 'seconds', 'seconds', ''),
    sampleRate: choice(fields, 'sampleRate', [44100, 48000, 96000], '', 'Sample rate'),
    level: choice(fields, 'level', ['as it is', 'matched'], '', 'Level'),
    partial: figure(fields, 'partial', 'partial', ''),
  };
}

/** @throws Fault with the sentence for the maker; checkSheet is the door */
export function buildSheet(data: unknown): Sheet {
  const fields = asFields(data, '', 'Sheet');
  checkFormat(fields, SHEET_FORMAT, 'Sheet', ['its', 'it'], OLDEST_FORMAT);
  const instrument = checkInstrument(group(fields, 'instrument', '', 'Instrument'));
  const pickups = list(fields, 'pickups', '', 'Pickups', 1, 3).map((pickup, i) =>
    checkPickup(pickup, i + 1, instrument),
  );
  if (!pickups.some((pickup) => pickup.sounds))
    refuse('', 'Selector must let at least one pickup through; got none.');
  return {
    format: SHEET_FORMAT,
    title: text(fields, 'title', LONGEST_TITLE, '', 'Title'),
    notes: text(fields, 'notes', LONGEST_NOTES, '', 'Notes', true),
    instrument,
    pickups,
    ...checkMagnets(fields),
    harness: checkHarness(group(fields, 'harness', '', 'Harness'), pickups.length),
    listen: checkListen(group(fields, 'listen', '', 'Listen'), instrument),
  };
}

/** Never throws. A change that a maker makes may go through here too: what passes can be sent and opened again. */
export function checkSheet(data: unknown): Checked {
  try {
    return { ok: true, sheet: buildSheet(data) };
  } catch (error) {
    if (error instanceof Fault) return { ok: false, message: error.message };
    // Data with getters or proxies may throw anything at all; it is no sheet.
    return { ok: false, message: 'Sheet must be plain data; got something that cannot be read.' };
  }
}
