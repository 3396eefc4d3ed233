/** Two sections or plans and their difference as they stand on the sheet, px: one scale for all three. */
import { signedLevels, type AlongLine } from '../../plot/besides.ts';
import { contours, refined, type ScalarGrid } from '../../plot/contour.ts';
import { contourLabels } from '../../plot/contourLabels.ts';
import type { ToScreen } from '../../plot/filings.ts';
import { linePath } from '../../plot/path.ts';
import { linearScale, linearTicks, niceStep, type Scale, type Tick } from '../../plot/scale.ts';
import type { Lattice } from '../../shape/lattice.ts';
import { pickupParts } from '../../shape/parts.ts';
import { topDiameter } from '../../shape/pole.ts';
import { polesStanding } from '../../shape/poleRow.ts';
import { poleUnder } from '../../shape/singlePole.ts';
import type { Pickup } from '../../sheet/sheet.ts';
import type { SideSeen } from '../../state/besides.svelte.ts';
import type { PlanPicture } from '../../state/picture.svelte.ts';
import { NOTHING, type DifferenceRow } from '../../state/difference.ts';

/** Below this width the sections stand one below the other. */
const ROOM = 460;
const APART = 16;

export interface CutView {
  readonly width: number;
  readonly height: number;
  readonly screen: ToScreen;
}

/** Of one section in a room of this width; the nut is on the left. */
export const cutView = (lattice: Lattice, room: number): CutView =>
  fitted(lattice, room, room >= ROOM ? 2 : 1);

/** Of one plan, the treble side on top: three beside one another, or two where there is less room. */
export const planView = ({ x0, y0, dx, nx, ny }: Omit<ScalarGrid, 'values'>, room: number): CutView =>
  fitted({ u0: x0, v0: y0, step: dx, nu: nx, nv: ny }, room, room >= ROOM ? 3 : 2);

/** Of so many beside one another. */
function fitted({ u0, v0, step, nu, nv }: Lattice, room: number, count: number): CutView {
  const width = Math.floor((room - (count - 1) * APART) / count);
  const scale = width / (step * (nu - 1));
  const height = Math.round(scale * step * (nv - 1));
  const right = u0 + step * (nu - 1);
  const top = v0 + step * (nv - 1);
  return { width, height, screen: { x0: scale * right, perU: -scale, y0: scale * top, perV: -scale } };
}

/** A line of places in the field's frame, u and v in turn, m. */
export function screenPath(
  points: ArrayLike<number>,
  { x0, perU, y0, perV }: ToScreen,
  close = false,
): string {
  const n = points.length / 2;
  const x = Float64Array.from({ length: n }, (_, i) => x0 + perU * points[2 * i]!);
  const y = Float64Array.from({ length: n }, (_, i) => y0 + perV * points[2 * i + 1]!);
  return `${linePath(x, y, { digits: 1 })}${close ? 'Z' : ''}`;
}

export interface SignedLine {
  readonly path: string;
  readonly less: boolean;
  /** «+5», «−2.5», mT. */
  readonly text: string;
  /** Where its figure stands, px; null where it finds no room. */
  readonly label: { readonly x: number; readonly y: number } | null;
}

/** Every so manieth point of a line may carry its figure. */
const EVERY = 4;

const magnitude = (level: number): string => String(Number((1e3 * Math.abs(level)).toPrecision(3)));

/** Lines on which the difference is the same; levels that it nowhere comes to have none. */
export const signedLines = (grid: ScalarGrid, view: CutView): readonly SignedLine[] =>
  levelLines(grid, signedLevels(grid), view, (level) => `${level < 0 ? '−' : '+'}${magnitude(level)}`);

/** Lines on which a field is as strong, with mT. */
export const strengthLines = (
  grid: ScalarGrid,
  levels: readonly number[],
  view: CutView,
): readonly SignedLine[] => levelLines(grid, levels, view, magnitude);

function levelLines(
  grid: ScalarGrid,
  levels: readonly number[],
  { width, height, screen }: CutView,
  say: (level: number) => string,
): readonly SignedLine[] {
  const { x0, perU, y0, perV } = screen;
  const drawn = levels
    .map((level) => {
      const lines = contours(grid, level);
      return { level, lines, path: lines.map(({ points }) => screenPath(points, screen)).join('') };
    })
    .filter(({ path }) => path !== '');
  const found = contourLabels({
    lines: drawn.map(({ lines }) =>
      lines.flatMap(({ points }) =>
        Array.from({ length: Math.floor(points.length / (2 * EVERY)) }, (_, k) => 2 * EVERY * k).flatMap(
          (i) =>
            Number.isNaN(points[i]! + points[i + 1]!)
              ? []
              : [x0 + perU * points[i]!, y0 + perV * points[i + 1]!],
        ),
      ),
    ),
    obstacles: [],
    clear: 14,
    apart: 34,
    width,
    height,
  });
  return drawn.map(({ level, path }, i) => ({
    path,
    less: level < 0,
    text: say(level),
    label: found[i] ?? null,
  }));
}

/** % of the magnets' flux that goes up. */
const share = (flux: SideSeen['flux']): number | null =>
  flux && flux.own > 0 ? (100 * flux.up) / flux.own : null;
const below = (up: number | null): number | null => up && 100 - up;

const signed = (value: number, digits: number, unit: string): string => {
  const text = Math.abs(value).toFixed(digits);
  return Number(text) === 0 ? '' : `${value < 0 ? '−' : '+'}${text} ${unit}`;
};

/** Poles, bars and steel seen from above, in the pickup's own frame. */
export function partsFromAbove({ build, rows }: Pickup, { screen }: CutView): readonly string[] {
  if (!build) return [];
  const {
    bars,
    steel,
    rows: parts,
  } = pickupParts(
    build,
    rows.map(({ offset }) => offset),
  );
  const { x0, perU, y0, perV } = screen;
  const circle = (x: number, y: number, r: number): string =>
    `M${px(x0 + perU * x - r)} ${px(y0 + perV * y)}a${px(r)} ${px(r)} 0 1 0 ${px(2 * r)} 0a${px(r)} ${px(r)} 0 1 0 ${px(-2 * r)} 0Z`;
  return [
    ...[...bars, ...(steel ?? [])].map(({ size, centre }) => {
      const [width, height] = [Math.abs(perU) * size.x, Math.abs(perV) * size.y];
      return `M${px(x0 + perU * centre.x - width / 2)} ${px(y0 + perV * centre.y - height / 2)}h${px(width)}v${px(height)}h${px(-width)}Z`;
    }),
    ...parts.flatMap((row) =>
      polesStanding({ pitch: build.pitch, heights: row.heights }).map(({ k, y }) =>
        circle(row.offset, y, Math.abs(perU) * 0.5 * topDiameter(poleUnder(row, k))),
      ),
    ),
  ];
}

const px = (value: number): string => value.toFixed(1);

/** Figures of one of the two; null for what there is not. */
export interface SideFigures {
  readonly along: AlongLine | null;
  readonly flux: SideSeen['flux'];
}

/** Figures between the two; a dash where there is none. */
export function besideRows(a: SideFigures, b: SideFigures): readonly DifferenceRow[] {
  const row = (
    name: string,
    of: (figures: SideFigures) => number | null,
    digits: number,
    unit: string,
  ): DifferenceRow => {
    const [from, to] = [of(a), of(b)];
    const say = (value: number | null): string =>
      value === null || Number.isNaN(value) ? NOTHING : `${value.toFixed(digits).replace('-', '−')} ${unit}`;
    const change = from !== null && to !== null ? to - from : NaN;
    return {
      name,
      from: say(from),
      to: say(to),
      change: Number.isNaN(change) ? '' : signed(change, digits, unit),
    };
  };
  return [
    row('field at the string', ({ along }) => along && 1e3 * along.peak, 1, 'mT'),
    row('field, wide at the string', ({ along }) => along && 1e3 * along.width, 1, 'mm'),
    row('field, falls upwards by', ({ along }) => along && along.fall, 1, 'mT/mm'),
    row('flux that goes up', ({ flux }) => share(flux), 0, '%'),
    row('flux that leaks below', ({ flux }) => below(share(flux)), 0, '%'),
  ];
}

/** Heights that differ by less are one, m. */
const ONE_HEIGHT = 5e-5;

/** What places of two sections are compared: the same heights over the tops, whatever the strings' are. Names and heights (m) of both sides. */
export function sectionsCompared(
  left: Pick<SideSeen, 'name' | 'string'>,
  right: Pick<SideSeen, 'name' | 'string'>,
  string: number,
): string {
  const mm = (height: number): string => `${(1e3 * height).toFixed(2)} mm`;
  const where = 'height for height over the tops of the poles';
  return Math.abs(left.string - right.string) < ONE_HEIGHT
    ? `${where}; string ${string} lies ${mm(right.string)} over both`
    : `${where}, not at the string: string ${string} lies ${mm(left.string)} over those of ${left.name}, ${mm(right.string)} over those of ${right.name}`;
}

/** The same of two plans. */
export const PLANS_COMPARED = 'place for place from above, each at the height of its own strings';

/** Points between a plan's own: its lines are then smooth. */
const FINER = 3;

/** The values of a plan as a lattice. */
export const gridOf = ({ x0, y0, step, nx, ny, values }: PlanPicture): ScalarGrid =>
  refined({ x0, y0, dx: step, dy: step, nx, ny, values }, FINER);

/** Fields along the string as curves, px: one scale for both, the nut on the left. */
export interface AlongView {
  readonly width: number;
  readonly height: number;
  readonly x: Scale;
  readonly y: Scale;
  /** m and T. */
  readonly places: readonly Tick[];
  readonly strengths: readonly Tick[];
  readonly paths: readonly string[];
}

/** Of the graph; px. */
const GRAPH = 210;
const LEFT = 40;
const RIGHT = 10;
const TOP = 20;
const BOTTOM = 24;
/** Lines of the strength's axis. */
const TICKS = 5;

/**
 * @param lattice whose columns the values stand on
 * @param curves strength along each, T; NaN where there is none
 */
export function alongView(
  { u0, step, nu }: Lattice,
  curves: readonly (readonly number[])[],
  width: number,
): AlongView {
  const most = Math.max(1e-4, ...curves.flat().filter((value) => !Number.isNaN(value)));
  const unit = niceStep(most, TICKS);
  const top = unit * Math.ceil(most / unit);
  const last = u0 + step * (nu - 1);
  const x = linearScale([1e3 * last, 1e3 * u0], [LEFT, Math.max(LEFT + 1, width - RIGHT)]);
  const y = linearScale([0, 1e3 * top], [GRAPH - BOTTOM, TOP]);
  return {
    width,
    height: GRAPH,
    x,
    y,
    places: linearTicks(1e3 * u0, 1e3 * last, { step: 10 }),
    strengths: linearTicks(0, 1e3 * top, { step: 1e3 * unit }),
    paths: curves.map((curve) =>
      linePath(
        curve.map((_, i) => x.to(1e3 * (u0 + i * step))),
        curve.map((value) => y.to(1e3 * value)),
        { digits: 1 },
      ),
    ),
  };
}
