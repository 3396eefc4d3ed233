/** Steps ranked by what they do to one figure, as bars with signs. Pure. */
import type { Mattering } from './matters.svelte.ts';

/** By what they may be ranked, as it is chosen. */
export const MEASURES = ['what is heard', 'level', 'resonance', 'balance', 'pull'] as const;
export type Measure = (typeof MEASURES)[number];

export interface MattersRow {
  readonly mattering: Mattering;
  /** «turns +2 %». */
  readonly name: string;
  /** From −1 to 1: of the largest. */
  readonly size: number;
  /** «+0.3 dB, around 4.1 kHz». */
  readonly text: string;
}

const signed = (value: number, digits: number, unit: string): string => {
  const text = Math.abs(value).toFixed(digits);
  return `${Number(text) === 0 ? '' : value < 0 ? '−' : '+'}${text} ${unit}`;
};
const hertz = (f: number): string => (f >= 999.5 ? `${(f / 1000).toPrecision(2)} kHz` : `${f.toFixed(0)} Hz`);

function valueOf({ effect }: Mattering, measure: Measure): number | null {
  if (measure === 'what is heard') return effect.pattern;
  if (measure === 'balance') return effect.balance;
  return effect[measure];
}

function textOf({ effect }: Mattering, measure: Measure, value: number): string {
  switch (measure) {
    case 'what is heard':
      return `${signed(value, 1, 'dB')}, ${hertz(effect.at)}`;
    case 'level':
      return signed(value, 2, 'dB');
    case 'resonance':
      return signed(100 * value, 2, '%');
    case 'balance':
      return `${signed(value, 2, 'dB')}, string ${effect.string}`;
    case 'pull':
      return signed(value, 2, 'cents');
  }
}

/** The largest first; steps that have no such figure are left out. */
export function mattersRows(all: readonly Mattering[], measure: Measure): readonly MattersRow[] {
  const found = all.flatMap((mattering) => {
    const value = valueOf(mattering, measure);
    return value === null ? [] : [{ mattering, value }];
  });
  const most = Math.max(Number.MIN_VALUE, ...found.map(({ value }) => Math.abs(value)));
  return found
    .toSorted((a, b) => Math.abs(b.value) - Math.abs(a.value))
    .map(({ mattering, value }) => ({
      mattering,
      name: `${mattering.step.name} ${mattering.way === 'up' ? '+' : '−'}${mattering.step.by}`,
      size: value / most,
      text: textOf(mattering, measure, value),
    }));
}
