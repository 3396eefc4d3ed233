/** The field at the strings' height as contour lines, px, with their figures in mT. */
import { contours, refined, type ScalarGrid } from '../../plot/contour.ts';
import { contourLabels } from '../../plot/contourLabels.ts';
import { linePath } from '../../plot/path.ts';
import { niceStep } from '../../plot/scale.ts';
import type { PlanPicture } from '../../state/picture.svelte.ts';
import { toScreen, type Place, type PlanView } from './view.ts';

export interface Level {
  /** T */
  readonly value: number;
  readonly path: string;
  /** Its closed parts, to be filled even-odd. */
  readonly area: string;
  /** px of line; every other level is dashed. */
  readonly weight: number;
  readonly dashed: boolean;
  readonly label: { readonly text: string; readonly at: Place } | null;
}

export interface FieldMap {
  readonly levels: readonly Level[];
  /** Largest value and where it is, T and m. */
  readonly most: number;
  readonly at: Place;
  /** For the ear. */
  readonly words: string;
}

/** About as many lines as can be told apart and labelled. */
const LEVELS = 7;
/** Lattice steps between the lines' own points: a third of a millimetre. */
const FINER = 3;

/** @param besides where else no figure may stand, px */
export function fieldMap(plan: PlanPicture, view: PlanView, besides: readonly Place[] = []): FieldMap {
  const grid: ScalarGrid = { ...plan, dx: plan.step, dy: plan.step };
  const fine = refined(grid, FINER);
  let top = 0;
  for (let k = 1; k < plan.values.length; k++) if (plan.values[k]! > plan.values[top]!) top = k;
  const most = plan.values[top]!;
  const at = {
    x: plan.x0 + (top % plan.nx) * plan.step,
    y: plan.y0 + Math.floor(top / plan.nx) * plan.step,
  };
  const step = most > 0 ? niceStep(most, LEVELS) : 1;
  const count = Math.ceil(most / step) - 1;
  const values = Array.from({ length: Math.max(0, count) }, (_, k) => (k + 1) * step);
  const lines = values.map((value) =>
    contours(fine, value).map((line) => ({ ...line, xy: onScreen(line.points, view) })),
  );
  const labels = contourLabels({
    lines: lines.map((parts) => parts.flatMap(({ xy }) => [...xy.x].flatMap((x, i) => [x, xy.y[i]!]))),
    obstacles: [...obstacles(view), ...besides],
    clear: 13,
    apart: 30,
    width: view.width,
    height: view.height,
  });
  const levels = values.map((value, k): Level => {
    const parts = lines[k]!;
    const place = labels[k];
    return {
      value,
      path: parts.map(({ xy }) => linePath(xy.x, xy.y, { digits: 1 })).join(''),
      area: parts
        .filter(({ closed }) => closed)
        .map(({ xy }) => `${linePath(xy.x, xy.y, { digits: 1 })}Z`)
        .join(''),
      weight: 0.7 + (0.9 * (k + 1)) / Math.max(1, count),
      dashed: k % 2 === 1,
      label: place ? { text: figure(value), at: place } : null,
    };
  });
  return { levels, most, at, words: describe(most, at, levels) };
}

function onScreen(points: Float64Array, view: PlanView): { x: Float64Array; y: Float64Array } {
  const n = points.length / 2;
  const x = new Float64Array(n);
  const y = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const p = toScreen(view, { x: points[2 * i]!, y: points[2 * i + 1]! });
    x[i] = p.x;
    y[i] = p.y;
  }
  return { x, y };
}

/** Poles' middles and the strings, as points. */
function obstacles(view: PlanView): readonly Place[] {
  const { scale } = view;
  const poles = view.poles.flatMap((p) => {
    const { x, y } = toScreen(view, { x: -p.x / scale, y: -p.y / scale });
    return [-6, 6].flatMap((dx) => [-6, 6].map((dy) => ({ x: x + dx, y: y + dy })));
  });
  const strings = view.strings.flatMap(({ nut, saddle }) =>
    Array.from({ length: Math.ceil(view.width / 8) }, (_, i) => ({
      x: 8 * i,
      y: nut + ((saddle - nut) * 8 * i) / view.width,
    })),
  );
  return [...poles, ...strings];
}

/** «7.5» in mT. */
const figure = (tesla: number): string => String(Number((1e3 * tesla).toPrecision(3)));

function describe(most: number, at: Place, levels: readonly Level[]): string {
  const mm = (metres: number): string => (1e3 * metres).toFixed(0).replace('-', '−');
  const lines = levels.map(({ value }) => figure(value)).join(', ');
  return (
    `Field strength at the strings over the pickup: at most ${figure(most)} millitesla, ` +
    `${mm(at.x)} mm along and ${mm(at.y)} mm across from the centre. Contour lines at ${lines} millitesla.`
  );
}
