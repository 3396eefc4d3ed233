/** Whether the parts of a build leave each other room; their sizes are known to be right. */
import { polesStanding } from '../../../shape/poleRow.ts';
import { poleUnder } from '../../../shape/singlePole.ts';
import { isWound, type BuiltPickup, type BuiltRow, type WoundRow } from './build.ts';
import { mm } from './faults.ts';
import type { Faults } from './faults.ts';
import { turnsRoom } from '../coil/turnsRoom.ts';
import { overallDiameter, woundRadius } from '../coil/wire.ts';

/** A cylinder that a pole fills or stays within, m. */
export interface Part {
  readonly row: number;
  readonly pole: number;
  readonly x: number;
  readonly y: number;
  readonly bottom: number;
  readonly top: number;
  readonly radius: number;
}

/** Those of all poles, row by row. */
export function poleParts(build: BuiltPickup): readonly Part[] {
  return build.rows.flatMap((row, i) =>
    polesStanding(row).flatMap(({ y, k, top }) => {
      const pole = poleUnder(row, k);
      const bottom = top - pole.length;
      const base = { row: i, pole: k, x: row.offset, y };
      const shankTop = pole.kind === 'steel' && pole.shank ? bottom + pole.shank.length : bottom;
      const headBottom = pole.kind === 'steel' && pole.head ? top - pole.head.height : top;
      const list: Part[] = [{ ...base, bottom: shankTop, top: headBottom, radius: 0.5 * pole.diameter }];
      if (pole.kind === 'steel' && pole.shank) {
        list.push({ ...base, bottom, top: shankTop, radius: 0.5 * pole.shank.diameter });
      }
      if (pole.kind === 'steel' && pole.head) {
        list.push({ ...base, bottom: headBottom, top, radius: 0.5 * pole.head.diameter });
      }
      return list;
    }),
  );
}

/** Poles closer than this are taken as overlapping: they would meet in the computation's rounding. */
const CLEARANCE = 1e-5;

/** Adds a fault for every part that is in another's way, at the figure that can be changed. */
export function checkPlaces(faults: Faults, build: BuiltPickup): void {
  const all = poleParts(build);
  build.rows.forEach((row, i) => {
    const here = all.filter((part) => part.row === i);
    // Of those that are as the row says.
    const usual = here.filter(({ pole }) => !row.own?.[pole]);
    const widest = Math.max(0, ...usual.map((part) => 2 * part.radius));
    const apart = nearest(usual) * row.pitch;
    faults.must(
      apart >= widest + CLEARANCE,
      `rows[${i}].pitch`,
      `The pole pitch must be more than the poles are wide, ${mm(widest)}; got ${mm(row.pitch)}: they overlap.`,
    );
    checkSingles(faults, row, here, i);
    if (isWound(row)) checkWinding(faults, row, here, usual, `rows[${i}]`);
  });
  const [first, second] = build.rows;
  if (first && second) {
    const apart = Math.abs(first.offset - second.offset);
    const needed = roomForRows(all);
    faults.must(
      apart >= needed,
      'rows[1].offset',
      `The rows must be at least ${mm(needed)} apart for their poles; got ${mm(apart)}: they overlap.`,
    );
    if (apart >= needed && isWound(first) && isWound(second)) checkBeside(faults, first, second);
  }
  checkGaps(faults, build);
}

/** Places from one of these poles to the next at least; Infinity of one alone. */
function nearest(parts: readonly Part[]): number {
  const places = [...new Set(parts.map(({ pole }) => pole))].toSorted((a, b) => a - b);
  return Math.min(...places.slice(1).map((pole, i) => pole - places[i]!));
}

/** Single poles beside the next ones that stand; each pair once, at the wider of the two that is not as the row says. */
function checkSingles(faults: Faults, row: BuiltRow, here: readonly Part[], i: number): void {
  if (!row.own) return;
  const seen = new Set<number>();
  const places = [...new Set(here.map(({ pole }) => pole))].toSorted((a, b) => a - b);
  const after = new Map(places.map((pole, i) => [pole, places[i + 1]]));
  for (const a of here) {
    for (const b of here) {
      if (b.pole !== after.get(a.pole) || seen.has(a.pole) || !overlaps(a, b)) continue;
      const singles = [a, b].filter(({ pole }) => row.own?.[pole]);
      const needed = a.radius + b.radius + CLEARANCE;
      if (singles.length === 0 || (b.pole - a.pole) * row.pitch >= needed) continue;
      seen.add(a.pole);
      const wider = singles.reduce((one, other) => (other.radius > one.radius ? other : one));
      faults.must(
        false,
        `rows[${i}].own[${wider.pole}].diameter`,
        `Neighbouring poles must leave each other room; poles ${a.pole + 1} and ${b.pole + 1} of row ${i + 1}, ${mm(2 * a.radius)} and ${mm(2 * b.radius)} wide, overlap at a pitch of ${mm(row.pitch)}. Make this one thinner.`,
      );
    }
  }
}

/** Two windings can't lie in each other: no such coils have an inductance. They may be one round the other. */
function checkBeside(faults: Faults, first: WoundRow, second: WoundRow): void {
  if (!overlaps(first.winding, second.winding)) return;
  const meets = sidesOf(first).some(([from, to]) =>
    sidesOf(second).some(([start, end]) => from < end - TOUCHING && start < to - TOUCHING),
  );
  const [a, b] = [woundOuter(first), woundOuter(second)];
  const apart = Math.abs(first.offset - second.offset);
  faults.must(
    !meets,
    'rows[1].offset',
    `The rows must be at least ${mm(a + b)} apart for their coils, which are wound to ${mm(a)} and ${mm(b)} from their middles; got ${mm(apart)}: they overlap.`,
  );
}

/** m: less than this, two coils only touch. */
const TOUCHING = 1e-9;

/** Where a row's winding is, cut through its middle: on either side of its poles, m. */
const sidesOf = (row: WoundRow): readonly (readonly [from: number, to: number])[] => {
  const { offset, winding } = row;
  const outer = woundOuter(row);
  return [
    [offset - outer, offset - winding.inner],
    [offset + winding.inner, offset + outer],
  ];
};

/** How far a row's wire really reaches from its middle line, m. */
const woundOuter = ({ winding }: WoundRow): number => {
  const { inner, top, bottom, turns, wire, enamel, packing } = winding;
  return woundRadius(inner, top - bottom, turns, overallDiameter(wire, enamel), packing);
};

/** How far apart two rows must be so that none of their poles' parts, as high as they stand, meet, m. */
function roomForRows(all: readonly Part[]): number {
  let needed = 0;
  for (const a of all) {
    for (const b of all) {
      if (a.row >= b.row || !overlaps(a, b)) continue;
      const reach = a.radius + b.radius + CLEARANCE;
      const aside = Math.abs(a.y - b.y);
      if (aside < reach) needed = Math.max(needed, Math.sqrt(reach ** 2 - aside ** 2));
    }
  }
  return needed;
}

/** Whether both lie at some height, m. */
export function overlaps(a: { bottom: number; top: number }, b: { bottom: number; top: number }): boolean {
  return a.bottom < b.top && b.bottom < a.top;
}

/** @param usual poles that are as the row says */
function checkWinding(
  faults: Faults,
  row: WoundRow,
  poles: readonly Part[],
  usual: readonly Part[],
  path: string,
): void {
  const { winding } = row;
  const half = 0.5 * winding.straight;
  const inside = ({ radius, y }: Part): number => radius + Math.max(0, Math.abs(y) - half);
  const needed = Math.max(0, ...usual.filter((part) => overlaps(part, winding)).map(inside));
  faults.must(
    winding.inner >= needed,
    `${path}.winding.inner`,
    `The coil must clear its poles: its inner radius must be at least ${mm(needed)}; got ${mm(winding.inner)}, inside the metal.`,
  );
  const through = new Set(
    poles
      .filter((part) => row.own?.[part.pole] && overlaps(part, winding) && inside(part) > winding.inner)
      .map(({ pole }) => pole),
  );
  for (const k of through)
    faults.must(
      false,
      `${path}.own[${k}].diameter`,
      `A pole must stand within its coil; pole ${k + 1}, ${mm(poleUnder(row, k).diameter)} wide, runs through the bobbin, whose inner radius is ${mm(winding.inner)}. Make it thinner, or the coil wider.`,
    );
  if (woundOuter(row) > winding.edge) faults.must(false, `${path}.winding.turns`, tooManyTurns(winding));
}

/** Says how many fit, and which window or wire takes them all. */
function tooManyTurns({ straight, inner, edge, top, bottom, ...winding }: WoundRow['winding']): string {
  const window = { x: 0, y: 0, straight, inner, outer: edge, top, bottom };
  const { fit, outer, gauge } = turnsRoom({ window, ...winding });
  const finer = gauge === null ? '' : `, or wind them of AWG ${gauge}`;
  return `The turns must fit the bobbin, which takes ${fit} of this wire; got ${winding.turns}. Wind no more, make the coil’s outer radius ${mm(outer)}${finer}.`;
}

/** The nearest a string may come to a pole, m: below, the rings' charges show one by one. */
const NEAREST = 2e-4;

function checkGaps(faults: Faults, build: BuiltPickup): void {
  build.rows.forEach(({ heights }, r) => {
    checkOuter(faults, build, r, 0, 'gapTreble', 'treble');
    checkOuter(faults, build, r, heights.length - 1, 'gapBass', 'bass');
  });
}

/** Named at the gap, and where that alone would do, at the height of the pole that stands up into it as well. */
function checkOuter(
  faults: Faults,
  build: BuiltPickup,
  r: number,
  k: number,
  gap: 'gapBass' | 'gapTreble',
  side: string,
): void {
  const height = build.rows[r]!.heights[k];
  if (typeof height !== 'number') return;
  const left = build[gap] - height;
  if (left >= NEAREST) return;
  const standsUp = height > 0 && build[gap] >= NEAREST;
  const pole = build.rows.length > 1 ? `pole ${k + 1} of row ${r + 1}` : `pole ${k + 1}`;
  const todo = standsUp ? 'Lower the pole or the pickup.' : 'Lower the pickup.';
  const message = `The ${side} string must clear its pole, ${pole}, by ${mm(NEAREST)}; got ${mm(left)}. ${todo}`;
  if (standsUp) faults.must(false, `rows[${r}].heights[${k}]`, message);
  faults.must(false, gap, message);
}
