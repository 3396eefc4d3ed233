/**
 * What the field engine is asked about a pickup: only what its field depends on, so that two sheets with the same
 * question share the answer (where a string is tuned, stopped or plucked is left out). Light enough for the page.
 */
import type {
  BarMagnet,
  BasePlate,
  Cover,
  Pickup,
  PickupBuild,
  Pole,
  RowBuild,
  Sheet,
  SteelBox,
  WrapMetal,
} from '../sheet/sheet.ts';
import { hasCoil } from '../shape/hasCoil.ts';
import { blockPart, coverPart } from '../shape/parts.ts';
import { poleForm } from '../shape/pole.ts';
import { OWN_GRADE, OWN_STEEL, POLE_STEEL, type ChosenGrade, type ChosenSteel } from '../shape/materials.ts';
import { STARTING_GRADE } from '../shape/ownGrade.ts';
import { STARTING_STEEL } from '../shape/ownSteel.ts';
import { standingPoles } from '../shape/poleRow.ts';
import { differs, poleAt, upAt } from '../shape/singlePole.ts';
import { acrossPickup } from '../shape/stringCourse.ts';
import type * as engine from './magnetics/build/build.ts';
import {
  gradeAt,
  ownMaterial,
  PLATE_RESISTIVITY,
  type GivenGrade,
  type GivenSteel,
} from './magnetics/materials/materials.ts';

/** Plain data; equal as JSON when the answer is equal. */
export interface FieldQuestion {
  readonly build: engine.BuiltPickup;
  /** String 1 first. */
  readonly strings: readonly CrossingString[];
  /** As the sheet's pickups have it, rad. */
  readonly slant: number;
}

/** What a field depends on of a string; diameters in m. */
export interface CrossingString {
  /** Where it crosses the pickup, from the centre line, m, positive on the treble side. */
  readonly y: number;
  readonly coreDiameter: number;
  readonly outerDiameter: number;
  /** Of what it is wound; null for a plain string. */
  readonly wrap: WrapMetal | null;
}

/**
 * Turns for each square of the wire's overall diameter, as a winding machine lays them (common practice: 0.8–0.9).
 */
export const PACKING = 0.85;

/**
 * m; a place across is rounded to this, so that a pickup dragged along its strings, which run together by a few hundredths
 * of a millimetre a millimetre, keeps its answer for a while. Half of it changes a level by less than 0.05 %.
 */
const PLACE_STEP = 5e-5;

/** m; a string that crosses so far from where it was, two of those steps, is heard less than 0.3 dB louder or softer. */
const NEAR = 2.5 * PLACE_STEP;

/** What the engine is asked about a pickup of a checked sheet, by its index; null without a build. */
export function fieldQuestion(sheet: Sheet, index: number): FieldQuestion | null {
  const pickup = sheet.pickups[index];
  if (!pickup?.build) return null;
  return {
    build: engineBuild(pickup, pickup.build, sheet.instrument.radius, metalsOf(sheet, pickup.build)),
    strings: sheet.instrument.strings.map((spec, i): CrossingString => {
      const at = acrossPickup(sheet.instrument, pickup, i + 1);
      return {
        y: Math.round(at / PLACE_STEP) * PLACE_STEP,
        coreDiameter: spec.core,
        outerDiameter: spec.diameter,
        wrap: spec.construction === 'wound' ? spec.wrap : null,
      };
    }),
    slant: pickup.slant,
  };
}

/**
 * What the charges on magnets and steel depend on; equal texts have equal charges. Gaps, radius and strings only say where
 * the field is asked for, and neither windings nor metal sheets magnetise anything.
 */
export const chargesKey = ({ rows, bars, steel = [] }: engine.BuiltPickup): string =>
  JSON.stringify([
    rows.map(({ offset, pitch, pole, heights, own }) => [offset, pitch, pole, heights, own]),
    bars,
    steel,
  ]);

/** All that a field depends on but the heights of its strings; equal texts lie on one ladder. */
export const withoutHeights = ({ build, strings, slant }: FieldQuestion): string =>
  JSON.stringify([{ ...build, gapBass: 0, gapTreble: 0, fretboardRadius: 0 }, strings, slant]);

/** Whether two questions differ by no more than where the strings cross, and by a tenth of a millimetre there at most. */
export function nearlySame(a: FieldQuestion, b: FieldQuestion): boolean {
  const without = ({ build, strings, slant }: FieldQuestion): string =>
    JSON.stringify([build, strings.map((string) => ({ ...string, y: 0 })), slant]);
  return (
    a.strings.every(({ y }, i) => Math.abs(y - (b.strings[i]?.y ?? Infinity)) <= NEAR) &&
    without(a) === without(b)
  );
}

/** What the engine is given for a grade's name. */
interface Metals {
  readonly magnet: (grade: ChosenGrade) => GivenGrade;
  readonly steel: (grade: ChosenSteel) => GivenSteel;
}

/** Magnets at the sheet's temperature; the own grade is given as it is there. */
const metalsOf = ({ magnets }: Sheet, { coilSteel }: PickupBuild): Metals => ({
  magnet: (grade) =>
    grade === OWN_GRADE
      ? ownMaterial(magnets?.own ?? STARTING_GRADE)
      : gradeAt(grade, magnets?.temperature ?? 20),
  steel: (grade) => {
    const of = grade === OWN_STEEL ? (magnets?.ownSteel ?? STARTING_STEEL) : grade;
    if (typeof of === 'string' && !coilSteel) return of;
    const { mu = null, relaxation = null } = coilSteel ?? {};
    return {
      of,
      ...(mu !== null && { alternating: mu }),
      ...(relaxation !== null && { relaxation }),
    };
  },
});

function engineBuild(pickup: Pickup, build: PickupBuild, radius: number, metals: Metals): engine.BuiltPickup {
  return {
    rows: build.rows.map((row, i) => ({
      ...engineRow(row, pickup.rows[i]?.offset ?? 0, build.pitch, metals),
      winding: hasCoil(build) ? engineWinding(row) : null,
    })),
    bars: build.bars.map((bar) => engineBar(bar, metals)),
    ...(build.steel.length > 0 && {
      steel: build.steel.map((box) => engineSteel(box, metals)),
    }),
    ...(build.cover && { cover: engineCover(build.cover, build.rows.length) }),
    ...(build.basePlate && { basePlate: enginePlate(build.basePlate) }),
    gapBass: build.gapBass,
    gapTreble: build.gapTreble,
    fretboardRadius: radius,
  };
}

const engineSteel = (box: SteelBox, metals: Metals): engine.BuiltSteel => ({
  grade: metals.steel(box.steel),
  ...blockPart(box),
});

const enginePlate = ({ metal, thickness }: BasePlate): engine.BuiltPlate => ({
  resistivity: PLATE_RESISTIVITY[metal],
  thickness,
});

const engineCover = (cover: Cover, rows: number): engine.BuiltCover => ({
  ...enginePlate(cover),
  ...coverPart(cover, rows),
});

const engineWinding = ({ window, turns, wire, wound }: RowBuild): engine.BuiltWinding => ({
  straight: window.straight,
  inner: window.inner,
  edge: window.outer,
  bottom: window.bottom,
  top: window.top,
  turns,
  wire: wire.conductor,
  enamel: wire.enamel,
  packing: PACKING,
  direction: wound === 'anticlockwise' ? 1 : -1,
});

function engineRow(row: RowBuild, offset: number, pitch: number, metals: Metals) {
  const { pole, up } = row;
  const own = pole.heights.map((_, k) =>
    differs(row, k) ? enginePole(poleAt(pole, k), upAt(row, k), metals) : null,
  );
  return {
    offset,
    pitch,
    pole: enginePole(pole, up, metals),
    heights: standingPoles(pole),
    ...(own.some((single) => single !== null) && { own }),
  } as const satisfies Omit<engine.BuiltRow, 'winding'>;
}

function enginePole(pole: Omit<Pole, 'own'>, up: RowBuild['up'], metals: Metals): engine.BuiltPole {
  const { diameter, length, head = null, tip } = poleForm(pole);
  if (pole.kind === 'rod') {
    const grade = metals.magnet(pole.magnet.grade);
    return {
      kind: 'rod',
      grade,
      strength: pole.magnet.charge,
      facing: up,
      diameter,
      length,
      tip,
    };
  }
  return {
    kind: 'steel',
    steel: metals.steel(pole.steel ?? POLE_STEEL),
    diameter,
    length,
    head,
    shank: null,
    tip,
  };
}

const AXES = { 'across the width': 'x', 'along the length': 'y', 'through the thickness': 'z' } as const;

/** Not turned, north stands towards the nut, on the treble side, or up: where x, y and z point. */
function engineBar(bar: BarMagnet, metals: Metals): engine.BuiltBar {
  const { magnet, direction, turned } = bar;
  return {
    grade: metals.magnet(magnet.grade),
    strength: magnet.charge,
    ...blockPart(bar),
    axis: AXES[direction],
    sign: turned ? -1 : 1,
  };
}
