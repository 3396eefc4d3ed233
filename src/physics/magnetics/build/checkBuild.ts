/** What is wrong with a build, in words, at the field that causes it. */
import { PLATE_WORDS, PLATES, type PlateName } from '../../../shape/plates.ts';
import type { BuiltBar, BuiltPickup, BuiltSteel, BuiltPole, BuiltRow, BuiltWinding } from './build.ts';
import { checkCover } from './checkCover.ts';
import { checkBlocks } from './checkBlocks.ts';
import { checkPlaces } from './checkPlaces.ts';
import { Faults, mm } from './faults.ts';
import type { BuildFault } from './faults.ts';

export type { BuildFault } from './faults.ts';

/** Of plates, m. */
const THICKEST: Readonly<Record<PlateName, number>> = { cover: 1.5e-3, basePlate: 3e-3 };

/** Every fault, the most basic ones first; empty when the field can be computed. */
export function checkBuild(build: BuiltPickup): readonly BuildFault[] {
  const faults = new Faults();
  const rows = build.rows.length;
  if (!faults.must(rows === 1 || rows === 2, 'rows', `A pickup must have one or two rows; got ${rows}.`)) {
    return faults.list;
  }
  build.rows.forEach((row, i) => checkRow(faults, row, `rows[${i}]`));
  build.bars.forEach((bar, i) => checkBar(faults, bar, `bars[${i}]`));
  build.steel?.forEach((piece, i) => checkBox(faults, piece, `steel[${i}]`, 'A piece of steel', 4e-4));
  faults.length(build.gapBass, 'gapBass', 'The gap on the bass side', 0, 0.02);
  faults.length(build.gapTreble, 'gapTreble', 'The gap on the treble side', 0, 0.02);
  faults.must(
    build.fretboardRadius > 0.1,
    'fretboardRadius',
    `The fretboard radius must be above 100 mm; got ${mm(build.fretboardRadius)}.`,
  );
  for (const name of PLATES) {
    const plate = build[name];
    if (!plate) continue;
    faults.length(
      plate.thickness,
      `${name}.thickness`,
      `The ${PLATE_WORDS[name]}’s thickness`,
      0,
      THICKEST[name],
    );
  }
  if (build.cover)
    faults.length(build.cover.clearance, 'cover.clearance', 'The underside of the cover', -0.01, 0.01);
  // Positions mean nothing while sizes are wrong.
  if (faults.list.length === 0) {
    checkPlaces(faults, build);
    checkBlocks(faults, build);
  }
  if (faults.list.length === 0) checkCover(faults, build);
  return faults.list;
}

function checkRow(faults: Faults, row: BuiltRow, path: string): void {
  faults.length(row.offset, `${path}.offset`, 'The row’s offset', -0.05, 0.05);
  faults.length(row.pitch, `${path}.pitch`, 'The pole pitch', 0, 0.03);
  faults.must(
    row.heights.length <= 12,
    `${path}.heights`,
    `A row must have 12 poles at most; got ${row.heights.length}.`,
  );
  row.heights.forEach((height, k) => {
    if (height === null) return;
    faults.length(height, `${path}.heights[${k}]`, 'A pole’s height', -0.01, 0.01);
  });
  if (row.heights.length > 0) {
    checkPole(faults, row.pole, `${path}.pole`);
    row.own?.forEach((pole, k) => pole && checkPole(faults, pole, `${path}.own[${k}]`));
  }
  if (row.winding) checkWinding(faults, row.winding, path);
}

function checkWinding(faults: Faults, winding: BuiltWinding, path: string): void {
  faults.length(winding.straight, `${path}.winding.straight`, 'The straight side', 0, 0.12, false);
  faults.length(winding.inner, `${path}.winding.inner`, 'The coil’s inner radius', 0, 0.05);
  faults.length(winding.edge, `${path}.winding.edge`, 'The bobbin’s edge', winding.inner, 0.06);
  faults.length(winding.top, `${path}.winding.top`, 'The winding’s top', winding.bottom, 0.01);
  faults.length(winding.bottom, `${path}.winding.bottom`, 'The winding’s bottom', -0.05, 0.01);
  faults.length(winding.wire, `${path}.winding.wire`, 'The wire’s diameter', 1e-5, 1e-3);
  faults.must(
    Number.isFinite(winding.turns) && winding.turns >= 1 && winding.turns <= 1e5,
    `${path}.winding.turns`,
    `The turns must be 1 to 100000; got ${winding.turns}. A coil without turns hears nothing.`,
  );
  faults.must(
    winding.packing > 0.2 && winding.packing <= 1.15,
    `${path}.winding.packing`,
    `The packing must be above 0.2 and at most 1.15; got ${winding.packing}.`,
  );
}

function checkPole(faults: Faults, pole: BuiltPole, path: string): void {
  faults.length(pole.diameter, `${path}.diameter`, 'A pole’s diameter', 5e-4, 0.02);
  faults.length(pole.length, `${path}.length`, 'A pole’s length', 1e-3, 0.06);
  let room = pole.length;
  let top = pole.diameter;
  if (pole.kind === 'rod') checkStrength(faults, pole.strength, path);
  else {
    if (pole.shank) {
      faults.length(pole.shank.diameter, `${path}.shank.diameter`, 'The shank', 0, pole.diameter);
      faults.length(pole.shank.length, `${path}.shank.length`, 'The shank', 0, 0.999 * pole.length);
      room -= pole.shank.length;
    }
    if (pole.head) {
      checkHead(faults, pole.head, pole.diameter, room, path);
      room = pole.head.height;
      top = pole.head.diameter;
    }
  }
  const { tip } = pole;
  if (tip.shape === 'flat') return;
  const within = `It must end within the ${pole.kind === 'steel' && pole.head ? 'head' : 'pole'}.`;
  faults.length(tip.depth, `${path}.tip.depth`, 'The tip’s depth', 0, 0.999 * room, true, within);
  if (tip.shape === 'chamfered') {
    faults.length(tip.width, `${path}.tip.width`, 'The bevel', 0, 0.495 * top, true, 'A land must be left.');
  } else if (tip.shape === 'coned') {
    faults.length(tip.flat, `${path}.tip.flat`, 'The cone’s flat', 0, 0.999 * top);
  } else {
    faults.length(
      tip.depth,
      `${path}.tip.depth`,
      'A dome’s depth',
      0,
      0.5 * top,
      true,
      'A dome is half a ball at most.',
    );
  }
}

/** @param below length of the pole down to its shank, m */
function checkHead(
  faults: Faults,
  head: { readonly diameter: number; readonly height: number },
  diameter: number,
  below: number,
  path: string,
): void {
  const wider = 'A head is wider than its screw.';
  faults.length(head.diameter, `${path}.head.diameter`, 'The head’s diameter', diameter, 0.02, true, wider);
  faults.length(head.height, `${path}.head.height`, 'The head’s height', 0, 0.06);
  if (!(head.height > 0.999 * below)) return;
  // Which of the two was meant is not known: a screw may have been trimmed into its head.
  const message = `A screw must be longer than its head is high, ${mm(head.height)}; got ${mm(below)}. Use a lower head, or trim less off the screw.`;
  for (const field of ['head.height', 'length']) faults.must(false, `${path}.${field}`, message);
}

function checkStrength(faults: Faults, strength: number, path: string): void {
  faults.must(
    strength > 0 && strength <= 1,
    `${path}.strength`,
    `The magnetisation must be above 0 and at most 1 (fully magnetised); got ${strength}.`,
  );
}

/** @param thinnest that the engine takes, m */
function checkBox(
  faults: Faults,
  { size, centre }: BuiltSteel | BuiltBar,
  path: string,
  what: string,
  thinnest: number,
): void {
  for (const axis of ['x', 'y', 'z'] as const) {
    faults.length(size[axis], `${path}.size.${axis}`, `${what}’s edge`, thinnest, 0.15);
    faults.length(centre[axis], `${path}.centre.${axis}`, `${what}’s place`, -0.1, 0.1);
  }
}

function checkBar(faults: Faults, bar: BuiltBar, path: string): void {
  checkBox(faults, bar, path, 'A bar', 2e-4);
  checkStrength(faults, bar.strength, path);
}

/** Raised by the field's top function for a build with faults; each names its field. */
export class BuildError extends RangeError {
  constructor(readonly faults: readonly BuildFault[]) {
    super(faults.map((fault) => fault.message).join(' '));
    this.name = 'BuildError';
  }
}
