/** The notes of a phrase as the ear gets them: all their partials, in the attack and after it. */
import type { HeardSheet } from './heard/resolved.ts';
import type { NoteTones } from './hearing/heardDifference.ts';
import { fromDb } from './levelDb.ts';
import { circuitOf, listen } from './listening.ts';
import { partialsOf } from './partialTones.ts';
import type { PartialTone } from './prediction.ts';
import { scoreOf } from './sound/score.ts';
import { loudspeakerDb } from './sound/speaker.ts';
import { stopString } from './string/note.ts';

/** s: what a pluck sounds like is heard within it. */
const ATTACK = 0.2;
/** s; a note that rings for longer is heard no longer. */
const LONGEST = 2;
/** −60 dB in amplitude, as a natural logarithm of power. */
const SIXTY_DB = Math.log(1e6);
const NO_CURVE = new Float64Array(0);

/**
 * Every note of the phrase once, in the order of its first pluck, by what the selector lets through, at the cable's end or
 * through the loudspeaker, as the sheet says. A partial dies away by the slope with which it begins.
 */
export function heardNotes(sheet: HeardSheet): readonly NoteTones[] {
  const members = sheet.pickups.flatMap((pickup, index) => (pickup.sounds ? [index] : []));
  const circuit = circuitOf(sheet, members);
  const longest = new Map<string, { string: number; fret: number; rings: number }>();
  for (const { string, fret, time, until } of scoreOf(sheet).events) {
    const key = `${string}/${fret}`;
    const rings = Math.max(until - time, longest.get(key)?.rings ?? 0);
    longest.set(key, { string, fret, rings });
  }
  return [...longest.values()].map(({ string, fret, rings }) => {
    const note = stopString(sheet.instrument, string, fret);
    const partials = partialsOf(circuit, listen(sheet, note, NO_CURVE, { members }));
    const end = Math.min(Math.max(rings, ATTACK), LONGEST);
    const powers = (from: number, to: number): Float64Array =>
      Float64Array.from(partials, (partial) => meanPower(partial, from, to) * throughDb(sheet, partial));
    return {
      ...{ string, fret, frequencies: Float64Array.from(partials, ({ frequency }) => frequency) },
      powers: { attack: powers(0, Math.min(ATTACK, end)), body: powers(Math.min(ATTACK, 0.5 * end), end) },
    };
  });
}

/** As a factor of power. */
const throughDb = ({ listen: { through } }: HeardSheet, { frequency }: PartialTone): number =>
  through === 'loudspeaker' ? 10 ** (loudspeakerDb(frequency) / 10) : 1;

/** V², between two instants (s) after the pluck. */
function meanPower({ pluckedDb, t60 }: PartialTone, from: number, to: number): number {
  const rate = SIXTY_DB / t60.asPlucked;
  const whole = fromDb(pluckedDb) ** 2;
  // A rate that is nothing, or below it where two polarisations beat, keeps it as it begins.
  if (!(rate > 0) || !Number.isFinite(rate)) return whole;
  return (whole * (Math.exp(-rate * from) - Math.exp(-rate * to))) / (rate * (to - from));
}
