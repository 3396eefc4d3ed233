/**
 * What one does to a pickup that is already built, a gesture each. Pure; each returns the changed sheet, or says why it
 * can't be done: what must be, what it would have come to, and what to do, or shortly why it does not apply.
 */
import { hasCoil } from '../shape/hasCoil.ts';
import { tipRoom } from '../shape/pole.ts';
import { standingPoles, topsOf } from '../shape/poleRow.ts';
import { isFitted, poleAt } from '../shape/singlePole.ts';
import type {
  BarMagnet,
  ChosenGrade,
  Cover,
  Magnet,
  OwnPole,
  PickupBuild,
  Pole,
  RowBuild,
  PlateMetal,
} from './build.ts';
import { checkSheet, type Checked } from './check.ts';
import { sameData } from './edit.ts';
import { FIGURES } from './figures.ts';
import { formatFigure } from './format.ts';
import { faultOf } from './reading.ts';
import type { Pickup, Sheet } from './sheet.ts';
import { changeSingles, singleTurned } from './singlePoles.ts';
import { withStartingSteel } from './startingBlocks.ts';
import { steelNames } from './steelWords.ts';

/** What a mod makes of a sheet, or why it can't. */
export type Modded = Checked;

interface Says {
  /** Where nothing would change. */
  readonly idle: string;
  /** What to do where the changed sheet breaks a rule, which is said before it. */
  readonly advice?: string;
}

const NO_BUILD = 'Mods change a build, and this pickup has none. Start from a build in Parts.';

const NO_COIL = 'The coil is off: there is nothing to unwind or to cover. Put it on in Parts.';

const refused = (...sentences: readonly string[]): Modded => ({
  ok: false,
  message: sentences.filter(Boolean).join(' '),
});

/** The digits that a typed figure keeps, so that 2.0 mm less 0.2 mm is 1.8 mm. */
const digits = (value: number): number => Number(value.toPrecision(12)) + 0;

const mm = (value: number): string => formatFigure(digits(value), 'modAmount');

/** In whole hundredths of a millimetre, so that what is advised can be done; a little slack for the last bit, m. */
const atMost = (length: number): string => mm(Math.floor(1e5 * length + 1e-6) / 1e5);

/** What was got, with all its digits where those shown would deny that it is beyond the limit. */
const got = (length: number, limit: string): string =>
  mm(length) === limit ? `${digits(1e3 * length)} mm` : mm(length);

/** Whether such advice is worth giving: one hundredth is left. */
const someLeft = (length: number): boolean => digits(length) >= 1e-5;

const buildOf = (sheet: Sheet, index: number): PickupBuild | null => sheet.pickups[index]?.build ?? null;

function onBuild(
  sheet: Sheet,
  index: number,
  change: (build: PickupBuild) => PickupBuild,
  { idle, advice = '' }: Says,
): Modded {
  const before = buildOf(sheet, index);
  if (!before) return refused(NO_BUILD);
  const build = change(before);
  if (sameData(build, before)) return refused(idle);
  const pickups = sheet.pickups.map((p, i) => (i === index ? { ...p, build } : p));
  const next = { ...sheet, pickups };
  const checked = checkSheet(next);
  return checked.ok ? { ok: true, sheet: next } : refused(checked.message, advice);
}

const onRows = (sheet: Sheet, index: number, change: (row: RowBuild) => RowBuild, says: Says): Modded =>
  onBuild(sheet, index, (build) => ({ ...build, rows: build.rows.map(change) }), says);

const onPoles = (sheet: Sheet, index: number, change: (pole: Pole) => Pole, says: Says): Modded =>
  onRows(sheet, index, (row) => ({ ...row, pole: change(row.pole) }), says);

const hasMagnet = ({ bars, rows }: PickupBuild): boolean =>
  bars.length > 0 || rows.some(({ pole }) => pole.kind === 'rod');

/** Why there is no magnet to do it to; empty when there is one. @param doing 'swap' */
function withoutMagnet(sheet: Sheet, index: number, doing: string): string {
  const build = buildOf(sheet, index);
  return build && !hasMagnet(build)
    ? `This pickup has no magnet to ${doing}: its poles are steel, without a bar.`
    : '';
}

/** Rods, single ones as well, and bars; what steel poles keep of a magnet stays. @param own what single rods lose of their own */
const onMagnets = (
  sheet: Sheet,
  index: number,
  change: (magnet: Magnet) => Magnet,
  own: Partial<OwnPole>,
  says: Says,
): Modded =>
  onBuild(
    sheet,
    index,
    (build) => ({
      ...build,
      bars: build.bars.map((bar) => ({ ...bar, magnet: change(bar.magnet) })),
      rows: build.rows.map((row) =>
        row.pole.kind === 'rod'
          ? {
              ...row,
              pole: changeSingles({ ...row.pole, magnet: change(row.pole.magnet) }, (one) => ({
                ...one,
                ...own,
              })),
            }
          : row,
      ),
    }),
    says,
  );

/** Other magnets of the same size. */
export const swapGrade = (sheet: Sheet, index: number, grade: ChosenGrade): Modded =>
  onMagnets(
    sheet,
    index,
    (magnet) => ({ ...magnet, grade }),
    { grade: null },
    { idle: withoutMagnet(sheet, index, 'swap') || `The magnets are ${grade} already.` },
  );

/** @param charge share of full magnetisation that every magnet then has */
export const partlyDemagnetise = (sheet: Sheet, index: number, charge: number): Modded =>
  onMagnets(
    sheet,
    index,
    (magnet) => ({ ...magnet, charge }),
    { charge: null },
    {
      idle:
        withoutMagnet(sheet, index, 'demagnetise') ||
        `The magnets are at ${formatFigure(charge, 'charge')} already.`,
    },
  );

const NO_POLES = 'This pickup has no poles to bevel: a blade or a bar stands in their place.';

/** Why no pole can be bevelled so far; empty when all can. */
function bevelFault({ rows }: PickupBuild, size: number): string {
  const fault = faultOf(size, 'tipSize');
  if (fault !== null) return fault;
  const most = rows.map(({ pole }) =>
    pole.kind === 'none'
      ? Infinity
      : Math.min(
          ...pole.heights.map((_, k) => {
            const { land, side } = tipRoom(poleAt(pole, k));
            return Math.min(land, side);
          }),
        ),
  );
  const least = Math.min(...most);
  if (least === Infinity) return NO_POLES;
  if (digits(size) <= digits(least)) return '';
  const r = most.indexOf(least);
  const row = rows[r]!.pole;
  const pole = row.heights
    .map((_, k) => poleAt(row, k))
    .find((one) => Math.min(tipRoom(one).land, tipRoom(one).side) === least)!;
  const { land, side } = tipRoom(pole);
  const what = `${pole.kind}s${rows.length > 1 ? ` of row ${r + 1}` : ''}`;
  const why =
    land <= side
      ? `so that a land is left on top of the ${what}`
      : `so that a side is left below it on the ${pole.kind === 'screw' ? `heads of the ${what}` : what}`;
  return `Bevel must be at most ${atMost(least)}, ${why}; got ${got(size, atMost(least))}. Choose a smaller one.`;
}

/** Bevels the tops of all poles at 45°. @param size of the chamfer, m; 0 makes them flat */
export function bevelPoles(sheet: Sheet, index: number, size: number): Modded {
  const build = buildOf(sheet, index);
  const fault = build ? bevelFault(build, size) : '';
  if (fault !== '') return refused(fault);
  const change = (pole: Pole): Pole => ({
    ...pole,
    tip: size === 0 ? { shape: 'flat', size: 0 } : { shape: 'chamfered', size },
  });
  return onPoles(sheet, index, change, {
    idle: size === 0 ? 'The pole tops are flat already.' : `The poles are bevelled by ${mm(size)} already.`,
  });
}

/** m; what is left of a screw under its head. */
const SHANK = 1e-4;

const polesAre = ({ kind }: Pick<Pole, 'kind'>): string =>
  kind === 'none' ? 'a blade or a bar stands in the place of poles' : `its poles are ${kind}s`;

/** The shortest that a screw can be cut to, m. */
const shortest = ({ head }: Pick<Pole, 'head'>): number =>
  Math.max(FIGURES.poleLength.min, head.height + SHANK);

/** Why the screws can't be cut by so much; empty when they can. */
function trimFault({ rows }: PickupBuild, by: number): string {
  const screws = rows
    .flatMap(({ pole }) => [pole, ...(pole.own ? pole.heights.map((_, k) => poleAt(pole, k)) : [])])
    .filter(({ kind }) => kind === 'screw');
  const rooms = screws.map((pole) => pole.length - shortest(pole));
  const room = Math.min(...rooms);
  const pole = screws[rooms.indexOf(room)];
  if (!pole) return `This pickup has no screws to trim: ${polesAre(rows[0]!.pole)}.`;
  if (digits(by) <= digits(room)) return '';
  const least = shortest(pole);
  const why = least > FIGURES.poleLength.min ? ', so that some is left under their heads' : '';
  const advice = someLeft(room) ? `Trim them by at most ${atMost(room)}.` : 'They can be trimmed no further.';
  return `Screws must stay at least ${mm(least)} long${why}; got ${got(pole.length - by, mm(least))}. ${advice}`;
}

/** Cuts the lower ends of the screws. @param by how much, m; below 0 puts longer ones in */
export function trimScrews(sheet: Sheet, index: number, by: number): Modded {
  const build = buildOf(sheet, index);
  const fault = build ? trimFault(build, by) : '';
  if (fault !== '') return refused(fault);
  const change = (pole: Pole): Pole =>
    pole.kind === 'screw'
      ? changeSingles({ ...pole, length: digits(pole.length - by) }, (one) => ({
          ...one,
          length: one.length === null ? null : digits(one.length - by),
        }))
      : pole;
  return onPoles(sheet, index, change, { idle: 'The screws stay as long as they are.' });
}

/** How far it can still be raised, or lowered for `by` below 0, as advice. */
function raiseAdvice({ gapBass, gapTreble }: PickupBuild, by: number): string {
  const { min, max } = FIGURES.gap;
  const room = by > 0 ? Math.min(gapBass, gapTreble) - min : max - Math.max(gapBass, gapTreble);
  const [doing, done] = by > 0 ? ['Raise', 'raised'] : ['Lower', 'lowered'];
  return someLeft(room) ? `${doing} it by at most ${atMost(room)}.` : `It can be ${done} no further.`;
}

/** Brings the whole pickup nearer to the strings. @param by how much, m; below 0 lowers it */
export function raise(sheet: Sheet, index: number, by: number): Modded {
  const build = buildOf(sheet, index);
  const change = (before: PickupBuild): PickupBuild => ({
    ...before,
    gapBass: digits(before.gapBass - by),
    gapTreble: digits(before.gapTreble - by),
  });
  return onBuild(sheet, index, change, {
    idle: 'The pickup stays where it is.',
    advice: build ? raiseAdvice(build, by) : '',
  });
}

/** How much can still be unwound, as advice. */
function unwindAdvice({ rows }: PickupBuild, share: number): string {
  if (share <= 0) return '';
  const fewest = Math.min(...rows.map(({ turns }) => turns));
  const { min } = FIGURES.turns;
  // Turns are whole: what comes to half a turn less than the fewest is rounded up to them.
  const most = Math.floor(100 * (1 - (min - 0.5) / fewest) + 1e-9);
  return fewest > min ? `Remove at most ${most} %.` : 'No more can be removed.';
}

/** Unwinds every coil. @param share of its turns that go, 0–1; below 0 winds more on */
export function removeTurns(sheet: Sheet, index: number, share: number): Modded {
  const build = buildOf(sheet, index);
  if (build && !hasCoil(build)) return refused(NO_COIL);
  const change = (row: RowBuild): RowBuild => ({
    ...row,
    turns: Math.round(digits(row.turns * (1 - share))),
  });
  return onRows(sheet, index, change, {
    idle: `The turns stay as they are: ${formatFigure(share, 'modTurns')} of them is less than one.`,
    advice: build ? unwindAdvice(build, share) : '',
  });
}

/** A cover to put on: of nickel silver, as most are, 0.4 mm thick and just over the poles. */
export function startingCover({ rows, bars, steel }: PickupBuild): Cover {
  const tops = [...bars, ...steel].map(({ top }) => top);
  const highest = Math.max(0, ...rows.flatMap(({ pole }) => topsOf(standingPoles(pole))), ...tops);
  return { metal: 'nickel silver', thickness: 0.0004, clearance: digits(highest + 0.0003), holes: 'none' };
}

/** Puts a cover on, closed and of this metal, or changes the metal of the one that is on; null takes it off. */
export function withCover(sheet: Sheet, index: number, metal: PlateMetal | null): Modded {
  if (!hasCoil(buildOf(sheet, index))) return refused(NO_COIL);
  const change = (build: PickupBuild): PickupBuild => ({
    ...build,
    cover: metal && { ...(build.cover ?? startingCover(build)), metal },
  });
  return onBuild(sheet, index, change, {
    idle: metal ? `The cover is of ${metal} already.` : 'This pickup has no cover to take off.',
  });
}

/** Which piece of steel is a keeper, a plate below every coil; −1 for none. */
export function keeperOf({ build, rows }: Pickup): number {
  if (!build) return -1;
  const names = steelNames(
    build,
    rows.map(({ offset }) => offset),
  );
  const lowest = hasCoil(build)
    ? Math.min(...build.rows.map(({ window }) => window.bottom))
    : Math.min(
        ...build.rows.flatMap(({ pole }) => topsOf(standingPoles(pole)).map((top) => top - pole.length)),
        0,
      );
  return build.steel.findIndex(({ top }, i) => names[i] === 'plate' && top <= lowest);
}

/** Puts a plate of steel under everything: against the feet of the poles, or the magnet below them. */
export function putKeeperUnder(sheet: Sheet, index: number): Modded {
  const pickup = sheet.pickups[index];
  if (!pickup?.build) return refused(NO_BUILD);
  if (keeperOf(pickup) >= 0) return refused('A keeper lies under this pickup already.');
  const build = withStartingSteel(pickup, 'keeper plate');
  if (!build) return refused('This pickup is too deep for a keeper below it, or has no room for more steel.');
  return onBuild(sheet, index, () => build, { idle: '' });
}

/** Takes away the plate that lies under everything. */
export function takeKeeperOff(sheet: Sheet, index: number): Modded {
  const pickup = sheet.pickups[index];
  const at = pickup ? keeperOf(pickup) : -1;
  const change = (build: PickupBuild): PickupBuild =>
    at < 0 ? build : { ...build, steel: build.steel.toSpliced(at, 1) };
  return onBuild(sheet, index, change, { idle: 'This pickup has no keeper to take off.' });
}

const other = (up: RowBuild['up']): RowBuild['up'] => (up === 'north' ? 'south' : 'north');

const turned = (bar: BarMagnet): BarMagnet => ({ ...bar, turned: !bar.turned });

/** Turns every bar and every rod over, so that what was north is south; twice is as before. */
export function turnMagnetOver(sheet: Sheet, index: number): Modded {
  const change = (build: PickupBuild): PickupBuild => ({
    ...build,
    bars: build.bars.map(turned),
    // Steel takes its polarity from the bars; what it says of its own follows, so that it goes on saying what is.
    rows: build.rows.map((row) =>
      build.bars.length > 0 || row.pole.kind === 'rod'
        ? {
            ...row,
            up: other(row.up),
            pole: changeSingles(row.pole, (one) => ({ ...one, up: one.up && other(one.up) })),
          }
        : row,
    ),
  });
  return onBuild(sheet, index, change, { idle: withoutMagnet(sheet, index, 'turn over') });
}

/** The rods of a pickup that can be turned over by themselves: row and pole from 0, the lowest string's first, and what each is called. */
export const singleRods = ({ rows }: PickupBuild): readonly { row: number; pole: number; name: string }[] =>
  rows.flatMap(({ pole }, r) =>
    pole.kind === 'rod'
      ? pole.heights
          .flatMap((_, k) =>
            isFitted(pole, k)
              ? [
                  {
                    row: r,
                    pole: k,
                    name: `under string ${k + 1}${rows.length > 1 ? `, row ${r + 1}` : ''}`,
                  },
                ]
              : [],
          )
          .toReversed()
      : [],
  );

/** Turns one rod over among the others. @param row @param pole from 0 */
export function turnPoleOver(sheet: Sheet, index: number, row: number, pole: number): Modded {
  const build = buildOf(sheet, index);
  if (build && !singleRods(build).some((rod) => rod.row === row && rod.pole === pole))
    return refused('Only a rod can be turned over by itself: steel takes its polarity from the bars.');
  const change = (before: PickupBuild): PickupBuild => ({
    ...before,
    rows: before.rows.map((of, r) => (r === row ? singleTurned(of, pole) : of)),
  });
  return onBuild(sheet, index, change, { idle: '' });
}
