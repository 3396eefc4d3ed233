/** What is heard of one sheet beside another, as the page says it of two trials, in figures. */
import { heardBetween } from '../physics/heardBetween.ts';
import { heardWord, justHeard, LISTENED_AT } from '../physics/hearing/justHeard.ts';
import { predict } from '../physics/predict.ts';
import { phraseLevel } from '../physics/soundingLive.ts';
import { gathered, lessThanOwn, nineInTen, USUAL_MAKES, USUAL_SEED } from '../physics/spreadFigures.ts';
import { Makes, type SpreadWish } from '../physics/spreadOf.ts';
import type { Fields } from '../physics/heard/fieldAnswer.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { DEFAULT_SPREAD } from '../sheet/spread.ts';
import { currentSheet } from '../sheet/trials.ts';
import { Complaint, type Comparison } from './options.ts';
import { computed, readTrials } from './read.ts';

/** Significant digits: further ones are not the ear's. */
const DIGITS = 6;
const short = (value: number): number => Number(value.toPrecision(DIGITS));

/**
 * JSON, the other beside the one:
 * - `louder`: by how much it is, dB;
 * - `heard`: what is heard of it at equal loudness (dB of excitation, Hz, of which note and part, in a word), and the same at every filter of the ear (Hz, dB);
 * - `thresholds`: what listeners were found just to hear of each figure by itself, by paper (shares of resonance and Q, dB of level);
 * - `spread`: what two of one's own differ by, and the two sheets as they would be made, by the table in the other's file (dB), with bands of
 *   both curves (Hz, dB: the lower, the upper, and as it is drawn).
 */
export function compare({ one, other, seed, makes }: Comparison): string {
  const [first, trials] = [currentSheet(readTrials(one)), readTrials(other)];
  const second = currentSheet(trials);
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
  const heard = {
    ...{ most: short(most), at: short(at), string, fret, part },
    ...{ word: heardWord(Math.abs(most)), pattern },
  };
  const thresholds = justHeard(
    resonanceOf(than, thanFields),
    resonanceOf(second, fields),
    louder,
    LISTENED_AT,
  ).map(({ by, just, ...rest }) => ({ ...rest, by: short(by), just: short(just) }));
  const spread = spreadOf(second, fields, {
    ...{ other: than, otherFields: thanFields, louder, spread: trials.spread ?? DEFAULT_SPREAD },
    ...{ seed: seed ?? USUAL_SEED, count: makes ?? USUAL_MAKES },
  });
  return JSON.stringify({ louder: short(louder), heard, thresholds, spread });
}

/** Of what the selector lets through. */
function resonanceOf(sheet: Sheet, fields: Fields) {
  const { voices, sounding } = predict(sheet, fields);
  return voices[sounding]?.features.resonance ?? null;
}

function spreadOf(sheet: Sheet, fields: Fields, wish: Omit<SpreadWish, 'from' | 'to'>): unknown {
  const { seed, count } = wish;
  const figures = gathered([new Makes().part(sheet, { ...wish, from: 0, to: count }, fields)]);
  const { frequencies, own, between, nominal } = figures;
  const range = (values: Float64Array): unknown => {
    const [low, middle, high] = nineInTen(values).map(short);
    return { low, middle, high };
  };
  const bands = [figures.other, figures.sheet].map((side) =>
    [...frequencies].map((f, i) =>
      [f, side!.band.low[i]!, side!.band.high[i]!, side!.band.nominal[i]!].map(short),
    ),
  );
  return {
    ...{ seed, makes: count, own: range(own), between: range(between!), nominal: short(nominal!) },
    ...{ lessThanOwn: lessThanOwn(figures), bands },
  };
}
