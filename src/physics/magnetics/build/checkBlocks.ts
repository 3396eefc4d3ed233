/** Whether bars and steel leave poles, coils and each other room; their sizes are known to be right. */
import { steelWord } from '../../../shape/steel.ts';
import { coilMeets } from '../../../shape/coilRoom.ts';
import type { BlockPart } from '../../../shape/parts.ts';
import { overallDiameter, woundRadius } from '../coil/wire.ts';
import { isWound, type BuiltPickup, type WoundRow } from './build.ts';
import { overlaps, poleParts, type Part } from './checkPlaces.ts';
import { mm, type Faults } from './faults.ts';

/** Two blocks that touch may lie in each other by a rounding, m; as far as the charges know them for touching. */
const ROUNDING = 1e-9;
/** The same of a pole and a bar, m. */
const POLE_ROUNDING = 1e-12;
/** Nearer than this a pole's end stands on a piece of steel, m; less than NEARLY above it, it must as well. */
const TOUCHING = 1e-7;
const NEARLY = 2e-5;

/** A block with its path in the build and what it is called. */
interface Named extends BlockPart {
  readonly path: string;
  readonly what: string;
  readonly steel: boolean;
}

/** Adds a fault for every bar and piece of steel that is in another's way, at the figure that can be changed. */
export function checkBlocks(faults: Faults, build: BuiltPickup): void {
  const poles = poleParts(build);
  const all = named(build);
  all.forEach((block, i) => {
    const hit = poles.find((part) => meetsPole(block, part));
    faults.must(
      hit === undefined,
      `${block.path}.centre`,
      block.steel
        ? `Steel must lie beside or under the poles; this ${block.what} runs through a pole of row ${(hit?.row ?? 0) + 1}. Move it or make it smaller.`
        : `A bar must lie beside or under the poles; this one runs through a pole of row ${(hit?.row ?? 0) + 1}. Move it or make it smaller.`,
    );
    if (block.steel && !hit) checkStanding(faults, block, poles);
    const other = all.slice(0, i).find((before) => meet(block, before));
    faults.must(
      other === undefined,
      `${block.path}.centre`,
      block.steel || other?.steel
        ? `Parts must not overlap; this ${block.what} runs into the ${other?.what}. Move it or make it smaller.`
        : `Two bars must not overlap; this one runs into the ${other?.what}.`,
    );
    build.rows.forEach((row, r) => isWound(row) && checkCoil(faults, block, row, r));
  });
}

function named(build: BuiltPickup): readonly Named[] {
  const bars = build.bars.map((bar, i): Named => ({
    ...bar,
    path: `bars[${i}]`,
    what: `bar ${i + 1}`,
    steel: false,
  }));
  const steel = (build.steel ?? []).map((piece, i): Named => ({
    ...piece,
    path: `steel[${i}]`,
    what: steelWord(piece, build.rows),
    steel: true,
  }));
  return [...bars, ...steel];
}

function meetsPole({ size, centre, steel }: Named, part: Part): boolean {
  const slack = steel ? ROUNDING : POLE_ROUNDING;
  const half = 0.5 * size.z - slack;
  if (!overlaps(part, { bottom: centre.z - half, top: centre.z + half })) return false;
  const dx = Math.max(0, Math.abs(part.x - centre.x) - 0.5 * size.x);
  const dy = Math.max(0, Math.abs(part.y - centre.y) - 0.5 * size.y);
  return Math.hypot(dx, dy) < part.radius - slack;
}

const meet = (a: BlockPart, b: BlockPart): boolean =>
  (['x', 'y', 'z'] as const).every(
    (axis) => Math.abs(a.centre[axis] - b.centre[axis]) < 0.5 * (a.size[axis] + b.size[axis]) - ROUNDING,
  );

/**
 * A pole's end lies on steel with the whole of it, for the charges of a part of a face can't be told apart; or it keeps so far
 * away that the gap between is no rounding.
 */
function checkStanding(faults: Faults, { size, centre, path, what }: Named, poles: readonly Part[]): void {
  for (const { row, x, y, bottom, top, radius } of poles) {
    const above = bottom - (centre.z + 0.5 * size.z);
    const below = centre.z - 0.5 * size.z - top;
    const gap =
      above >= -TOUCHING && above < NEARLY ? above : below >= -TOUCHING && below < NEARLY ? below : null;
    if (gap === null) continue;
    const [dx, dy] = [Math.abs(x - centre.x), Math.abs(y - centre.y)];
    const over = Math.hypot(Math.max(0, dx - 0.5 * size.x), Math.max(0, dy - 0.5 * size.y));
    if (over >= radius) continue;
    const whole = dx + radius < 0.5 * size.x + TOUCHING && dy + radius < 0.5 * size.y + TOUCHING;
    faults.must(
      gap <= TOUCHING ? whole : false,
      `${path}.${gap <= TOUCHING ? (dx + radius > 0.5 * size.x ? 'size.x' : 'size.y') : 'centre.z'}`,
      gap <= TOUCHING
        ? `A pole must stand on steel with its whole end, or keep clear of it; one of row ${row + 1} stands over the edge of this ${what}. Make the ${what} larger, or move it ${mm(NEARLY)} away.`
        : `A pole must touch steel or stay ${mm(NEARLY)} from it; one of row ${row + 1} is ${mm(gap)} from this ${what}.`,
    );
    return;
  }
}

/** At the figure by which it is out of the coil soonest. */
function checkCoil(faults: Faults, block: Named, { offset, winding }: WoundRow, r: number): void {
  const { straight, inner, top, bottom, turns, wire, enamel, packing } = winding;
  const outer = woundRadius(inner, top - bottom, turns, overallDiameter(wire, enamel), packing);
  const { size, centre, path } = block;
  const low = centre.z - 0.5 * size.z;
  const high = centre.z + 0.5 * size.z;
  const deep = Math.min(high - bottom, top - low);
  if (deep <= ROUNDING || !coilMeets(block, { offset, straight, inner, outer })) return;
  const aside = Math.abs(centre.x - offset);
  const narrower = 2 * (aside + 0.5 * size.x - inner);
  const within = aside + 0.5 * size.x < outer && aside < inner;
  const beside = outer - (aside - 0.5 * size.x);
  const [field, least] =
    within && narrower > 0 ? ['size.x', narrower] : within ? ['size.y', 0] : ['centre.x', beside];
  const at = deep < least ? 'centre.z' : field;
  const what = block.steel ? `This ${block.what}` : 'This bar';
  faults.must(
    false,
    `${path}.${at}`,
    `The coil of row ${r + 1} must have room round it and beside it; ${what.toLowerCase()} lies in its winding, ${mm(inner)} to ${mm(outer)} from the row’s middle and ${mm(-top)} to ${mm(-bottom)} deep. Move it, make it smaller, or move the coil.`,
  );
}
