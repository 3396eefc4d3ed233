/** The plucked phrase of a sheet as sound. */
import type { Sheet } from '../../sheet/sheet.ts';
import type { Sound } from '../prediction.ts';
import { playedStrings } from '../string/played.ts';
import type { SoundingString } from '../string/note.ts';
import { addNote, createBank, SILENCE, type ModeBank } from './bank.ts';
import { coilGroups, filterGroups, type CoilGroup } from './filter.ts';
import { finishEnds, LEAD_IN, setLevel } from './level.ts';
import { stringModes, type StringModes } from './modes.ts';

/**
 * What the selector lets through, plucked as the sheet says: every partial below half the sample rate, in both
 * polarisations, by its closed form; the coils' voltages are the exact derivative of the flux; then the circuit.
 * A strum runs from the lowest string that is played to the highest. Throws only when the sheet was not checked.
 */
export function render(sheet: Sheet): Sound {
  const { sampleRate, level } = sheet.listen;
  const samples = renderVolts(sheet);
  finishEnds(samples, sampleRate);
  return { samples, sampleRate, ...setLevel(samples, sampleRate, level) };
}

/** The voltage at the amplifier's input, V, before fades and level. */
export function renderVolts(sheet: Sheet): Float64Array {
  const { instrument, pickups, harness, listen } = sheet;
  const { sampleRate, pluck } = listen;
  const length = Math.max(2, Math.round(listen.seconds * sampleRate));
  const groups = coilGroups(pickups, harness, sampleRate / 2);
  if (groups.length === 0) throw new RangeError('At least one pickup must sound; got none. Select a pickup.');
  const coils = groups.flatMap((group) => group.coils);
  const voltages = groups.map(() => new Float64Array(length));

  const notes = playedStrings(sheet);
  const plucked = notes.map((note) => stringModes(instrument, pickups, coils, note, pluck, sampleRate / 2));
  const onsets = strumOnsets(notes, listen.strum).map((onset) => (onset + LEAD_IN) * sampleRate);
  groups.forEach((group, g) => {
    const emfs = plucked.map((modes) => groupEmf(modes, coils, group));
    const loudest = Math.max(...emfs.map(({ loudest: mode }) => mode));
    plucked.forEach((modes, s) => {
      const { bank, gainRe, gainIm } = fillBank(modes, emfs[s]!.flux, loudest, sampleRate);
      addNote(bank, gainRe, gainIm, onsets[s]!, voltages[g]!);
    });
  });
  return filterGroups(groups, voltages, sampleRate);
}

/** When each string is plucked, s: evenly from 0 (lowest pitched string) to `strum` (the highest). */
export function strumOnsets(notes: readonly SoundingString[], strum: number): number[] {
  const order = notes.map((_, index) => index).sort((a, b) => notes[b]!.string - notes[a]!.string);
  const gap = notes.length > 1 ? strum / (notes.length - 1) : 0;
  return notes.map((_, index) => gap * order.indexOf(index));
}

/** The group's flux in each mode, as the sum over its coils, and the largest EMF among the modes, V. */
function groupEmf(
  modes: StringModes,
  coils: readonly CoilGroup['coils'][number][],
  group: CoilGroup,
): { flux: Float64Array; loudest: number } {
  const flux = new Float64Array(modes.angular.length);
  let loudest = 0;
  for (let i = 0; i < flux.length; i++) {
    let sum = 0;
    for (const coil of group.coils) sum += coil.factor * modes.flux[coils.indexOf(coil)]![i]!;
    flux[i] = sum;
    loudest = Math.max(loudest, Math.abs(sum) * modes.angular[i]!);
  }
  return { flux, loudest };
}

/** Sort the modes by how long they sound and turn them into a bank that runs in samples. */
function fillBank(
  { angular, decay }: StringModes,
  flux: Float64Array,
  loudest: number,
  sampleRate: number,
): { bank: ModeBank; gainRe: Float64Array; gainIm: Float64Array } {
  const lasts = flux.map(
    (value, i) => (Math.log((Math.abs(value) * angular[i]!) / (SILENCE * loudest)) / decay[i]!) * sampleRate,
  );
  const order = Array.from(lasts.keys())
    .filter((i) => lasts[i]! > 0)
    .sort((a, b) => lasts[b]! - lasts[a]!);
  const bank = createBank(order.length);
  const gainRe = new Float64Array(order.length);
  const gainIm = new Float64Array(order.length);
  order.forEach((from, to) => {
    bank.turn[to] = angular[from]! / sampleRate;
    bank.fall[to] = decay[from]! / sampleRate;
    bank.lasts[to] = lasts[from]!;
    // d/dt of flux e^((−α+iω)t)
    gainRe[to] = -decay[from]! * flux[from]!;
    gainIm[to] = angular[from]! * flux[from]!;
  });
  return { bank, gainRe, gainIm };
}
