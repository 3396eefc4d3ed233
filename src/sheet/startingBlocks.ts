/** Bars and steel to begin with, clear of what is there or touching it. Pure. */
import { pickupParts } from '../shape/parts.ts';
import { standingPoles } from '../shape/poleRow.ts';
import type { BarMagnet, PickupBuild, SteelBox } from './build.ts';
import { snapFigure } from './figures.ts';
import type { Pickup } from './sheet.ts';

const BAR: BarMagnet = {
  magnet: { grade: 'ceramic 5', charge: 1 },
  width: 0.0125,
  length: 0.06,
  thickness: 0.0045,
  direction: 'through the thickness',
  turned: false,
  offset: 0,
  across: 0,
  top: -0.018,
};

/** Between what is added and the coil or pole beside it, m. */
const APART = 3e-4;
/** How far steel reaches past the outer poles, m. */
const PAST = 0.005;

const lowestFeet = ({ rows }: PickupBuild): number =>
  Math.min(...rows.map(({ pole }) => Math.min(...standingPoles(pole)) - pole.length));

const lowestCoil = ({ rows }: PickupBuild): number => Math.min(...rows.map(({ window }) => window.bottom));

/** From the pickup's centre to the outermost coil's edge along x, m. */
const coilEdge = ({ rows, build }: Pickup): number =>
  Math.max(...build!.rows.map(({ window }, r) => Math.abs(rows[r]?.offset ?? 0) + window.outer));

const rowLength = ({ rows, pitch }: PickupBuild): number =>
  (rows[0]!.pole.heights.length - 1) * pitch + 2 * PAST;

/** Clear of every pole: beside the feet of two rows, or below one; the next one beside the coils. */
export function startingBar(pickup: Pickup): BarMagnet {
  const { rows, build } = pickup;
  if (!build) return BAR;
  if (build.bars.length > 0) {
    const thickness = 0.006;
    return {
      ...BAR,
      width: 0.004,
      thickness,
      direction: 'across the width',
      turned: build.bars.length % 2 === 1,
      offset: snapFigure((build.bars.length % 2 === 1 ? 1 : -1) * (coilEdge(pickup) + 0.0025), 'barOffset'),
      top: snapFigure(lowestCoil(build) + thickness, 'barTop'),
    };
  }
  if (build.rows.length === 2)
    return { ...BAR, direction: 'across the width', top: snapFigure(lowestCoil(build) - APART, 'barTop') };
  const lowest = Math.min(lowestFeet(build), lowestCoil(build));
  return {
    ...BAR,
    offset: rows[0]?.offset ?? 0,
    top: snapFigure((Number.isFinite(lowest) ? lowest : lowestCoil(build)) - 2e-4, 'barTop'),
  };
}

/** Pieces that a maker adds, by name. */
export const STEEL_STARTS = ['keeper plate', 'wall', 'blade'] as const;
export type SteelStart = (typeof STEEL_STARTS)[number];

/** A keeper lies against the lowest bar or pole, a wall stands beside the coils, a blade in the first coil. */
export function startingSteel(pickup: Pickup, start: SteelStart): SteelBox {
  const build = pickup.build!;
  const length = snapFigure(rowLength(build), 'steelLength');
  const { rows, bars } = build;
  const { window } = rows[0]!;
  const offset = pickup.rows[0]?.offset ?? 0;
  const steel = { steel: 'low-carbon, annealed', length, across: 0 } as const;
  if (start === 'blade') {
    const width = Math.min(0.0032, 2 * window.inner - 2 * APART);
    const top = 0;
    const fits = snapFigure(Math.min(length, window.straight + 0.5 * window.inner), 'steelLength');
    return { ...steel, length: fits, width: snapFigure(width, 'steelWidth'), thickness: 0.016, offset, top };
  }
  if (start === 'wall') {
    const beside = [...bars, ...build.steel].map((block) => Math.abs(block.offset) + block.width / 2);
    const place = Math.max(coilEdge(pickup) + APART, ...beside) + 0.0005;
    const top = -0.003;
    const thickness = snapFigure(top - lowestCoil(build), 'steelThickness');
    return { ...steel, width: 0.001, thickness, offset: snapFigure(place, 'steelOffset'), top };
  }
  const { bars: blocks, steel: pieces = [] } = pickupParts(build, []);
  const under = [...blocks, ...pieces].map(({ centre, size }) => centre.z - size.z / 2);
  const lowest = Math.min(lowestFeet(build), lowestCoil(build), ...under);
  const width = snapFigure(2 * coilEdge(pickup), 'steelWidth');
  // Not onto the grid of steps: it touches what it lies against.
  return { ...steel, width, thickness: 0.001, offset: 0, top: Number(lowest.toPrecision(12)) };
}
