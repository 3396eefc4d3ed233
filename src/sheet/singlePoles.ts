/** Changes to single poles of a row, and to a build as it stands under one string. Pure. */
import { poleAt, upAt } from '../shape/singlePole.ts';
import type { OwnPole, PickupBuild, Pole, RowBuild } from './build.ts';

/** One that is listed, and has nothing of its own yet. */
export const AS_THE_ROW: OwnPole = { grade: null, charge: null, diameter: null, length: null, up: null };

/** The build with every row as it stands under string k + 1. */
export const buildUnder = (build: PickupBuild, k: number): PickupBuild =>
  build.rows.some(({ pole }) => pole.own?.[k])
    ? { ...build, rows: build.rows.map((row) => ({ ...row, pole: poleAt(row.pole, k), up: upAt(row, k) })) }
    : build;

/** Without any single poles. */
export const alike = ({ own: _, ...pole }: Pole): Pole => pole;

/** With this list of them; none where it says nothing. */
export const withOwn = (pole: Pole, own: readonly (OwnPole | null)[]): Pole =>
  own.some((single) => single !== null) ? { ...alike(pole), own } : alike(pole);

/** Pole k with this of its own; null: as the row, and listed no more. */
export const withSingle = (pole: Pole, k: number, single: OwnPole | null): Pole =>
  withOwn(pole, (pole.own ?? pole.heights.map(() => null)).with(k, single));

/** Pole k listed with some of it changed; what is as the row again is null. */
export function changeSingle(row: RowBuild, k: number, change: Partial<OwnPole>): RowBuild {
  const { pole, up } = row;
  const next = { ...AS_THE_ROW, ...pole.own?.[k], ...change };
  const own = <T>(value: T | null, of: T): T | null => (value === of ? null : value);
  return {
    ...row,
    pole: withSingle(pole, k, {
      grade: own(next.grade, pole.magnet.grade),
      charge: own(next.charge, pole.magnet.charge),
      diameter: own(next.diameter, pole.diameter),
      length: own(next.length, pole.length),
      up: own(next.up, up),
    }),
  };
}

/** The rod under string k + 1 turned over; twice is as before. */
export function singleTurned(row: RowBuild, k: number): RowBuild {
  const turned = changeSingle(row, k, { up: upAt(row, k) === 'north' ? 'south' : 'north' });
  const idle = Object.values(turned.pole.own![k]!).every((value) => value === null);
  return idle ? { ...row, pole: withSingle(row.pole, k, null) } : turned;
}

/** Every single pole changed, of a row that has some. */
export const changeSingles = (pole: Pole, change: (single: OwnPole) => OwnPole): Pole =>
  pole.own ? { ...pole, own: pole.own.map((single) => single && change(single)) } : pole;
