/** What many makes of two trials come to, in counts and words. Pure. */
import { lessThanOwn, nineInTen, type SpreadFigures } from '../jobs/spreadFigures.ts';
import { heardWord } from './difference.ts';

export {
  gathered,
  lessThanOwn,
  quantile,
  USUAL_MAKES,
  USUAL_SEED,
  type Band,
  type SpreadFigures,
} from '../jobs/spreadFigures.ts';

/** How many lie in each of the steps from 0 up, and in the last all beyond. @param step dB */
export function counts(values: Float64Array, step: number, steps: number): readonly number[] {
  const all = Array.from({ length: steps }, () => 0);
  for (const value of values) {
    const i = Math.min(steps - 1, Math.floor(value / step));
    all[i] = all[i]! + 1;
  }
  return all;
}

/** «Two of your own differ by 3.4 dB … » @param here, there the letters of the sheet and the other */
export function spreadWords(figures: SpreadFigures, here: string, there: string): string {
  const { own, between, nominal } = figures;
  const db = (value: number): string => value.toFixed(1);
  const range = (values: Float64Array): string =>
    `${db(nineInTen(values)[0])} to ${db(nineInTen(values)[2])} dB`;
  const middle = nineInTen(own)[1];
  const mine = `Two of your own differ by ${db(middle)} dB, half of them by more (nine pairs in ten by ${range(own)}): ${heardWord(middle)}.`;
  if (nominal === null || !between) return mine;
  const beside = `${here} beside ${there}, as they are drawn, differs by ${db(nominal)} dB, and as you would make them by ${range(between)} in nine pairs of ten`;
  const verdict = lessThanOwn(figures)
    ? 'less than two of your own would differ'
    : 'more than two of your own would differ';
  return `${mine} ${beside}: ${verdict}.`;
}
