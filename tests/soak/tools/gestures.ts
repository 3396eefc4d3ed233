/** What random hands do at the sheet, as plain data: a list of gestures can be printed, cut short and done again. */
import type { Random } from './random.ts';

/** The n-th of what bears that name, from 0. */
export interface Target {
  readonly name: string;
  readonly nth: number;
}

export type Gesture =
  | {
      readonly do: 'keys';
      readonly on: Target;
      readonly keys: readonly string[];
      readonly shift: boolean;
      /** 'held': the key is not let go before the next gesture comes. */
      readonly end: 'up' | 'blur' | 'Escape' | 'held';
    }
  | {
      readonly do: 'drag';
      readonly on: Target;
      /** px, one after another. */
      readonly by: readonly (readonly [number, number])[];
      readonly shift: boolean;
      /** 'out': lets go outside the window; 'away': another window comes before this one. */
      readonly end: 'up' | 'Escape' | 'out' | 'away';
    }
  | {
      readonly do: 'type';
      readonly on: Target;
      /** «…» stands for what was there. */
      readonly text: string;
      readonly end: 'Enter' | 'blur' | 'Escape' | 'left';
    }
  | { readonly do: 'choose'; readonly on: Target; readonly option: number }
  | { readonly do: 'press'; readonly on: Target }
  | { readonly do: 'key'; readonly key: string; readonly ctrl: boolean; readonly shift: boolean }
  | { readonly do: 'size'; readonly width: number; readonly height: number }
  | { readonly do: 'scroll'; readonly share: number }
  | { readonly do: 'link'; readonly fragment: string }
  | { readonly do: 'wait'; readonly ms: number };

/** What is on the page and can be used just now. */
export interface Inventory {
  readonly sliders: readonly Target[];
  readonly fields: readonly Target[];
  readonly selects: readonly (Target & { readonly options: number })[];
  readonly presses: readonly Target[];
  /** Whether a dialog stands before all else. */
  readonly modal: boolean;
}

const KEYS = [
  'ArrowUp',
  'ArrowDown',
  'ArrowLeft',
  'ArrowRight',
  'PageUp',
  'PageDown',
  'Home',
  'End',
  'Home',
  'End',
];

/** Read or refused, with and without units, of this and of another kind. */
const TEXTS = [
  ...['0', '1', '2', '3.5', '7', '12', '45', '99', '-1', '-3.2', '0.001', '250', '8000', '1e9', '1e-9'],
  ...['1 mm', '3 mm', '4.75 mm + 0.2 mm', '3/16 in', '-2 mm', '7.2 k', '500 kohm', '470 pF', '22 nF', '4 m'],
  ...[
    '60 %',
    '5°',
    '-10 deg',
    '3 cents',
    '110 bpm',
    '1/0',
    '(1',
    '2 +',
    'abc',
    'NaN',
    'Infinity',
    '1,5',
    '٣',
  ],
  ...['', ' ', '… * 1.1', '… * 0.9', '… + 1', '…', '<b>1</b>', '1 mm mm', '5 furlongs', '🎸'],
];

const SIZES = [
  [1440, 900],
  [900, 1000],
  [390, 844],
  [2400, 1300],
  [320, 500],
] as const;

const SHORTCUTS = ['z', 'z', 'y', 'Z'] as const;
const SINGLE = [' ', '1', '2', '3', 'a', 'b', 'Escape', 'p', 'q', 'x', 'ArrowLeft', 'ArrowRight'] as const;

/** Distances of a drag: short ones, and some far beyond every limit. */
const way = (random: Random): number =>
  Math.round((random.next() - 0.5) * random.of([4, 30, 30, 120, 120, 700]));

/** @param links fragments of documents that may be opened */
export function anyGesture(there: Inventory, links: readonly string[], random: Random): Gesture {
  const { sliders, fields, selects, presses, modal } = there;
  const kind = random.below(100);
  const several = 1 + random.below(4);
  if (kind < 34 && sliders.length > 0)
    return {
      do: 'keys',
      on: random.of(sliders),
      keys: Array.from({ length: several }, () => random.of(KEYS)),
      shift: random.once(4),
      end: random.of(['up', 'up', 'up', 'up', 'blur', 'Escape', 'held']),
    };
  if (kind < 52 && sliders.length > 0 && !modal)
    return {
      do: 'drag',
      on: random.of(sliders),
      by: Array.from({ length: several }, () => [way(random), way(random)] as const),
      shift: random.once(5),
      end: random.of(['up', 'up', 'up', 'Escape', 'out', 'away']),
    };
  if (kind < 70 && fields.length > 0)
    return {
      do: 'type',
      on: random.of(fields),
      text: random.of(TEXTS),
      end: random.of(['Enter', 'Enter', 'Enter', 'blur', 'blur', 'Escape', 'left']),
    };
  if (kind < 82 && selects.length > 0) {
    const { options, ...on } = random.of(selects);
    return { do: 'choose', on, option: random.below(options) };
  }
  if (kind < 92 && presses.length > 0) return { do: 'press', on: random.of(presses) };
  if (kind < 96) {
    const single = random.once(2);
    return {
      do: 'key',
      key: random.of(single ? SINGLE : SHORTCUTS),
      ctrl: !single,
      shift: random.once(3),
    };
  }
  if (kind < 97) return { do: 'scroll', share: random.next() };
  if (kind < 98 && random.once(2)) {
    const [width, height] = random.of(SIZES);
    return { do: 'size', width, height };
  }
  if (kind < 99 && links.length > 0 && random.once(2)) return { do: 'link', fragment: random.of(links) };
  return { do: 'wait', ms: random.of([0, 20, 60, 350]) };
}

const words = ({ name, nth }: Target): string => `«${name}»${nth > 0 ? ` (${nth + 1})` : ''}`;

/** One line for a person. */
export function inWords(gesture: Gesture): string {
  const { do: what, ...rest } = gesture;
  if (!('on' in rest))
    return `${what} ${JSON.stringify({ ...rest, ...('fragment' in rest && { fragment: '…' }) })}`;
  const { on, ...how } = rest;
  return `${what} ${words(on)} ${Object.keys(how).length > 0 ? JSON.stringify(how) : ''}`.trim();
}
