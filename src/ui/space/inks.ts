/** The colours of the paper as the drawing in space has them, read from its legend. */
import type { Pen } from '../../plot/space/strokes.ts';
import type { Ink, Inks } from './inkRenderer.ts';

/** px. */
const WIDTHS: Readonly<Record<Pen, number>> = { flux: 1.1, outline: 1.6, string: 1.2, thin: 1.1, chain: 0.9 };

/** «rgb(28, 37, 48)», as browsers say a colour that was computed. */
export function inkOf(colour: string): Ink {
  const [r = 0, g = 0, b = 0] = (/\(([^)]*)\)/.exec(colour)?.[1] ?? '').split(/[\s,/]+/).map(Number);
  return [r / 255, g / 255, b / 255];
}

/** @param legend has an element of every pen's class */
export function inksOf(legend: HTMLElement): Inks {
  const pen = (name: Pen) => {
    const sample = legend.querySelector(`.${name}`) ?? legend;
    return { ink: inkOf(getComputedStyle(sample).color), width: WIDTHS[name] };
  };
  return {
    paper: inkOf(getComputedStyle(document.documentElement).backgroundColor),
    pens: {
      flux: pen('flux'),
      outline: pen('outline'),
      string: pen('string'),
      thin: pen('thin'),
      chain: pen('chain'),
    },
  };
}
