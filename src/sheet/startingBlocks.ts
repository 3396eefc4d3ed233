/**
 * Bars and steel to begin with: a pickup with one part more, clear of what is there or touching it, so that it can be built at
 * once. Pure; null where there is no room for it within the figures' limits.
 */
import { blockPart, blocksOf, pickupParts, type BlockPart, type PickupParts } from '../shape/parts.ts';
import { lowestFoot } from '../shape/cover.ts';
import { topDiameter } from '../shape/pole.ts';
import { polePlaces } from '../shape/poleRow.ts';
import { isThreaded } from '../shape/steel.ts';
import type { BarMagnet, Block, PickupBuild, RowBuild, SteelBox } from './build.ts';
import { MOST_BLOCKS } from './checkBuild.ts';
import { FIGURES, snapFigure, type FigureKey } from './figures.ts';
import type { Pickup } from './sheet.ts';

/** Between what is added and what it must not touch, m. */
const APART = 3e-4;
/** How far steel reaches past the outer poles, and past their edges, m. */
const PAST = 0.005;
const PAST_EDGE = 0.001;

const STARTING_BAR: Pick<BarMagnet, 'magnet' | 'across'> = {
  magnet: { grade: 'ceramic 5', charge: 1 },
  across: 0,
};
const MILD = { steel: 'low-carbon, annealed', across: 0 } as const;

/** Onto the grid of a tenth of a millimetre, past the limits as well, m. */
const onGrid = (value: number): number => Number((Math.round(value / 1e-4) * 1e-4).toPrecision(12)) + 0;
const downTo = (value: number): number => onGrid(Math.floor(value / 1e-4 + 1e-6) * 1e-4);

/** From one z to another that lies higher, m. */
interface Zone {
  readonly bottom: number;
  readonly top: number;
}

const zoneOf = ({ size, centre }: BlockPart): Zone => ({
  bottom: centre.z - size.z / 2,
  top: centre.z + size.z / 2,
});

const meets = (a: Zone, b: Zone): boolean => a.bottom < b.top && b.bottom < a.top;

const partsOf = ({ rows, build }: Pickup): PickupParts =>
  pickupParts(
    build!,
    rows.map(({ offset }) => offset),
  );

/** z of the lowest of all feet, windings and blocks. */
const lowest = (parts: PickupParts): number =>
  Math.min(
    ...parts.rows.flatMap((row) => [row.winding?.bottom ?? 0, lowestFoot(row)]),
    ...blocksOf(parts).map((block) => zoneOf(block).bottom),
  );

/** z of the lowest winding, or without a coil of the poles' feet. */
const lowestCoil = ({ rows }: PickupParts): number =>
  Math.min(...rows.map((row) => row.winding?.bottom ?? Math.min(NO_COIL, lowestFoot(row))));

/** Where there is neither a coil nor a pole, m. */
const NO_COIL = -0.005;

/** From a row's centre line to the outside of its coil, or without one of its poles, m. */
const outside = ({ winding, pole, heights }: PickupParts['rows'][number]): number =>
  winding?.edge ?? (heights.length > 0 ? topDiameter(pole) / 2 : 0);

/** How far the pickup reaches on one side along x beside a zone, m: its coils, and what stands in that zone. @param side 1 or −1 */
const reachAt = (parts: PickupParts, side: number, zone: Zone): number =>
  Math.max(
    ...parts.rows.map((row) => side * row.offset + outside(row)),
    ...blocksOf(parts).flatMap((block) =>
      meets(zoneOf(block), zone) ? [side * block.centre.x + block.size.x / 2] : [],
    ),
  );

/** The side that reaches less far, and that towards the nut where both reach as far. */
const freeSide = (parts: PickupParts, zone: Zone): number =>
  reachAt(parts, 1, zone) <= reachAt(parts, -1, zone) + 1e-9 ? 1 : -1;

const within = (value: number, key: FigureKey): boolean =>
  value >= FIGURES[key].min && value <= FIGURES[key].max;

const KEYS = {
  bar: { offset: 'barOffset', top: 'barTop', width: 'barWidth' },
  steel: { offset: 'steelOffset', top: 'steelTop', width: 'steelWidth' },
} as const satisfies Record<string, Readonly<Record<string, FigureKey>>>;

/** The block, or null where it doesn't stand within the limits of its kind. */
function placed<B extends Block>(kind: keyof typeof KEYS, block: B): B | null {
  const { offset, top, width } = KEYS[kind];
  return within(block.offset, offset) && within(block.top, top) && within(block.width, width) ? block : null;
}

/** As long as the rows are, m, with so much past the outer poles that they stand on it. */
function rowLength(build: PickupBuild, parts: PickupParts): number {
  const widest = Math.max(...parts.rows.map(({ pole }) => topDiameter(pole)));
  const [first = 0] = polePlaces({ pitch: build.pitch, heights: build.rows[0]!.pole.heights });
  const { max } = FIGURES.steelLength;
  return Math.min(max, snapFigure(2 * first + 2 * Math.max(PAST, widest / 2 + PAST_EDGE), 'steelLength'));
}

/** Between the feet of two rows, below their coils, magnetised from one to the other. */
function barBetween(parts: PickupParts): BarMagnet | null {
  const [first, second] = parts.rows;
  if (!first || !second) return null;
  const middle = (first.offset + second.offset) / 2;
  const inner = parts.rows.map(({ offset, pole }) => Math.abs(offset - middle) - topDiameter(pole) / 2);
  return placed('bar', {
    ...STARTING_BAR,
    width: Math.min(0.0125, downTo(2 * (Math.min(...inner) - APART) - 1e-4)),
    length: 0.06,
    thickness: 0.0045,
    direction: 'across the width',
    turned: false,
    offset: onGrid(middle),
    top: onGrid(lowestCoil(parts) - APART),
  });
}

/** Under everything, its north up. */
function barBelow(parts: PickupParts): BarMagnet | null {
  return placed('bar', {
    ...STARTING_BAR,
    width: 0.0125,
    length: 0.06,
    thickness: 0.0045,
    direction: 'through the thickness',
    turned: false,
    offset: parts.rows.length === 1 ? parts.rows[0]!.offset : 0,
    top: onGrid(lowest(parts) - APART),
  });
}

/** Beside the coils at their feet, its north inwards: the second on the other side makes a pair with it. */
function barBeside(parts: PickupParts): BarMagnet | null {
  const [width, thickness] = [0.004, 0.006];
  const top = onGrid(lowestCoil(parts) + thickness);
  const zone = { bottom: top - thickness, top };
  const side = freeSide(parts, zone);
  return placed('bar', {
    ...STARTING_BAR,
    width,
    length: 0.06,
    thickness,
    direction: 'across the width',
    turned: side > 0,
    offset: onGrid(side * (reachAt(parts, side, zone) + 5e-4 + width / 2)),
    top,
  });
}

/** The first bar lies between the feet of two rows or below one; others beside the coils, in pairs. */
export function withStartingBar(pickup: Pickup): PickupBuild | null {
  const { build } = pickup;
  if (!build || build.bars.length >= MOST_BLOCKS) return null;
  const parts = partsOf(pickup);
  const first = build.bars.length === 0 && build.steel.length === 0;
  const bar =
    (first ? barBetween(parts) : null) ??
    (build.bars.length === 0 ? barBelow(parts) : null) ??
    barBeside(parts) ??
    barBelow(parts);
  return bar && { ...build, bars: [...build.bars, bar] };
}

/** Pieces that a maker adds, by name. */
export const STEEL_STARTS = ['keeper plate', 'wall', 'blade'] as const;
export type SteelStart = (typeof STEEL_STARTS)[number];

/** Against what lies lowest, so that this stands on it. */
function keeper(build: PickupBuild, parts: PickupParts): SteelBox | null {
  const reach = Math.max(...parts.rows.map((row) => Math.abs(row.offset) + outside(row)));
  return placed('steel', {
    ...MILD,
    width: Math.min(FIGURES.steelWidth.max, snapFigure(2 * reach, 'steelWidth')),
    length: rowLength(build, parts),
    thickness: 0.001,
    offset: 0,
    // Not onto the grid of steps: it touches.
    top: Number(lowest(parts).toPrecision(12)),
  });
}

/** The highest that steel may stand under a cover, m; 0 without one. */
const underCover = ({ cover }: PickupBuild): number => Math.min(0, (cover?.clearance ?? 0.001) - 5e-4);

/** Beside the coils, from 3 mm below the tops down to the lower edge; the second on the other side. */
function wall(build: PickupBuild, parts: PickupParts): SteelBox | null {
  const width = 0.001;
  const top = onGrid(Math.min(-0.003, underCover(build)));
  const thickness = Math.max(0.002, snapFigure(top - lowestCoil(parts), 'steelThickness'));
  const zone = { bottom: top - thickness, top };
  const side = freeSide(parts, zone);
  return placed('steel', {
    ...MILD,
    width,
    length: rowLength(build, parts),
    thickness,
    offset: onGrid(side * (reachAt(parts, side, zone) + APART + width / 2)),
    top,
  });
}

/** In a coil, from the plane of the tops down to where the poles' feet are, or were. */
function blade({ pole, window }: RowBuild, build: PickupBuild, parts: PickupParts, r: number): SteelBox {
  const top = onGrid(underCover(build));
  const foot = Math.min(...pole.heights) - pole.length;
  const width = Math.min(0.0032, pole.diameter, 2 * window.inner - 2 * APART);
  const long = Math.min(rowLength(build, parts), window.straight + 0.5 * window.inner);
  const { min, max } = FIGURES.steelLength;
  return {
    ...MILD,
    width: Math.max(FIGURES.steelWidth.min, downTo(width)),
    length: Math.min(max, Math.max(min, snapFigure(long, 'steelLength'))),
    thickness: Math.min(FIGURES.steelThickness.max, Math.max(0.003, Number((top - foot).toPrecision(12)))),
    offset: parts.rows[r]!.offset,
    top,
  };
}

const apart = (a: BlockPart, b: BlockPart): boolean =>
  (['x', 'y', 'z'] as const).some(
    (axis) => Math.abs(a.centre[axis] - b.centre[axis]) >= (a.size[axis] + b.size[axis]) / 2 - 1e-9,
  );

/** In place of the poles of the first row that has some, or in the first coil that has nothing in it. */
function withBlade(build: PickupBuild, parts: PickupParts): PickupBuild | null {
  const poled = build.rows.findIndex(({ pole }) => pole.kind !== 'none');
  const empty = parts.rows.findIndex((row) => !blocksOf(parts).some((block) => isThreaded(block, row)));
  const r = poled >= 0 ? poled : empty;
  const row = build.rows[r];
  if (!row) return null;
  const piece = placed('steel', blade(row, build, parts, r));
  if (!piece || !blocksOf(parts).every((block) => apart(block, blockPart(piece)))) return null;
  const without: RowBuild = { ...row, pole: { ...row.pole, kind: 'none' } };
  return { ...build, rows: build.rows.with(r, without), steel: [...build.steel, piece] };
}

/** A keeper lies against what is lowest, a wall stands beside the coils, a blade in place of the poles of a row. */
export function withStartingSteel(pickup: Pickup, start: SteelStart): PickupBuild | null {
  const { build } = pickup;
  if (!build || build.steel.length >= MOST_BLOCKS) return null;
  const parts = partsOf(pickup);
  if (start === 'blade') return withBlade(build, parts);
  const piece = start === 'wall' ? wall(build, parts) : keeper(build, parts);
  return piece && { ...build, steel: [...build.steel, piece] };
}
