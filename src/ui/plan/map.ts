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
  /** In the pickup's own frame, before it is turned, px. */
  readonly path: string;
  /** Its closed parts, to be filled even-odd. */
  readonly area: string;
  /** px of line; every other level is dashed. */
  readonly weight: number;
  readonly dashed: boolean;
  /** mT */
  readonly text: string;
  /** Points of its lines for a figure to stand on, pickup's frame, m. */
  readonly places: readonly Place[];
}

export interface FieldMap {
  readonly levels: readonly Level[];
  /** For the ear. */
  readonly words: string;
}

/** About as many lines as can be told apart and labelled. */
const LEVELS = 7;
/** Points between the plan's own: lines then have one every third of a millimetre. */
const FINER = 3;
/** Every so manieth point of a line may carry its figure. */
const EVERY = 6;

/** Numbers of an open line too short to be drawn, two centimetres of it. */
const STUB = 120;

/** @param scale px per metre */
export function fieldMap(plan: PlanPicture, scale: number): FieldMap {
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
  const count = Math.max(0, Math.ceil(most / step) - 1);
  const levels = Array.from({ length: count }, (_, k): Level => {
    const value = (k + 1) * step;
    // Stubs in the picture's corners say nothing.
    const lines = contours(fine, value).filter(({ points, closed }) => closed || points.length > STUB);
    const paths = lines.map(({ points }) => localPath(points, scale));
    return {
      value,
      path: paths.join(''),
      area: paths.flatMap((path, i) => (lines[i]!.closed ? [`${path}Z`] : [])).join(''),
      weight: 0.7 + (0.9 * (k + 1)) / count,
      dashed: k % 2 === 1,
      text: figure(value),
      places: lines.flatMap(({ points }) => sparse(points)),
    };
  });
  return { levels, words: describe(most, at, levels) };
}

function localPath(points: Float64Array, scale: number): string {
  const n = points.length / 2;
  const x = new Float64Array(n);
  const y = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    x[i] = -scale * points[2 * i]!;
    y[i] = -scale * points[2 * i + 1]!;
  }
  return linePath(x, y, { digits: 1 });
}

function sparse(points: Float64Array): Place[] {
  const found: Place[] = [];
  for (let k = 0; k < points.length; k += 2 * EVERY) found.push({ x: points[k]!, y: points[k + 1]! });
  return found;
}

export interface LevelLabel extends Place {
  readonly text: string;
}

export function levelLabels({ levels }: FieldMap, view: PlanView): readonly LevelLabel[] {
  const found = contourLabels({
    lines: levels.map(({ places }) =>
      places.flatMap((place) => {
        const { x, y } = toScreen(view, place);
        return [x, y];
      }),
    ),
    obstacles: [...obstacles(view), ...figures(view)],
    clear: 13,
    apart: 30,
    width: view.width,
    height: view.height,
  });
  return levels.flatMap(({ text }, k) => (found[k] ? [{ text, ...found[k] }] : []));
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
  const letters = view.blocks.flatMap((block) =>
    block.letters.map(({ x, y }) => toScreen(view, { x: -x / scale, y: -y / scale })),
  );
  return [...poles, ...letters, ...strings, ...rings(view)];
}

/** The rings that are dragged, with room about them. */
function rings(view: PlanView): readonly Place[] {
  const { slantAt, column, halfSpan, scale } = view;
  const pitch = toScreen(view, { x: -column / scale, y: -halfSpan / scale });
  return [slantAt, pitch].flatMap(({ x, y }) => [-10, 10].map((dx) => ({ x: x + dx, y })));
}

/** Where no other ring may stand: at those of slant and pitch, their figures, and the middles of poles. */
export const taken = (view: PlanView): readonly Place[] => [
  ...rings(view),
  ...figures(view),
  ...view.poles.map(({ x, y }) => toScreen(view, { x: -x / view.scale, y: -y / view.scale })),
];

/** Where the figures of slant and pitch stand. */
const figures = ({ slantAt, pitchAt }: PlanView): readonly Place[] =>
  [-8, 8].flatMap((dy) => [
    ...[0, 14, 28, 42, 56, 70].map((dx) => ({ x: slantAt.x + dx, y: slantAt.y + dy })),
    ...[-36, -24, -12, 0, 12, 24, 36].map((dx) => ({ x: pitchAt.x + dx, y: pitchAt.y + dy })),
  ]);

/** «7.5» in mT. */
const figure = (tesla: number): string => String(Number((1e3 * tesla).toPrecision(3)));

function describe(most: number, at: Place, levels: readonly Level[]): string {
  const mm = (metres: number): string => (1e3 * metres).toFixed(0).replace('-', '−');
  const lines = levels.map(({ text }) => text).join(', ');
  return (
    `Field strength at the strings over the pickup: at most ${figure(most)} millitesla, ` +
    `${mm(at.x)} mm along and ${mm(at.y)} mm across from the centre. Contour lines at ${lines} millitesla.`
  );
}
