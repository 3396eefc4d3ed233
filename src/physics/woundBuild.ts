/** Turns of a whole pickup, and how many its bobbins take. */
import type { PickupBuild, RowBuild, Sheet } from '../sheet/sheet.ts';
import { PACKING } from './fieldQuestion.ts';
import { overallDiameter, turnsThatFit } from './magnetics/coil/wire.ts';

/** Turns of a coil that the document takes. */
export const FEWEST_TURNS = 10;
export const MOST_TURNS = 30_000;

/** The build with the turns of all its rows by one factor, whole. @param factor a share */
export const woundBy = (build: PickupBuild, factor: number): PickupBuild => ({
  ...build,
  rows: build.rows.map((row) => ({ ...row, turns: Math.round(row.turns * factor) })),
});

/** Number of turns that a row's bobbin takes of its wire. */
export const turnsOfFull = ({ window, wire }: RowBuild): number =>
  turnsThatFit({ x: 0, y: 0, ...window }, overallDiameter(wire.conductor, wire.enamel), PACKING);

/** Factors, a share, between which all rows may be wound: as few turns as a coil has, and as many as its bobbin takes. */
export function factorsOf({ rows }: PickupBuild): readonly [least: number, most: number] {
  const turns = rows.map((row) => row.turns);
  const full = Math.min(...rows.map((row) => Math.min(MOST_TURNS, turnsOfFull(row)) / row.turns));
  return [FEWEST_TURNS / Math.min(...turns), full];
}

/** The sheet with another build of one of its pickups, by index. */
export const withBuild = (sheet: Sheet, pickup: number, build: PickupBuild): Sheet => ({
  ...sheet,
  pickups: sheet.pickups.map((one, i) => (i === pickup ? { ...one, build } : one)),
});
