/**
 * The part of a sheet's check that concerns a pickup's build: structure, ranges, and what each part must obey by
 * itself. Whether the parts leave each other room is for the field's computation to say, which knows their shapes.
 */
import {
  asFields,
  choice,
  choiceOrNone,
  figure,
  figureIn,
  figureOrNone,
  flag,
  group,
  groupOrNone,
  groupOrNoneIn,
  list,
  orDefault,
  refuse,
  type Fields,
} from './fault.ts';
import { CHOSEN_GRADES, CHOSEN_STEELS, MAGNETIC_METALS, PLATE_METALS } from '../shape/materials.ts';
import { formatFigure } from './format.ts';
import type {
  BarMagnet,
  BasePlate,
  Cover,
  Magnet,
  OwnPole,
  PickupBuild,
  PlateMetal,
  Pole,
  RowBuild,
  SteelBox,
  Window,
} from './build.ts';

export const HOLES = ['none', 'row 1', 'row 2', 'every row'] as const;

/** Bars of a pickup, and pieces of steel. */
export const MOST_BLOCKS = 8;

export const DIRECTIONS = ['across the width', 'through the thickness', 'along the length'] as const;

const TIPS = ['flat', 'chamfered', 'coned', 'domed'] as const;

function checkMagnet(fields: Fields, where: string): Magnet {
  return {
    grade: choice(fields, 'grade', CHOSEN_GRADES, where, 'Magnet grade'),
    charge: figure(fields, 'charge', 'charge', where),
  };
}

function checkOwn(fields: Fields, where: string): OwnPole {
  return {
    grade: choiceOrNone(fields, 'grade', CHOSEN_GRADES, where, 'Magnet grade'),
    charge: figureOrNone(fields, 'charge', 'charge', where),
    diameter: figureOrNone(fields, 'diameter', 'poleDiameter', where),
    length: figureOrNone(fields, 'length', 'poleLength', where),
    up: choiceOrNone(fields, 'up', ['north', 'south'], where, 'Pole that is up'),
    ...orDefault<Pick<OwnPole, 'fitted'>>(fields, 'fitted', {}, () =>
      flag(fields, 'fitted', where, 'Whether it is fitted') ? {} : { fitted: false },
    ),
  };
}

/** A row of poles that are all alike has no list. */
function checkOwns(fields: Fields, where: string, poles: number): Pick<Pole, 'own'> {
  const own = orDefault(fields, 'own', [], () =>
    list(fields, 'own', where, 'Single poles (one a string)', poles, poles).map((_, i, list) => {
      const which = `${where}, pole ${i + 1}`;
      const single = groupOrNoneIn(list, i, which, 'Single pole');
      return single && checkOwn(single, which);
    }),
  );
  return own.some((single) => single !== null) ? { own } : {};
}

function checkPole(fields: Fields, where: string, poles: number): Pole {
  const tip = group(fields, 'tip', where, 'Tip');
  const head = group(fields, 'head', where, 'Screw head');
  return {
    kind: choice(fields, 'kind', ['rod', 'slug', 'screw', 'none'], where, 'Kind of pole'),
    magnet: checkMagnet(group(fields, 'magnet', where, 'Magnet'), where),
    ...orDefault<Pick<Pole, 'steel'>>(fields, 'steel', {}, () => ({
      steel: choice(fields, 'steel', CHOSEN_STEELS, where, 'Steel grade'),
    })),
    diameter: figure(fields, 'diameter', 'poleDiameter', where),
    length: figure(fields, 'length', 'poleLength', where),
    tip: {
      shape: choice(tip, 'shape', TIPS, where, 'Shape of the tip'),
      size: figure(tip, 'size', 'tipSize', where),
    },
    head: {
      diameter: figure(head, 'diameter', 'headDiameter', where),
      height: figure(head, 'height', 'headHeight', where),
    },
    heights: list(fields, 'heights', where, 'Pole heights (one a string)', poles, poles).map(
      (_, i, heights) => figureIn(heights, i, 'poleHeight', `${where}, pole ${i + 1}`),
    ),
    ...checkOwns(fields, where, poles),
  };
}

function checkWindow(fields: Fields, where: string): Window {
  const window: Window = {
    straight: figure(fields, 'straight', 'windowStraight', where),
    inner: figure(fields, 'inner', 'windowInner', where),
    outer: figure(fields, 'outer', 'windowOuter', where),
    top: figure(fields, 'top', 'windowTop', where),
    bottom: figure(fields, 'bottom', 'windowBottom', where),
  };
  if (window.outer <= window.inner)
    refuse(
      where,
      `Outer radius of the coil must be more than the inner, ${formatFigure(window.inner, 'windowInner')}; got ${formatFigure(window.outer, 'windowOuter')}.`,
    );
  if (window.bottom >= window.top)
    refuse(
      where,
      `Bottom of the coil must be below its top, ${formatFigure(window.top, 'windowTop')}; got ${formatFigure(window.bottom, 'windowBottom')}.`,
    );
  return window;
}

function checkRowBuild(value: unknown, where: string, poles: number): RowBuild {
  const fields = asFields(value, '', where);
  const wire = group(fields, 'wire', where, 'Wire');
  return {
    pole: checkPole(group(fields, 'pole', where, 'Pole'), where, poles),
    up: choice(fields, 'up', ['north', 'south'], where, 'Pole that is up'),
    window: checkWindow(group(fields, 'window', where, 'Winding window'), where),
    turns: figure(fields, 'turns', 'turns', where),
    wire: {
      conductor: figure(wire, 'conductor', 'wire', where),
      enamel: choice(wire, 'enamel', ['single', 'heavy'], where, 'Enamel'),
    },
    wound: choice(fields, 'wound', ['clockwise', 'anticlockwise'], where, 'Direction of winding'),
  };
}

/** The middle across is what a bar from before it could be anywhere else has. */
function checkBar(fields: Fields, where: string): BarMagnet {
  return {
    magnet: checkMagnet(group(fields, 'magnet', where, 'Magnet'), where),
    width: figure(fields, 'width', 'barWidth', where),
    length: figure(fields, 'length', 'barLength', where),
    thickness: figure(fields, 'thickness', 'barThickness', where),
    direction: choice(fields, 'direction', DIRECTIONS, where, 'Direction of magnetisation'),
    turned: flag(fields, 'turned', where, 'Whether it is turned over'),
    offset: figure(fields, 'offset', 'barOffset', where),
    across: orDefault(fields, 'across', 0, () => figure(fields, 'across', 'barAcross', where)),
    top: figure(fields, 'top', 'barTop', where),
  };
}

/** One magnet or none stands under `bar` in sheets from before there could be several. */
function checkOldBar(fields: Fields, where: string): readonly BarMagnet[] {
  const bar = orDefault(fields, 'bar', null, () => groupOrNone(fields, 'bar', where, 'Bar magnet'));
  return bar ? [checkBar(bar, `${where}, bar magnet`)] : [];
}

function checkBars(fields: Fields, where: string): readonly BarMagnet[] {
  const several = orDefault(fields, 'bars', null, () =>
    list(fields, 'bars', where, 'Bar magnets', 0, MOST_BLOCKS),
  );
  return several
    ? several.map((bar, i) => {
        const which = `${where}, bar magnet ${i + 1}`;
        return checkBar(asFields(bar, '', which), which);
      })
    : checkOldBar(fields, where);
}

function checkSteel(value: unknown, where: string): SteelBox {
  const fields = asFields(value, '', where);
  return {
    steel: choice(fields, 'steel', CHOSEN_STEELS, where, 'Steel grade'),
    width: figure(fields, 'width', 'steelWidth', where),
    length: figure(fields, 'length', 'steelLength', where),
    thickness: figure(fields, 'thickness', 'steelThickness', where),
    offset: figure(fields, 'offset', 'steelOffset', where),
    across: orDefault(fields, 'across', 0, () => figure(fields, 'across', 'steelAcross', where)),
    top: figure(fields, 'top', 'steelTop', where),
  };
}

/** One that a magnet holds is refused with the reason. */
function checkMetal(fields: Fields, where: string): PlateMetal {
  const magnetic = MAGNETIC_METALS.find((metal) => metal === fields['metal']);
  if (magnetic)
    refuse(
      where,
      `Metal must be one that no magnet holds; got ${magnetic}. It would lead the magnets’ field away and carry eddy currents at once, which are not computed together. A steel plate or wall leads the field: add it in its place.`,
    );
  return choice(fields, 'metal', PLATE_METALS, where, 'Metal');
}

function checkCover(fields: Fields, where: string): Cover {
  return {
    metal: checkMetal(fields, where),
    thickness: figure(fields, 'thickness', 'coverThickness', where),
    clearance: figure(fields, 'clearance', 'coverClearance', where),
    holes: choice(fields, 'holes', HOLES, where, 'Poles with holes over them'),
  };
}

function checkBasePlate(fields: Fields, where: string): BasePlate {
  return {
    metal: checkMetal(fields, where),
    thickness: figure(fields, 'thickness', 'plateThickness', where),
  };
}

/** Nothing where coils find in steel what its grade says. */
function checkCoilSteel(fields: Fields, where: string): Pick<PickupBuild, 'coilSteel'> {
  return orDefault(fields, 'coilSteel', {}, () => {
    const given = group(fields, 'coilSteel', where, 'Steel for the coils');
    const coilSteel = {
      mu: figureOrNone(given, 'mu', 'coilMu', where),
      relaxation: figureOrNone(given, 'relaxation', 'relaxation', where),
    };
    return coilSteel.mu === null && coilSteel.relaxation === null ? {} : { coilSteel };
  });
}

/** Steel, a cover and a base plate are none in sheets from before there were any. @param where 'Pickup 2' @param poles of a row */
export function checkPickupBuild(fields: Fields, where: string, poles: number): PickupBuild {
  const sheetMetal = (name: string, what: string): Fields | null =>
    orDefault(fields, name, null, () => groupOrNone(fields, name, where, what));
  const cover = sheetMetal('cover', 'Cover');
  const basePlate = sheetMetal('basePlate', 'Base plate');
  const coils = orDefault(fields, 'coils', 'on', () =>
    choice(fields, 'coils', ['on', 'off'], where, 'Whether its coils are on'),
  );
  if (coils === 'off' && (cover || basePlate))
    refuse(
      where,
      `${cover ? 'Cover' : 'Base plate'} must have a coil to go ${cover ? 'over' : 'under'}; the coil is off. Take it off as well, or put the coil on.`,
    );
  return {
    pitch: figure(fields, 'pitch', 'polePitch', where),
    gapBass: figure(fields, 'gapBass', 'gap', `${where}, bass side`),
    gapTreble: figure(fields, 'gapTreble', 'gap', `${where}, treble side`),
    bars: checkBars(fields, where),
    steel: orDefault(fields, 'steel', [], () =>
      list(fields, 'steel', where, 'Pieces of steel', 0, MOST_BLOCKS).map((piece, i) =>
        checkSteel(piece, `${where}, steel ${i + 1}`),
      ),
    ),
    ...checkCoilSteel(fields, where),
    cover: cover && checkCover(cover, `${where}, cover`),
    basePlate: basePlate && checkBasePlate(basePlate, `${where}, base plate`),
    rows: list(fields, 'rows', where, 'Rows of the build', 1, 2).map((row, i) =>
      checkRowBuild(row, `${where}, build of row ${i + 1}`, poles),
    ),
    ...(coils === 'off' && { coils }),
  };
}
