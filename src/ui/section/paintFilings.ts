import type { Filings } from '../../plot/filings.ts';

/** Of the weight classes, thinnest first: px of line, and share of the ink. */
const LINES = [0.7, 0.76, 0.82, 0.9, 0.98, 1.08];
const INKS = [0.2, 0.24, 0.28, 0.33, 0.39, 0.45];

/** Filings in one colour, as they lie in every section. */
export function paintFilings(
  context: CanvasRenderingContext2D,
  { strokes, ends }: Filings,
  colour: string,
): void {
  context.lineCap = 'round';
  context.strokeStyle = colour;
  let at = 0;
  ends.forEach((end, k) => {
    context.lineWidth = LINES[k]!;
    context.globalAlpha = INKS[k]!;
    context.beginPath();
    for (; at < end; at++) {
      const s = 6 * at;
      context.moveTo(strokes[s]!, strokes[s + 1]!);
      context.quadraticCurveTo(strokes[s + 2]!, strokes[s + 3]!, strokes[s + 4]!, strokes[s + 5]!);
    }
    context.stroke();
  });
}
