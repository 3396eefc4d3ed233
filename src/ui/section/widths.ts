/** How wide field and reach are on the chosen string. Pure. */
import type { Prediction, StringOutcome } from '../../state/types.ts';
import type { Widths } from '../../state/widthWords.ts';

/** «9.1 mm wide at the string, 6.0 over the tip»; of two rows both; empty without a build. */
export function fieldWords(field: StringOutcome['field']): string {
  if (!field) return '';
  const [string, tip] = [field.widths, field.tipWidths].map((widths) =>
    widths.map((width) => (1e3 * width).toFixed(1)).join(' · '),
  );
  return `${string} mm wide at the string, ${tip} over the tip`;
}

/** Of one row, m. @param string from 1 */
export function widthsOf(prediction: Prediction | null, pickup: number, string: number, row: number): Widths {
  const over = prediction?.pickups[pickup]?.strings[string - 1];
  return {
    reach: over?.widths[row] ?? null,
    fieldWidth: over?.field?.widths[row] ?? null,
    tipWidth: over?.field?.tipWidths[row] ?? null,
  };
}
