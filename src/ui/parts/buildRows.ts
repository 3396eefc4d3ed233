/** A pickup's build in the parts list: poles, winding and bar, a line each, as on a drawing. */
import { hasCoil } from '../../shape/hasCoil.ts';
import type { Pole, RowBuild } from '../../sheet/build.ts';
import { largestTip, withTip } from '../../sheet/focusLever.ts';
import type { Pickup } from '../../sheet/sheet.ts';
import { gaugeDiameter } from '../../shape/gauges.ts';
import { gaugeOf } from '../../sheet/wireGauge.ts';
import { CHOSEN_STEELS, POLE_STEEL } from '../../shape/materials.ts';
import { barRows, magnetCells } from './barRow.ts';
import { choice, figure, note, type Cell, type PartsRow, type Path } from './cells.ts';
import { ownCell, ownRows } from './singleRows.ts';
import { sheetRows } from './sheetRows.ts';
import { steelRows } from './steelRow.ts';

const KINDS = ['rod', 'slug', 'screw', 'none'];
const KIND_WORDS = ['rod magnets', 'steel slugs', 'steel screws', 'no poles'];
const TIPS = ['flat', 'chamfered', 'coned', 'domed'];
const GAUGES = [38, 39, 40, 41, 42, 43, 44, 45, 46];
const OWN_WIRE = 'own wire';
const ENAMEL = ['single enamel', 'heavy enamel'];

/** A screw's head is wider than its shank, and its tip no larger than the head has room for. */
const ofKind =
  (pole: Pole) =>
  (word: string): Pole => {
    const kind = (KINDS[KIND_WORDS.indexOf(word)] ?? pole.kind) as Pole['kind'];
    const wide = Math.max(pole.head.diameter, Math.round(pole.diameter * 1.2e4) / 1e4);
    const head = kind === 'screw' ? { ...pole.head, diameter: wide } : pole.head;
    const next = { ...pole, kind, head };
    return withTip(next, Math.min(pole.tip.size, largestTip(next)));
  };

/** A tip that has just got a shape gets a size as well; 1 mm, or what the pole has room for. */
const shaped =
  (pole: Pole) =>
  (shape: string): unknown => ({
    shape,
    size:
      shape === 'flat'
        ? 0
        : Math.min(
            pole.tip.size || 0.001,
            largestTip({ ...pole, tip: { shape: shape as Pole['tip']['shape'], size: 0 } }),
          ),
  });

/** A flat one is the beginning of a bevel: its figure has its room before it is one. */
const TIP_WORDS = { flat: '45° ×', chamfered: '45° ×', coned: 'deep', domed: 'rise' } as const;

function poleRow(row: RowBuild, name: string, at: Path): PartsRow {
  const { pole } = row;
  const on = (...path: Path): Path => [...at, 'pole', ...path];
  const rod = pole.kind === 'rod';
  // The lowest first, as they stand in the view across.
  const heights = pole.heights
    .map((height, i) =>
      figure(
        `${name}, pole height at string ${i + 1}`,
        String(i + 1),
        'poleHeight',
        height,
        on('heights', i),
      ),
    )
    .toReversed();
  const head = [
    figure(
      `${name}, screw head diameter`,
      'head Ø',
      'headDiameter',
      pole.head.diameter,
      on('head', 'diameter'),
    ),
    figure(`${name}, screw head height`, 'high', 'headHeight', pole.head.height, on('head', 'height')),
  ];
  const kind = choice(
    `${name}, kind of poles`,
    KIND_WORDS[KINDS.indexOf(pole.kind)] ?? '',
    KIND_WORDS,
    on(),
    ofKind(pole),
  );
  if (pole.kind === 'none') return { key: `${at.join(' ')} poles`, part: `${name}, poles`, cells: [kind] };
  const level = pole.heights.every((h) => h === pole.heights[0]);
  return {
    key: `${at.join(' ')} poles`,
    part: `${name}, poles`,
    cells: [
      kind,
      ...(rod
        ? magnetCells(`${name}, magnet`, pole.magnet, on('magnet'))
        : [
            choice(
              `${name}, steel of the poles`,
              pole.steel ?? POLE_STEEL,
              CHOSEN_STEELS,
              on('steel'),
              (word) => (word === POLE_STEEL ? undefined : word),
            ),
          ]),
      ...(rod
        ? [
            choice(
              `${name}, pole that is up`,
              `${row.up} up`,
              ['north up', 'south up'],
              [...at, 'up'],
              (v) => v.split(' ')[0],
            ),
          ]
        : []),
      figure(`${name}, pole diameter`, 'Ø', 'poleDiameter', pole.diameter, on('diameter')),
      figure(`${name}, pole length`, '×', 'poleLength', pole.length, on('length')),
      choice(`${name}, shape of the tips`, pole.tip.shape, TIPS, on('tip'), shaped(pole)),
      {
        ...figure(
          `${name}, size of the tips`,
          TIP_WORDS[pole.tip.shape],
          'tipSize',
          pole.tip.size,
          on('tip', 'size'),
        ),
        commit: (bench, size) => bench.put(on('tip'), withTip(pole, size).tip),
      },
    ],
    more: {
      summary: `${level ? 'heights, all level' : 'heights, staggered'}${pole.kind === 'screw' ? ', and heads' : ''}; single poles`,
      cells: [
        note('above the nominal plane, under string'),
        ...heights,
        ...(pole.kind === 'screw' ? head : []),
        ownCell(row, name, at),
      ],
    },
  };
}

function windingRow(row: RowBuild, name: string, at: Path): PartsRow {
  const { window, wire } = row;
  const gauge = gaugeOf(wire.conductor);
  const gauges = GAUGES.map((n) => `AWG ${n}`);
  const shown = gauge === null ? OWN_WIRE : `AWG ${gauge}`;
  const edge = (
    label: string,
    before: string,
    key: 'windowStraight' | 'windowInner' | 'windowOuter' | 'windowTop' | 'windowBottom',
    field: keyof typeof window,
  ): Cell =>
    figure(`${name}, winding window, ${label}`, before, key, window[field], [...at, 'window', field]);
  return {
    key: `${at.join(' ')} winding`,
    part: `${name}, winding`,
    cells: [
      figure(`${name}, turns`, 'turns', 'turns', row.turns, [...at, 'turns']),
      choice(
        `${name}, wire gauge`,
        shown,
        gauges.includes(shown) ? gauges : [shown, ...gauges],
        [...at, 'wire', 'conductor'],
        (v) => (v.startsWith('AWG ') ? gaugeDiameter(Number(v.slice(4))) : wire.conductor),
      ),
      choice(
        `${name}, enamel`,
        `${wire.enamel} enamel`,
        ENAMEL,
        [...at, 'wire', 'enamel'],
        (v) => v.split(' ')[0],
      ),
      choice(`${name}, sense of winding`, row.wound, ['clockwise', 'anticlockwise'], [...at, 'wound']),
    ],
    more: {
      summary: 'wire and window',
      cells: [
        figure(`${name}, wire diameter`, 'copper Ø', 'wire', wire.conductor, [...at, 'wire', 'conductor']),
        edge('straight side', 'straight', 'windowStraight', 'straight'),
        edge('inner radius', 'inner', 'windowInner', 'inner'),
        edge('outer radius', 'outer', 'windowOuter', 'outer'),
        edge('top', 'top', 'windowTop', 'top'),
        edge('bottom', 'bottom', 'windowBottom', 'bottom'),
      ],
    },
  };
}

export function buildRows(pickup: Pickup, index: number): PartsRow[] {
  const { build, name } = pickup;
  if (!build) return [];
  const at: Path = ['pickups', index, 'build'];
  const rows = build.rows.flatMap((row, r): PartsRow[] => {
    const of = build.rows.length === 2 ? `${name} row ${r + 1}` : name;
    const where: Path = [...at, 'rows', r];
    const poles = [poleRow(row, of, where), ...ownRows(row, of, where)];
    return hasCoil(build) ? [...poles, windingRow(row, of, where)] : poles;
  });
  const spacing: PartsRow = {
    key: `${at.join(' ')} spacing`,
    part: `${name} spacing`,
    cells: [
      figure(`${name} pole pitch`, 'pitch', 'polePitch', build.pitch, [...at, 'pitch']),
      figure(`${name} gap on the bass side`, 'gap bass', 'gap', build.gapBass, [...at, 'gapBass']),
      {
        ...figure(`${name} gap on the treble side`, 'treble', 'gap', build.gapTreble, [...at, 'gapTreble']),
        help: 'sides',
      },
      ...(pickup.rows.length === 2
        ? pickup.rows.map((row, r) =>
            figure(`${name} row ${r + 1}, offset`, `row ${r + 1} at`, 'rowOffset', row.offset, [
              'pickups',
              index,
              'rows',
              r,
              'offset',
            ]),
          )
        : []),
    ],
  };
  return [
    ...rows,
    ...barRows(pickup, build, name, at),
    ...steelRows(pickup, build, name, at),
    ...(hasCoil(build) ? sheetRows(build, name, at) : []),
    spacing,
  ];
}
