/** The notes of a phrase as the ear gets them: all their partials, in the attack and after it. */
import type { HeardSheet } from './heard/resolved.ts';
import type { NoteTones } from './hearing/heardDifference.ts';
import { fromDb } from './levelDb.ts';
import { circuitOf, listen } from './listening.ts';
import { partialsOf } from './partialTones.ts';
import type { PartialTone } from './prediction.ts';
import { kWeightingAt } from './sound/loudness.ts';
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
 * through the loudspeaker, as the sheet says.
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

/**
 * How loud the notes are together, dB by any reference: their first 0.4 s, which is a block of ITU-R BS.1770, by its weighting. Of
 * two makes of one build it differs as their phrases' loudness does, within 0.1 dB (tests/physics/spread.test.ts).
 */
export function notesLoudness(notes: readonly NoteTones[]): number {
  let sum = 0;
  for (const { frequencies, powers } of notes)
    frequencies.forEach((f, i) => {
      const { re, im } = kWeightingAt(f);
      sum += (re * re + im * im) * (powers.attack[i]! + powers.body[i]!);
    });
  return 10 * Math.log10(sum);
}

/** As a factor of power. */
const throughDb = ({ listen: { through } }: HeardSheet, { frequency }: PartialTone): number =>
  through === 'loudspeaker' ? 10 ** (loudspeakerDb(frequency) / 10) : 1;

/** V², between two instants (s) after the pluck, as both polarisations die away. */
function meanPower({ pluckedDb, t60, shares }: PartialTone, from: number, to: number): number {
  const [towards, across] = [t60.towards, t60.across].map((time) => SIXTY_DB / time) as [number, number];
  const parts = [
    [shares.towards, towards],
    [shares.across, across],
    [1 - shares.towards - shares.across, 0.5 * (towards + across)],
  ] as const;
  return (
    fromDb(pluckedDb) ** 2 * parts.reduce((sum, [share, rate]) => sum + share * meanFall(rate, from, to), 0)
  );
}

/** Of a power that is 1 at 0 and falls at a rate (1/s). */
const meanFall = (rate: number, from: number, to: number): number =>
  rate > 0 ? (Math.exp(-rate * from) - Math.exp(-rate * to)) / (rate * (to - from)) : 1;
