/** A drawing as a picture of dots: no browser makes one of an SVG under a strict policy, so a canvas draws the same marks. */
import { FONT, INK, PAPER, PENS } from '../benchSheet/drawingFile.ts';
import { LETTER, type Drawing, type Mark } from '../benchSheet/page.ts';

/** Dots a millimetre: 305 to the inch, as for print. */
const FINE = 12;

function put(context: CanvasRenderingContext2D, mark: Mark): void {
  if (mark.kind === 'text') {
    context.save();
    context.translate(mark.x, mark.y);
    if (mark.turned) context.rotate(-Math.PI / 2);
    context.textAlign = mark.anchor === 'middle' ? 'center' : mark.anchor;
    context.fillStyle = INK;
    context.fillText(mark.text, 0, 0);
    context.restore();
    return;
  }
  const { fill, width, dash } = PENS[mark.look];
  const path = new Path2D(mark.d);
  if (fill !== null) {
    context.fillStyle = fill;
    context.fill(path);
  }
  if (width === 0) return;
  context.lineWidth = width;
  context.setLineDash([...dash]);
  context.stroke(path);
}

/** @throws Error when the browser makes no picture of it */
export async function drawingPng({ width, height, marks }: Drawing): Promise<Uint8Array> {
  const canvas = document.createElement('canvas');
  canvas.width = Math.round(FINE * width);
  canvas.height = Math.round(FINE * height);
  const context = canvas.getContext('2d');
  if (!context) throw new Error('A canvas must have a context.');
  context.scale(FINE, FINE);
  context.fillStyle = PAPER;
  context.fillRect(0, 0, width, height);
  context.strokeStyle = INK;
  context.font = `${LETTER}px ${FONT}`;
  for (const mark of marks) put(context, mark);
  const blob = await new Promise<Blob | null>((resolve) => canvas.toBlob(resolve, 'image/png'));
  if (!blob) throw new Error('A canvas must give its picture.');
  return new Uint8Array(await blob.arrayBuffer());
}
