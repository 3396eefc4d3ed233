/**
 * From a sheet to its curves and figures: with rendered.ts, which makes it sound, the door to the physics. Pure; nothing is kept
 * between calls.
 */
import { hasCoil } from '../shape/hasCoil.ts';
import { noteName } from '../shape/noteNames.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { fieldsOf, type Fields } from './field.ts';
import { curveFrequencies } from './curveFrequencies.ts';
import { listen } from './listening.ts';
import { outcomeOf } from './outcome.ts';
import { phraseNotes } from './phraseNotes.ts';
import type { Note, PickupOutcome, Prediction } from './prediction.ts';
import { resolve } from './heard/resolve.ts';
import { stopString, type SoundingString } from './string/note.ts';
import { fretPlaces } from './string/pitch.ts';
import { voiceOf } from './voice.ts';
import { warningsFor } from './warnings.ts';

/** A curve that stays below this, dB, is as good as silent. */
const SILENT_DB = -80;

const NO_COIL =
  'No coil: nothing to hear. The selector lets magnets through that lie on the bench without one. Put the coil on, or let another pickup through.';

/** Of strings that the magnets pull harder, the farther they give way, than their tension brings them back. */
function notHeld(name: string, { strings }: PickupOutcome): string[] {
  const numbers = strings.flatMap(({ field }, i) =>
    field && Math.min(field.centsTowards, field.centsAcross) === -Infinity ? [i + 1] : [],
  );
  return numbers.length === 0
    ? []
    : [
        `The ${name} pickup’s magnets hold string ${numbers.join(', ')} fast: its tension does not bring it back. Lower the pickup, weaken its magnets or tune the string higher.`,
      ];
}

/**
 * Curves, partials and warnings of a checked sheet.
 * @param fields those of the sheet's pickups; left out, they are computed, which takes most of the time
 * @throws FieldError where a build can't be computed; anything else only when the sheet was not checked before
 */
export function predict(asked: Sheet, fields: Fields = fieldsOf(asked)): Prediction {
  const sheet = resolve(asked, fields);
  const { instrument, pickups, listen: listening } = sheet;
  const note = stopString(instrument, listening.string, listening.fret);
  const frequencies = curveFrequencies();
  const shared = listen(sheet, note, frequencies);

  const voices = pickups.map((pickup, index) => voiceOf(sheet, shared, [index], pickup.name));
  const sounding = pickups.flatMap((pickup, index) => (pickup.sounds ? [index] : []));
  if (sounding.length === 0) {
    throw new RangeError('At least one pickup must sound; got none. Select a pickup.');
  }
  if (sounding.length > 1) voices.push(voiceOf(sheet, shared, sounding, 'together'));
  const soundingVoice = sounding.length > 1 ? voices.length - 1 : sounding[0]!;
  const warnings = warningsFor(sheet);
  pickups.forEach(({ name, field }) =>
    field?.warnings.forEach((warning) => warnings.push(`${name}: ${warning}`)),
  );
  const outcomes = pickups.map((pickup) => outcomeOf(instrument, pickup));
  warnings.push(...pickups.flatMap(({ name }, i) => notHeld(name, outcomes[i]!)));
  if (!sounding.some((index) => hasCoil(pickups[index]!.build))) warnings.push(NO_COIL);
  else if (voices[soundingVoice]!.circuitDb.every((level) => level < SILENT_DB)) {
    warnings.push('Hardly anything comes out of the circuit: look at the volume pots.');
  }
  return {
    note: noteOf(note),
    openStrings: instrument.strings.map((_, index) => noteOf(stopString(instrument, index + 1, 0))),
    frets: fretPlaces(instrument.scaleLength, instrument.frets),
    frequencies,
    voices,
    sounding: soundingVoice,
    pickups: outcomes,
    phrase: phraseNotes(sheet, sounding),
    warnings,
  };
}

function noteOf(sounding: SoundingString): Note {
  const { string, fret, midi, frequency, length, tension, inharmonicity, waveSpeed } = sounding;
  return { string, fret, name: noteName(midi), frequency, length, tension, inharmonicity, waveSpeed };
}
