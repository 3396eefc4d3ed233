/** The parts of a sheet's check that concern pickups and controls. */
import { hasCoil } from '../shape/hasCoil.ts';
import {
  asFields,
  choice,
  figure,
  figureOrNone,
  flag,
  group,
  groupOrNone,
  list,
  orDefault,
  refuse,
  text,
  type Fields,
} from './fault.ts';
import { checkPickupBuild } from './checkBuild.ts';
import { DEFAULT_FADE } from './defaults.ts';
import type { CoilFigures, Controls, Instrument, Pickup, Pot, Row, Tone, TrebleBleed } from './sheet.ts';
import { formatFigure } from './format.ts';

/** UTF-16 units. */
export const LONGEST_NAME = 40;
/** What the list of sets is called in a sentence. */
export const CONTROL_SETS = 'Control sets (one when shared, else one a pickup)';

/** @param built whether the pickup has a build, from which a figure that is not given can be computed */
function checkCoil(fields: Fields, where: string, built: boolean): CoilFigures {
  const given = built ? figureOrNone : figure;
  return {
    resistance: given(fields, 'resistance', 'coilResistance', where),
    inductance: given(fields, 'inductance', 'coilInductance', where),
    capacitance: given(fields, 'capacitance', 'coilCapacitance', where),
    coreLoss: figureOrNone(fields, 'coreLoss', 'coreLoss', where),
  };
}

function checkRow(value: unknown, where: string, built: boolean): Row {
  const fields = asFields(value, '', where);
  const reach = group(fields, 'reach', where, 'Reach');
  return {
    offset: figure(fields, 'offset', 'rowOffset', where),
    reach: {
      width: figure(reach, 'width', 'focus', where),
      sensitivity: figure(reach, 'sensitivity', 'sensitivity', where),
      fade: orDefault(reach, 'fade', DEFAULT_FADE, () => figureOrNone(reach, 'fade', 'fade', where)),
    },
    coil: checkCoil(group(fields, 'coil', where, 'Coil'), where, built),
  };
}

/** @param instrument between whose saddle and nut every row must lie, with a pole under each of its strings */
export function checkPickup(value: unknown, number: number, { scaleLength, strings }: Instrument): Pickup {
  const where = `Pickup ${number}`;
  const fields = asFields(value, '', where);
  const place = figure(fields, 'place', 'place', where);
  const build = orDefault(fields, 'build', null, () => {
    const built = groupOrNone(fields, 'build', where, 'Build');
    return built && checkPickupBuild(built, where, strings.length);
  });
  const rows = list(fields, 'rows', where, 'Rows of poles', 1, 2).map((row, i) =>
    checkRow(row, `${where}, row ${i + 1}`, build !== null),
  );
  if (build && build.rows.length !== rows.length)
    refuse(where, `Build must have as many rows as the pickup, ${rows.length}; got ${build.rows.length}.`);
  const reachBy = orDefault(fields, 'reachBy', build ? 'build' : 'hand', () =>
    choice(fields, 'reachBy', ['hand', 'build'], where, 'How the reach is set'),
  );
  if (reachBy === 'build' && !build)
    refuse(where, 'Reach must be set by hand where there is no build to compute it from; got none.');
  if (reachBy === 'hand' && !hasCoil(build))
    refuse(
      where,
      'Reach must be left to the build where the coil is off: no coil hears nothing; got by hand.',
    );
  for (const row of rows) {
    const centre = place + row.offset;
    if (centre <= 0 || centre >= scaleLength)
      refuse(
        where,
        `Every row must be between saddle and nut; got one ${formatFigure(centre, 'place')} from the saddle.`,
      );
  }
  return {
    name: text(fields, 'name', LONGEST_NAME, where, 'Name'),
    place,
    slant: figure(fields, 'slant', 'slant', where),
    sounds: flag(fields, 'sounds', where, 'Whether it sounds'),
    join: choice(fields, 'join', ['series', 'parallel'], where, 'Join of the coils'),
    phase: choice(fields, 'phase', ['in', 'out'], where, 'Phase of the coils'),
    reversed: flag(fields, 'reversed', where, 'Whether it is reversed'),
    rows,
    reachBy,
    build,
  };
}

function checkPot(fields: Fields, where: string): Pot {
  return {
    resistance: figure(fields, 'resistance', 'potResistance', where),
    taper: choice(fields, 'taper', ['linear', 'audio'], where, 'Taper'),
    position: figure(fields, 'position', 'potPosition', where),
  };
}

function checkBleed(fields: Fields, where: string): TrebleBleed {
  return {
    capacitance: figure(fields, 'capacitance', 'bleedCapacitance', where),
    resistance: figureOrNone(fields, 'resistance', 'bleedResistance', where),
    arrangement: choice(
      fields,
      'arrangement',
      ['parallel', 'series'],
      where,
      'Arrangement of the treble bleed',
    ),
  };
}

function checkTone(fields: Fields, where: string): Tone {
  return {
    ...checkPot(fields, where),
    capacitance: figure(fields, 'capacitance', 'toneCapacitance', where),
  };
}

/** @param where what the set is called in a sentence; @throws Fault */
export function checkControls(value: unknown, where: string): Controls {
  const fields = asFields(value, '', where);
  const bleed = groupOrNone(fields, 'bleed', where, 'Treble bleed');
  const tone = groupOrNone(fields, 'tone', where, 'Tone');
  return {
    volume: checkPot(group(fields, 'volume', where, 'Volume'), `${where}, volume`),
    bleed: bleed && checkBleed(bleed, where),
    tone: tone && checkTone(tone, `${where}, tone`),
  };
}
