/**
 * What one does to a pickup that is already built, a gesture each. Pure; each returns the very same sheet where it
 * does not apply: no build, nothing to change, or a part that would leave its limits.
 */
import type {
  BarMagnet,
  Cover,
  Magnet,
  MagnetGrade,
  PickupBuild,
  Pole,
  RowBuild,
  SheetMetal,
} from './build.ts';
import { checkSheet } from './check.ts';
import { sameData } from './edit.ts';
import type { Sheet } from './sheet.ts';

/** The digits that a typed figure keeps, so that 2.0 mm less 0.2 mm is 1.8 mm. */
const digits = (value: number): number => Number(value.toPrecision(12)) + 0;

function onBuild(sheet: Sheet, index: number, change: (build: PickupBuild) => PickupBuild): Sheet {
  const before = sheet.pickups[index]?.build;
  if (!before) return sheet;
  const build = change(before);
  if (sameData(build, before)) return sheet;
  const pickups = sheet.pickups.map((p, i) => (i === index ? { ...p, build } : p));
  const next = { ...sheet, pickups };
  return checkSheet(next).ok ? next : sheet;
}

const onRows = (sheet: Sheet, index: number, change: (row: RowBuild) => RowBuild): Sheet =>
  onBuild(sheet, index, (build) => ({ ...build, rows: build.rows.map(change) }));

const onPoles = (sheet: Sheet, index: number, change: (pole: Pole) => Pole): Sheet =>
  onRows(sheet, index, (row) => ({ ...row, pole: change(row.pole) }));

/** Rods and the bar; what steel poles keep of a magnet stays. */
const onMagnets = (sheet: Sheet, index: number, change: (magnet: Magnet) => Magnet): Sheet =>
  onBuild(sheet, index, (build) => ({
    ...build,
    bar: build.bar && { ...build.bar, magnet: change(build.bar.magnet) },
    rows: build.rows.map((row) =>
      row.pole.kind === 'rod' ? { ...row, pole: { ...row.pole, magnet: change(row.pole.magnet) } } : row,
    ),
  }));

/** Other magnets of the same size. */
export const swapGrade = (sheet: Sheet, index: number, grade: MagnetGrade): Sheet =>
  onMagnets(sheet, index, (magnet) => ({ ...magnet, grade }));

/** @param charge share of full magnetisation that every magnet then has */
export const partlyDemagnetise = (sheet: Sheet, index: number, charge: number): Sheet =>
  onMagnets(sheet, index, (magnet) => ({ ...magnet, charge }));

/** Largest chamfer that leaves a land on top and a side below it, m. */
function largestBevel({ kind, diameter, length, head }: Pole): number {
  return kind === 'screw'
    ? Math.min(0.49 * head.diameter, 0.9 * head.height)
    : Math.min(0.49 * diameter, 0.9 * length);
}

/** Bevels the tops of all poles at 45°. @param size of the chamfer, m; 0 makes them flat */
export function bevelPoles(sheet: Sheet, index: number, size: number): Sheet {
  const tooMuch = sheet.pickups[index]?.build?.rows.some(({ pole }) => size > largestBevel(pole));
  if (tooMuch) return sheet;
  return onPoles(sheet, index, (pole) => ({
    ...pole,
    tip: size === 0 ? { shape: 'flat', size: 0 } : { shape: 'chamfered', size },
  }));
}

/** Cuts the lower ends of the screws. @param by how much, m; below 0 puts longer ones in */
export const trimScrews = (sheet: Sheet, index: number, by: number): Sheet =>
  onPoles(sheet, index, (pole) => {
    const length = digits(pole.length - by);
    return pole.kind === 'screw' && length > pole.head.height ? { ...pole, length } : pole;
  });

/** Brings the whole pickup nearer to the strings. @param by how much, m; below 0 lowers it */
export const raise = (sheet: Sheet, index: number, by: number): Sheet =>
  onBuild(sheet, index, (build) => ({
    ...build,
    gapBass: digits(build.gapBass - by),
    gapTreble: digits(build.gapTreble - by),
  }));

/** Unwinds every coil. @param share of its turns that go, 0–1; below 0 winds more on */
export const removeTurns = (sheet: Sheet, index: number, share: number): Sheet =>
  onRows(sheet, index, (row) => ({ ...row, turns: Math.round(digits(row.turns * (1 - share))) }));

/** A cover to put on: of nickel silver, as most are, 0.4 mm thick and just over the poles. */
export function startingCover({ rows }: PickupBuild): Cover {
  const highest = Math.max(0, ...rows.flatMap(({ pole }) => pole.heights));
  return { metal: 'nickel silver', thickness: 0.0004, clearance: digits(highest + 0.0003), holes: 'none' };
}

/** Puts a cover on, closed and of this metal, or changes the metal of the one that is on; null takes it off. */
export const withCover = (sheet: Sheet, index: number, metal: SheetMetal | null): Sheet =>
  onBuild(sheet, index, (build) => ({
    ...build,
    cover: metal && { ...(build.cover ?? startingCover(build)), metal },
  }));

const turned = (bar: BarMagnet): BarMagnet => ({ ...bar, turned: !bar.turned });

/** Turns the bar and every rod over, so that what was north is south; twice is as before. */
export function turnMagnetOver(sheet: Sheet, index: number): Sheet {
  return onBuild(sheet, index, (build) => ({
    ...build,
    bar: build.bar && turned(build.bar),
    // Steel takes its polarity from the bar; what it says of its own follows, so that it goes on saying what is.
    rows: build.rows.map((row) =>
      build.bar || row.pole.kind === 'rod' ? { ...row, up: row.up === 'north' ? 'south' : 'north' } : row,
    ),
  }));
}
