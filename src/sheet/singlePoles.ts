/** Changes to single poles of a row, and to a build as it stands under one string. Pure. */
import { isFitted, poleAt, upAt } from '../shape/singlePole.ts';
import type { OwnPole, PickupBuild, Pole, RowBuild } from './build.ts';

/** One that is listed, and has nothing of its own yet. */
export const AS_THE_ROW: OwnPole = { grade: null, charge: null, diameter: null, length: null, up: null };

/** The build with every row as it stands under string k + 1; without a pole where that is left out. */
export const buildUnder = (build: PickupBuild, k: number): PickupBuild =>
  build.rows.some(({ pole }) => pole.own?.[k])
    ? { ...build, rows: build.rows.map((row) => rowUnder(row, k)) }
    : build;

function rowUnder(row: RowBuild, k: number): RowBuild {
  const pole = poleAt(row.pole, k);
  return { ...row, pole: isFitted(row.pole, k) ? pole : { ...pole, kind: 'none' }, up: upAt(row, k) };
}

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
      ...(next.fitted === false && { fitted: next.fitted }),
      grade: own(next.grade, pole.magnet.grade),
      charge: own(next.charge, pole.magnet.charge),
      diameter: own(next.diameter, pole.diameter),
      length: own(next.length, pole.length),
      up: own(next.up, up),
    }),
  };
}

/** Pole k taken out of its row, or put in again with what it had of its own. */
export function withFitted(pole: Pole, k: number, fitted: boolean): Pole {
  const { fitted: _, ...own } = pole.own?.[k] ?? AS_THE_ROW;
  return withSingle(pole, k, fitted ? (isAsTheRow(own) ? null : own) : { ...own, fitted });
}

/** Every pole but the one under string k + 1 left out, or all fitted again. */
export const withOthers = (pole: Pole, k: number, fitted: boolean): Pole =>
  pole.heights.reduce<Pole>((of, _, i) => (i === k ? of : withFitted(of, i, fitted)), pole);

const isAsTheRow = (own: OwnPole): boolean => Object.values(own).every((value) => value === null);

/** The rod under string k + 1 turned over; twice is as before. */
export function singleTurned(row: RowBuild, k: number): RowBuild {
  const turned = changeSingle(row, k, { up: upAt(row, k) === 'north' ? 'south' : 'north' });
  return isAsTheRow(turned.pole.own![k]!) ? { ...row, pole: withSingle(row.pole, k, null) } : turned;
}

/** Every single pole changed, of a row that has some. */
export const changeSingles = (pole: Pole, change: (single: OwnPole) => OwnPole): Pole =>
  pole.own ? { ...pole, own: pole.own.map((single) => single && change(single)) } : pole;
