/** What is heard of one sheet beside another, as the page says it of two trials, in figures. */
import { heardBetween } from '../physics/heardBetween.ts';
import { phraseLevel } from '../physics/predict.ts';
import { Complaint, type Comparison } from './options.ts';
import { computed, readSheet } from './read.ts';

/** Significant digits: further ones are not the ear's. */
const DIGITS = 6;
const short = (value: number): number => Number(value.toPrecision(DIGITS));

/**
 * JSON: by how much the other is louder (dB), what is heard of it at equal loudness (dB of excitation, Hz, of which note and
 * part), and the same at every filter of the ear (Hz, dB).
 */
export function compare({ one, other }: Comparison): string {
  const [first, second] = [readSheet(one), readSheet(other)];
  // Both play what the second plays, as two trials on the page.
  const than = { ...first, listen: second.listen };
  if (first.instrument.strings.length !== second.instrument.strings.length)
    throw new Complaint(
      `Both sheets must have as many strings; got ${first.instrument.strings.length} and ${second.instrument.strings.length}.`,
      1,
    );
  const [thanFields, fields] = [computed(than), computed(second)];
  const [from, to] = [phraseLevel(than, thanFields).loudness, phraseLevel(second, fields).loudness];
  if (from === null || to === null)
    throw new Complaint(`Both sheets must be heard; ${from === null ? one : other} is silent.`, 1);
  const louder = to - from;
  const { frequencies, curve, most, at, string, fret, part } = heardBetween(
    second,
    { than, thanFields, louder },
    fields,
  );
  const pattern = [...curve].map((by, i) => [short(frequencies[i]!), short(by)]);
  const heard = { most: short(most), at: short(at), string, fret, part, pattern };
  return JSON.stringify({ louder: short(louder), heard });
}
