/** What is wrong with a build, in words, at the field that causes it. */
import type { BarBuild, PickupBuild, PoleBuild, RowBuild } from './build.ts';
import { polePlaces } from './build.ts';
import { overallDiameter, woundRadius } from './wire.ts';

export interface BuildFault {
  /** Where in the build, for instance `rows[0].winding.turns`. */
  readonly path: string;
  /** What must be; what it is; what to do. */
  readonly message: string;
}

class Faults {
  readonly list: BuildFault[] = [];

  must(holds: boolean, path: string, message: string): boolean {
    if (!holds) this.list.push({ path, message });
    return holds;
  }

  /** Finite and within limits; metres are shown as millimetres. */
  length(value: number, path: string, what: string, least: number, most: number, open = true): boolean {
    const above = open ? value > least : value >= least;
    return this.must(
      Number.isFinite(value) && above && value <= most,
      path,
      `${what} must be ${open ? 'above' : 'at least'} ${mm(least)} and at most ${mm(most)}; got ${mm(value)}.`,
    );
  }
}

function mm(metres: number): string {
  return `${Number((1e3 * metres).toPrecision(4))} mm`;
}

/** Every fault, the most basic ones first; empty when the field can be computed. */
export function checkBuild(build: PickupBuild): readonly BuildFault[] {
  const faults = new Faults();
  const rows = build.rows.length;
  if (!faults.must(rows === 1 || rows === 2, 'rows', `A pickup must have one or two rows; got ${rows}.`)) {
    return faults.list;
  }
  build.rows.forEach((row, i) => checkRow(faults, row, `rows[${i}]`));
  build.bars.forEach((bar, i) => checkBar(faults, bar, `bars[${i}]`));
  faults.length(build.gapBass, 'gapBass', 'The gap on the bass side', 0, 0.02);
  faults.length(build.gapTreble, 'gapTreble', 'The gap on the treble side', 0, 0.02);
  faults.must(
    build.fretboardRadius > 0.1,
    'fretboardRadius',
    `The fretboard radius must be above 100 mm; got ${mm(build.fretboardRadius)}.`,
  );
  // Positions mean nothing while sizes are wrong.
  if (faults.list.length === 0) checkTogether(faults, build);
  return faults.list;
}

function checkRow(faults: Faults, row: RowBuild, path: string): void {
  faults.length(row.offset, `${path}.offset`, 'The row’s offset', -0.05, 0.05);
  faults.length(row.pitch, `${path}.pitch`, 'The pole pitch', 0, 0.03);
  faults.must(
    row.heights.length >= 1 && row.heights.length <= 12,
    `${path}.heights`,
    `A row must have 1 to 12 poles; got ${row.heights.length}.`,
  );
  row.heights.forEach((height, k) => {
    faults.length(height, `${path}.heights[${k}]`, 'A pole’s height', -0.01, 0.01);
  });
  checkPole(faults, row.pole, `${path}.pole`);
  const { winding } = row;
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

function checkPole(faults: Faults, pole: PoleBuild, path: string): void {
  faults.length(pole.diameter, `${path}.diameter`, 'A pole’s diameter', 5e-4, 0.02);
  faults.length(pole.length, `${path}.length`, 'A pole’s length', 1e-3, 0.06);
  let room = pole.length;
  let top = pole.diameter;
  if (pole.kind === 'rod') checkCharge(faults, pole.charge, path);
  else {
    if (pole.shank) {
      faults.length(pole.shank.diameter, `${path}.shank.diameter`, 'The shank', 0, pole.diameter);
      faults.length(pole.shank.length, `${path}.shank.length`, 'The shank', 0, 0.999 * pole.length);
      room -= pole.shank.length;
    }
    if (pole.head) {
      faults.length(pole.head.diameter, `${path}.head.diameter`, 'The head', pole.diameter, 0.02);
      faults.length(pole.head.height, `${path}.head.height`, 'The head', 0, 0.999 * room);
      room = pole.head.height;
      top = pole.head.diameter;
    }
  }
  const { tip } = pole;
  if (tip.shape === 'flat') return;
  faults.length(tip.depth, `${path}.tip.depth`, 'The tip’s depth', 0, 0.999 * room);
  if (tip.shape === 'chamfered') {
    faults.length(tip.width, `${path}.tip.width`, 'The bevel', 0, 0.495 * top);
  } else if (tip.shape === 'coned') {
    faults.length(tip.flat, `${path}.tip.flat`, 'The cone’s flat', 0, 0.999 * top);
  } else {
    faults.length(tip.depth, `${path}.tip.depth`, 'A dome’s depth', 0, 0.5 * top);
  }
}

function checkCharge(faults: Faults, charge: number, path: string): void {
  faults.must(
    charge > 0 && charge <= 1,
    `${path}.charge`,
    `The charge must be above 0 and at most 1 (fully magnetised); got ${charge}.`,
  );
}

function checkBar(faults: Faults, bar: BarBuild, path: string): void {
  for (const axis of ['x', 'y', 'z'] as const) {
    faults.length(bar.size[axis], `${path}.size.${axis}`, 'A bar’s edge', 2e-4, 0.15);
    faults.length(bar.centre[axis], `${path}.centre.${axis}`, 'A bar’s place', -0.1, 0.1);
  }
  checkCharge(faults, bar.charge, path);
}

/** A cylinder that a pole fills or stays within, m. */
interface Part {
  readonly row: number;
  readonly x: number;
  readonly y: number;
  readonly bottom: number;
  readonly top: number;
  readonly radius: number;
}

function parts(build: PickupBuild): readonly Part[] {
  return build.rows.flatMap((row, i) =>
    polePlaces(row).flatMap((y, k) => {
      const { pole } = row;
      const top = row.heights[k]!;
      const bottom = top - pole.length;
      const base = { row: i, x: row.offset, y };
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

function checkTogether(faults: Faults, build: PickupBuild): void {
  const all = parts(build);
  build.rows.forEach((row, i) => {
    const widest = Math.max(...all.filter((part) => part.row === i).map((part) => 2 * part.radius));
    faults.must(
      row.heights.length === 1 || row.pitch >= widest + CLEARANCE,
      `rows[${i}].pitch`,
      `The pole pitch must be more than the poles are wide, ${mm(widest)}; got ${mm(row.pitch)}: they overlap.`,
    );
    checkWinding(
      faults,
      row,
      all.filter((part) => part.row === i),
      `rows[${i}].winding`,
    );
  });
  const [first, second] = build.rows;
  if (first && second) {
    const meet = all.some((a) =>
      all.some(
        (b) =>
          a.row < b.row &&
          overlaps(a, b) &&
          Math.hypot(a.x - b.x, a.y - b.y) < a.radius + b.radius + CLEARANCE,
      ),
    );
    faults.must(
      !meet,
      'rows[1].offset',
      `The rows must be far enough apart for their poles; got ${mm(Math.abs(first.offset - second.offset))}: they overlap.`,
    );
  }
  build.bars.forEach((bar, i) => {
    const hit = all.find((part) => barMeets(bar, part));
    faults.must(
      hit === undefined,
      `bars[${i}].centre`,
      `A bar must lie beside or under the poles; this one runs through a pole of row ${(hit?.row ?? 0) + 1}. Move it or make it smaller.`,
    );
    const other = build.bars.findIndex((b, k) => k < i && barsMeet(bar, b));
    faults.must(
      other < 0,
      `bars[${i}].centre`,
      `Two bars must not overlap; this one runs into bar ${other + 1}.`,
    );
  });
  checkGaps(faults, build);
}

function overlaps(a: { bottom: number; top: number }, b: { bottom: number; top: number }): boolean {
  return a.bottom < b.top && b.bottom < a.top;
}

function checkWinding(faults: Faults, row: RowBuild, poles: readonly Part[], path: string): void {
  const { winding } = row;
  const inside = poles.filter((part) => overlaps(part, winding));
  const half = 0.5 * winding.straight;
  const needed = Math.max(0, ...inside.map((part) => part.radius + Math.max(0, Math.abs(part.y) - half)));
  faults.must(
    winding.inner >= needed,
    `${path}.inner`,
    `The coil must clear its poles: its inner radius must be at least ${mm(needed)}; got ${mm(winding.inner)}, inside the metal.`,
  );
  const overall = overallDiameter(winding.wire, winding.enamel);
  const outer = woundRadius(
    winding.inner,
    winding.top - winding.bottom,
    winding.turns,
    overall,
    winding.packing,
  );
  faults.must(
    outer <= winding.edge,
    `${path}.turns`,
    `The turns must fit the bobbin: these reach ${mm(outer)} and its edge is at ${mm(winding.edge)}. Use fewer turns or thinner wire.`,
  );
}

function barMeets(bar: BarBuild, part: Part): boolean {
  const zone = { bottom: bar.centre.z - 0.5 * bar.size.z, top: bar.centre.z + 0.5 * bar.size.z };
  if (!overlaps(part, zone)) return false;
  const dx = Math.max(0, Math.abs(part.x - bar.centre.x) - 0.5 * bar.size.x);
  const dy = Math.max(0, Math.abs(part.y - bar.centre.y) - 0.5 * bar.size.y);
  return Math.hypot(dx, dy) < part.radius;
}

function barsMeet(a: BarBuild, b: BarBuild): boolean {
  return (['x', 'y', 'z'] as const).every(
    (axis) => Math.abs(a.centre[axis] - b.centre[axis]) < 0.5 * (a.size[axis] + b.size[axis]),
  );
}

/** The nearest a string may come to a pole, m: below, the rings' charges show one by one. */
const NEAREST = 2e-4;

function checkGaps(faults: Faults, build: PickupBuild): void {
  build.rows.forEach((row) => {
    const treble = row.heights[0]!;
    const bass = row.heights[row.heights.length - 1]!;
    faults.must(
      build.gapTreble >= treble + NEAREST,
      'gapTreble',
      `The treble string must clear its pole by ${mm(NEAREST)}; the gap is ${mm(build.gapTreble - treble)}.`,
    );
    faults.must(
      build.gapBass >= bass + NEAREST,
      'gapBass',
      `The bass string must clear its pole by ${mm(NEAREST)}; the gap is ${mm(build.gapBass - bass)}.`,
    );
  });
}

/** Raised by the field's top function for a build with faults; each names its field. */
export class BuildError extends RangeError {
  constructor(readonly faults: readonly BuildFault[]) {
    super(faults.map((fault) => fault.message).join(' '));
    this.name = 'BuildError';
  }
}
