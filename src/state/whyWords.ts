/** What followed from a change and why, as a sentence put together from figures. Pure. */
import {
  effectsOf,
  changeOf,
  type Effect,
  type EffectName,
  type WhyAnswer,
  type WhyFigures,
} from './whyEffects.ts';

import { oppositeInShort, oppositeWords } from './widthWords.ts';

export { pickupOf } from '../sheet/causes.ts';

/** So much is said: more would not be read. */
const MOST_SAID = 4;
/** Letters for which there is room on every page: on a telephone seven lines. */
export const MOST_LETTERS = 340;
/** Of causes that come together so many are named. */
const MOST_NAMED = 3;
/** From here on a cause is said to have done all of it. */
const NEARLY_ALL = 0.95;
/** A figure on the way is named where it accounts for so much of what follows, and has changed by so much itself. */
const ACCOUNTS = 0.5;
const CHANGED = 0.02;

/**
 * «Gap 2.0 → 3.2 mm: level −3.2 dB (24.1 mT at the string instead of 35.2), pull −3.1 → −1.2 cents.» Causes after one
 * another, the one with the largest effect first; empty where nothing differs.
 * @param of the pickup that was changed, where there are others
 */
export function whyWords(answer: WhyAnswer, of = ''): string {
  if (answer.causes.length === 0) return '';
  const { before, after } = answer;
  const effects = effectsOf(answer).slice(0, MOST_SAID);
  const short = oppositeInShort(before, after);
  const opposites = [oppositeWords(before, after), short && `${sentence(short)}.`];
  let words = '';
  // As much as there is room for: of the effects the smallest are left out first.
  for (const most of [MOST_NAMED, 1])
    for (let count = effects.length; count >= Math.min(1, effects.length); count--)
      for (const opposite of opposites) {
        words = [aboutCauses(answer, of, effects.slice(0, count), most), opposite].filter(Boolean).join(' ');
        if (words.length <= MOST_LETTERS) return words;
      }
  return words;
}

/** Without the sentence on widths that go opposite ways. @param most causes that are named where they come together */
function aboutCauses(answer: WhyAnswer, of: string, effects: readonly Effect[], most: number): string {
  const all = listed(
    answer.causes.map(({ words }) => words),
    most,
  );
  if (effects.length === 0) return sentence(`${named(of)}${all}: ${unmoved(answer)}`);
  const order = [...new Set(effects.map(({ cause }) => cause))];
  const said = order.map((cause) =>
    aboutCause(
      answer,
      cause,
      effects.filter((effect) => effect.cause === cause),
      all,
    ),
  );
  return `${said.map((words, i) => sentence(i === 0 ? named(of) + words : words)).join('. ')}.`;
}

const named = (of: string): string => (of === '' ? '' : `${of}: `);

/** Without a coil there is no level. */
function unmoved({ before, after }: WhyAnswer): string {
  if (after.level === null)
    return `${before.level === null ? '' : 'nothing is heard of it; '}field and pull stay as they were.`;
  return before.level === null
    ? 'it is heard; field and pull stay as they were.'
    : 'level, resonance, pull and reach stay as they were.';
}

function aboutCause(
  { causes, before, after }: WhyAnswer,
  cause: number | null,
  effects: readonly Effect[],
  all: string,
): string {
  const what = cause === null ? null : causes[cause]!;
  const name = what?.words ?? `${all} together`;
  const ways = effects.map((effect) => wayOf(effect.name, what?.without ?? before, after));
  const said = effects.map((effect, i) => {
    // The field stands behind level and pull alike, and is said once.
    const way = ways.indexOf(ways[i]!) === i ? ways[i]! : '';
    const share =
      cause === null || effect.share >= NEARLY_ALL ? '' : `${Math.round(100 * effect.share)} % of it`;
    const more = [share, way].filter(Boolean).join('; ');
    return `${WORDS[effect.name](effect.from, effect.to)}${more && ` (${more})`}`;
  });
  return `${name}: ${said.join(', ')}`;
}

/** What an effect comes by: «23.5 mT at the string instead of 28.1»; empty where that does not account for it. */
function wayOf(name: EffectName, without: WhyFigures, after: WhyFigures): string {
  const change = changeOf(name, without, after);
  const field = ratio(without.field, after.field);
  const inductance = ratio(without.inductance, after.inductance);
  const loss = ratio(without.coreLoss, after.coreLoss);
  switch (name) {
    case 'level':
      return field !== null && accounts(20 * Math.log10(field), change) ? fieldWords(without, after) : '';
    case 'pull':
      return field === null ? '' : fieldWords(without, after);
    case 'resonance':
      return inductance !== null && accounts(-0.5 * Math.log2(inductance), change)
        ? `${percent(inductance)} inductance`
        : '';
    case 'height':
      return loss !== null && change !== null && Math.sign(loss - 1) === Math.sign(change)
        ? `${loss < 1 ? 'more' : 'less'} loss in the metal`
        : '';
    case 'reach':
      return '';
  }
}

const fieldWords = (without: WhyFigures, after: WhyFigures): string =>
  `${tesla(after.field!)} mT at the string instead of ${tesla(without.field!)}`;

/** to / from; null where one is missing, or hardly anything has changed. */
function ratio(from: number | null, to: number | null): number | null {
  if (from === null || to === null || from <= 0 || to < 0) return null;
  return Math.abs(to / from - 1) < CHANGED ? null : to / from;
}

const accounts = (part: number, whole: number | null): boolean =>
  whole !== null && part * Math.sign(whole) >= ACCOUNTS * Math.abs(whole);

const WORDS: Readonly<Record<EffectName, (from: number, to: number) => string>> = {
  level: (from, to) => `level ${signed(to - from, 1)} dB`,
  resonance: (from, to) => `resonance ${to > from ? 'rises' : 'falls'} ${hertz(from, to)}`,
  height: (from, to) => `its peak ${signed(to - from, 1)} dB`,
  pull: (from, to) => `pull ${minus(from.toFixed(1))} → ${minus(to.toFixed(1))} cents`,
  reach: (from, to) => `reach ${(1e3 * from).toFixed(1)} → ${(1e3 * to).toFixed(1)} mm`,
};

/** «from 4.12 to 2.81 kHz». */
function hertz(from: number, to: number): string {
  const kilo = Math.min(from, to) >= 999.5;
  const show = (f: number): string => (kilo ? (f / 1e3).toFixed(2) : f.toFixed(0));
  return `from ${show(from)} to ${show(to)} ${kilo ? 'kHz' : 'Hz'}`;
}

const percent = (r: number): string => `${Math.round(100 * Math.abs(r - 1))} % ${r > 1 ? 'more' : 'less'}`;
const tesla = (b: number): string => (b < 1e-5 ? '0' : (1e3 * b).toPrecision(3));
const minus = (text: string): string => (/[1-9]/.test(text) ? text.replace('-', '−') : text.replace('-', ''));
const signed = (value: number, decimals: number): string =>
  `${value < 0 ? '−' : '+'}${Math.abs(value).toFixed(decimals)}`;
const sentence = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** «a, b and c»; «a, b, c and 2 more». */
function listed(words: readonly string[], most: number): string {
  const shown = words.length > most ? [...words.slice(0, most), `${words.length - most} more`] : words;
  return shown.length < 2 ? (shown[0] ?? '') : `${shown.slice(0, -1).join(', ')} and ${shown.at(-1)}`;
}
