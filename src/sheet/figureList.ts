/** Several figures in one field: «AWG 42, AWG 43», «4.5 mm; 4.85 mm». */
import { FIGURES, type FigureKey } from './figures.ts';
import { formatFigure } from './format.ts';
import { readFigure } from './reading.ts';
import { gaugeOf } from './wireGauge.ts';

/** Values in SI, each once, or a sentence. */
export type ListReading =
  | { readonly ok: true; readonly values: readonly number[] }
  | { readonly ok: false; readonly message: string };

/** Wire by its gauge where it is one, as it is asked for in a shop. */
export const formatList = (values: readonly number[], key: FigureKey): string =>
  values
    .map((value) => {
      const gauge = FIGURES[key].unit === 'wire' ? gaugeOf(value) : null;
      return gauge === null ? formatFigure(value, key) : `AWG ${gauge}`;
    })
    .join(', ');

/** A comma between figures is followed by a space, one within a figure is not. @param what begins a sentence */
export async function readList(
  text: string,
  key: FigureKey,
  what: string,
  most: number,
): Promise<ListReading> {
  const parts = text
    .split(/;|,\s|\band\b/)
    .map((part) => part.trim().replace(/,$/, ''))
    .filter((part) => part !== '');
  if (parts.length === 0) return { ok: false, message: `${what} must name at least one; got none.` };
  if (parts.length > most)
    return { ok: false, message: `${what} must name at most ${most}; got ${parts.length}.` };
  const values = new Set<number>();
  for (const part of parts) {
    // A whole number where wire is meant is a gauge: no coil is wound of wire that many millimetres thick.
    const typed = FIGURES[key].unit === 'wire' && /^\d\d$/.test(part) ? `AWG ${part}` : part;
    const read = await readFigure(typed, key);
    if (!read.ok) return read;
    values.add(read.value);
  }
  return { ok: true, values: [...values] };
}
