/** The same sheet on another instrument: builds that have as many poles as it has strings. Pure. */
import { MOST_STRINGS } from '../shape/strings.ts';
import { fitPickup } from './fitBuild.ts';
import type { Instrument, Listen, Sheet, StringSpec } from './sheet.ts';

/** MIDI note numbers of the open strings, string 1 first. */
export const notesOf = (strings: readonly StringSpec[]): readonly number[] => strings.map(({ midi }) => midi);

/**
 * Where string 1 of before stands among the strings of after, counted from 0 and below 0 when it is gone: as the most open
 * notes fall together, or the most names of notes, as a bass's four with a guitar's lowest.
 */
export function shiftOf(before: readonly StringSpec[], after: readonly StringSpec[]): number {
  if (before.length === after.length) return 0;
  const [old, now] = [notesOf(before), notesOf(after)];
  let best = { shift: 0, score: -1 };
  for (let away = 0; away < MOST_STRINGS; away++) {
    for (const shift of [away, -away]) {
      const score = old.reduce((sum, note, i) => {
        const other = now[i + shift];
        if (other === undefined) return sum;
        return sum + (other === note ? 2 : (other - note) % 12 === 0 ? 1 : 0);
      }, 0);
      if (score > best.score) best = { shift, score };
    }
  }
  return best.shift;
}

/** The sheet on another instrument and listened to in another way: its builds then have as many poles as that has strings. */
export function onInstrument(sheet: Sheet, instrument: Instrument, listen: Listen): Sheet {
  const shift = shiftOf(sheet.instrument.strings, instrument.strings);
  const pickups = sheet.pickups.map((pickup) => fitPickup(pickup, sheet.instrument, instrument, shift));
  const same = pickups.every((pickup, i) => pickup === sheet.pickups[i]);
  return { ...sheet, instrument, listen, pickups: same ? sheet.pickups : pickups };
}
