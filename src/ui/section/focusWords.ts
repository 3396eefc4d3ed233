/** What is said while the focus is held: what moves, what that costs, and why it goes no further. Pure. */
import { leverRange, type Lever } from '../../sheet/focusLever.ts';
import type { PickupBuild } from '../../sheet/sheet.ts';
import { formatFigure } from '../../sheet/units.ts';
import type { FocusTrack } from '../../state/focusTracks.svelte.ts';
import type { Prediction } from '../../state/types.ts';

const TIPS = { flat: 'chamfer', chamfered: 'chamfer', coned: 'cone', domed: 'dome' } as const;

/** «gap», «chamfer», «diameter»: what the lever is called on this row. */
export const leverName = (build: PickupBuild, row: number, lever: Lever): string =>
  lever === 'tip' ? TIPS[build.rows[row]?.pole.tip.shape ?? 'flat'] : lever;

const FIGURE = { gap: 'gap', tip: 'tipSize', diameter: 'poleDiameter' } as const;

/** Millimetres to the hundredth at most. */
const bare = (value: number): string => String(Number((1e3 * value).toFixed(2)));

/** «gap 4.2 → 3.4 mm»; a gap that differs: «gap 4.2 → 3.4 mm bass side, 2.6 → 1.8 mm treble side». */
export function movedWords(before: PickupBuild, now: PickupBuild, row: number, lever: Lever): string {
  const way = (from: number, to: number): string =>
    `${bare(from) === bare(to) ? '' : `${bare(from)} → `}${bare(to)} mm`;
  const name = leverName(now, row, lever);
  if (lever !== 'gap' || now.gapBass === now.gapTreble) {
    const [from, to] = [before, now].map((build) => leverRange(build, row, lever)?.value ?? 0);
    return `${name} ${way(from!, to!)}`;
  }
  return `${name} ${way(before.gapBass, now.gapBass)} bass side, ${way(before.gapTreble, now.gapTreble)} treble side`;
}

export interface Cost {
  /** «6 E2 pulled 3.1 cents flat, +2.4 dB»; empty while the figures are on their way. */
  readonly words: string;
  /** Whether the worst string is pulled further than is allowed. */
  readonly over: boolean;
}

/**
 * The open string whose pitch the pickup shifts furthest: which, from 1, and by how many cents, below zero flat; null
 * where none is known to be shifted.
 */
export function worstPull(
  prediction: Prediction | null,
  pickup: number,
): { readonly string: number; readonly cents: number } | null {
  let worst = 0;
  let which = -1;
  (prediction?.pickups[pickup]?.strings ?? []).forEach(({ field }, i) => {
    for (const cents of [field?.centsTowards ?? 0, field?.centsAcross ?? 0])
      if (Math.abs(cents) > Math.abs(worst)) [worst, which] = [cents, i];
  });
  return which < 0 ? null : { string: which + 1, cents: worst };
}

/**
 * What the pickup does to the worst open string, and the change of the chosen string's level.
 * @param string from 1
 * @param most cents that are allowed
 */
export function costOf(
  before: Prediction | null,
  now: Prediction | null,
  pickup: number,
  string: number,
  most: number,
): Cost {
  const worst = worstPull(now, pickup);
  if (!now || !worst) return { words: '', over: false };
  const { cents } = worst;
  const over = Math.abs(cents) > most;
  const name = now.openStrings[worst.string - 1];
  const pull = `${name ? `${name.string} ${name.name}` : String(worst.string)} ${pulledWords(cents)}`;
  const limit = over ? `, more than ${formatFigure(most, 'detuning')}` : '';
  const [from, to] = [before, now].map((p) => Math.abs(p?.pickups[pickup]?.strings[string - 1]?.level ?? 0));
  const level = from && to ? `, ${signed(20 * Math.log10(to / from))} dB` : '';
  return { words: pull + limit + level, over };
}

const pulledWords = (cents: number): string =>
  Number.isFinite(cents)
    ? `pulled ${Math.abs(cents).toFixed(1)} cents ${cents < 0 ? 'flat' : 'sharp'}`
    : 'held fast by the magnets';

const signed = (dB: number): string => {
  const text = dB.toFixed(1);
  return text === '-0.0' || text === '0.0' ? '±0' : text.replace('-', '−').replace(/^(?=\d)/, '+');
};

/** Why a track ends, in a few words. */
export function endWords({ narrow, wide, values }: FocusTrack, narrower: boolean, lever: Lever): string {
  const { why, message } = narrower ? narrow : wide;
  const value = values[narrower ? 0 : values.length - 1]!;
  const start = `No ${narrower ? 'narrower' : 'wider'} by the ${lever}`;
  if (why === 'refused') return `${start}: ${message}`;
  if (why === 'turns')
    return `${start}: past ${formatFigure(value, FIGURE[lever])} the reach grows ${narrower ? 'wider' : 'narrower'} again.`;
  return `${start}: ${LIMITS[lever][narrower ? 'narrower' : 'wider']}`;
}

const LIMITS: Readonly<Record<Lever, Readonly<Record<'narrower' | 'wider', string>>>> = {
  gap: {
    narrower: 'the poles are as near to the strings as they may come.',
    wider: 'the pickup sits as low as it can.',
  },
  tip: { narrower: 'the pole is flat.', wider: 'of its top hardly a land is left.' },
  diameter: { narrower: 'that is as far as its figure goes.', wider: 'that is as far as its figure goes.' },
};

/** Of a width that was typed and can't be had. */
export function shortWords(got: number, asked: number, lever: Lever, end: string): string {
  const [a, b] = [got, asked].map((width) => formatFigure(Math.round(width * 1e4) / 1e4, 'focus'));
  const side = asked < got ? 'narrow' : 'wide';
  return `${a} is as ${side} as the focus goes by the ${lever}; ${b} was asked for. ${end} Choose what else it is to move by, or set it by hand.`;
}
