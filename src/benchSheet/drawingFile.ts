/** The bench sheet's drawings as files of their own: SVG in millimetres of paper, and the pens with which a canvas draws the same. */
import type { Sheet } from '../sheet/sheet.ts';
import { LETTER, type Drawing, type Look, type Mark } from './page.ts';
import { sectionDrawing } from './section.ts';

/** How a look is drawn on white paper; widths and dashes in mm, as page.css has them. */
export interface Pen {
  readonly fill: string | null;
  /** 0: no line. */
  readonly width: number;
  readonly dash: readonly number[];
}

export const INK = '#000';
export const PAPER = '#fff';
export const FONT = 'Barlow, Liberation Sans, Arial, sans-serif';

const line = (width: number, fill: string | null = null, dash: readonly number[] = []): Pen => ({
  fill,
  width,
  dash,
});

export const PENS: Readonly<Record<Look, Pen>> = {
  outline: line(0.3),
  thin: line(0.15),
  centre: line(0.13, null, [3, 0.6, 0.6, 0.6]),
  arrow: line(0, INK),
  solid: line(0, INK),
  metal: line(0.3, '#e6e6e6'),
  copper: line(0.15),
};

/** What is drawn of a sheet, and what the file's name ends with but for its kind. */
export interface NamedDrawing {
  readonly suffix: string;
  readonly drawing: Drawing;
}

/** The section of every pickup that sounds and has a build, along the string that is looked at. */
export const sections = ({ pickups, listen, ...sheet }: Sheet): NamedDrawing[] =>
  pickups.flatMap((pickup, i) =>
    pickup.sounds && pickup.build
      ? [
          {
            suffix: `pickup-${i + 1}-section`,
            drawing: sectionDrawing({ ...sheet, pickups, listen }, pickup, pickup.build, listen.string),
          },
        ]
      : [],
  );

const ESCAPED: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' };
const plain = (words: string): string => words.replace(/[&<>"]/g, (letter) => ESCAPED[letter]!);

function markText(mark: Mark): string {
  if (mark.kind === 'text') {
    const { x, y, anchor, turned, text } = mark;
    const turn = turned ? ` transform="rotate(-90 ${x} ${y})"` : '';
    return `<text x="${x}" y="${y}" text-anchor="${anchor}"${turn}>${plain(text)}</text>`;
  }
  const { fill, width, dash } = PENS[mark.look];
  const stroke = width > 0 ? ` stroke="${INK}" stroke-width="${width}"` : '';
  const dashed = dash.length > 0 ? ` stroke-dasharray="${dash.join(' ')}"` : '';
  return `<path d="${mark.d}" fill="${fill ?? 'none'}"${stroke}${dashed}/>`;
}

/** Numbers as a drawing has them, to a hundredth of a millimetre: the same from every machine. */
const hundredths = (mark: Mark): Mark =>
  mark.kind === 'text' ? { ...mark, x: round(mark.x), y: round(mark.y) } : mark;

const round = (mm: number): number => Number(mm.toFixed(2));

/** A document of its own, as large as on the bench sheet. */
export function drawingSvg({ width, height, marks, says }: Drawing, title: string): string {
  const [w, h] = [round(width), round(height)];
  return [
    '<?xml version="1.0" encoding="UTF-8"?>',
    `<svg xmlns="http://www.w3.org/2000/svg" width="${w}mm" height="${h}mm" viewBox="0 0 ${w} ${h}" font-family="${FONT}" font-size="${LETTER}">`,
    `<title>${plain(`${title}: ${says}`)}</title>`,
    `<rect width="${w}" height="${h}" fill="${PAPER}"/>`,
    ...marks.map((mark) => markText(hundredths(mark))),
    '</svg>',
    '',
  ].join('\n');
}
