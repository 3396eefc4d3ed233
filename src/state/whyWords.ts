/** What followed from a change and why, as a sentence put together from figures. Pure. */
import {
  effectsOf,
  changeOf,
  type Effect,
  type EffectName,
  type WhyAnswer,
  type WhyFigures,
} from './whyEffects.ts';

import { oppositeWords } from './widthWords.ts';

/** So much is said: more would not be read. */
const MOST_SAID = 4;
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
  const { causes } = answer;
  if (causes.length === 0) return '';
  const effects = effectsOf(answer).slice(0, MOST_SAID);
  if (effects.length === 0)
    return sentence(`${named(of)}${listed(causes.map(({ words }) => words))}: ${SAME}`);
  const order = [...new Set(effects.map(({ cause }) => cause))];
  const said = order.map((cause) =>
    aboutCause(
      answer,
      cause,
      effects.filter((effect) => effect.cause === cause),
    ),
  );
  const opposite = oppositeWords(answer.before, answer.after);
  return [`${said.map((words, i) => sentence(i === 0 ? named(of) + words : words)).join('. ')}.`, opposite]
    .filter(Boolean)
    .join(' ');
}

const named = (of: string): string => (of === '' ? '' : `${of}: `);

const SAME = 'level, resonance, pull and reach stay as they were.';

function aboutCause(answer: WhyAnswer, cause: number | null, effects: readonly Effect[]): string {
  const { causes, before, after } = answer;
  const what = cause === null ? null : causes[cause]!;
  const name = what?.words ?? `${listed(causes.map(({ words }) => words))} together`;
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
const listed = (words: readonly string[]): string =>
  words.length < 2 ? (words[0] ?? '') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;
