/** A pickup's build in the parts list: poles, winding and bar, a line each, as on a drawing. */
import type { BarMagnet, Pole, RowBuild } from '../../sheet/build.ts';
import { GRADES } from '../../sheet/checkBuild.ts';
import { largestTip } from '../../sheet/focusPath.ts';
import type { Pickup } from '../../sheet/sheet.ts';
import { gaugeDiameter, gaugeOf } from '../../sheet/wireGauge.ts';
import { choice, either, figure, note, type Cell, type PartsRow, type Path } from './cells.ts';

const KINDS = ['rod', 'slug', 'screw'];
const KIND_WORDS = ['rod magnets', 'steel slugs', 'steel screws'];
const TIPS = ['flat', 'chamfered', 'coned', 'domed'];
const GAUGES = [38, 39, 40, 41, 42, 43, 44, 45, 46];
const OWN_WIRE = 'own wire';
const ENAMEL = ['single enamel', 'heavy enamel'];

/** A bar to begin with: under one row, or between the feet of two. */
const STARTING_BAR: BarMagnet = {
  magnet: { grade: 'ceramic 5', charge: 1 },
  width: 0.0125,
  length: 0.06,
  thickness: 0.0045,
  direction: 'through the thickness',
  turned: false,
  offset: 0,
  top: -0.018,
};

const magnetCells = (
  name: string,
  magnet: { readonly grade: string; readonly charge: number },
  at: Path,
): Cell[] => [
  choice(`${name}, grade`, magnet.grade, GRADES, [...at, 'grade']),
  figure(`${name}, charge`, 'charged', 'charge', magnet.charge, [...at, 'charge']),
];

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

const TIP_WORDS = { flat: '', chamfered: '45° ×', coned: 'deep', domed: 'rise' } as const;

function poleRow(row: RowBuild, name: string, at: Path): PartsRow {
  const { pole } = row;
  const on = (...path: Path): Path => [...at, 'pole', ...path];
  const rod = pole.kind === 'rod';
  const heights = [5, 4, 3, 2, 1, 0].map((i) =>
    figure(
      `${name}, pole height at string ${i + 1}`,
      String(i + 1),
      'poleHeight',
      pole.heights[i] ?? 0,
      on('heights', i),
    ),
  );
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
  const level = pole.heights.every((h) => h === pole.heights[0]);
  return {
    key: `poles ${name}`,
    part: `${name}, poles`,
    cells: [
      choice(
        `${name}, kind of poles`,
        KIND_WORDS[KINDS.indexOf(pole.kind)] ?? '',
        KIND_WORDS,
        on('kind'),
        (v) => KINDS[KIND_WORDS.indexOf(v)],
      ),
      ...(rod ? magnetCells(`${name}, magnet`, pole.magnet, on('magnet')) : []),
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
      ...(pole.tip.shape === 'flat'
        ? []
        : [
            figure(
              `${name}, size of the tips`,
              TIP_WORDS[pole.tip.shape],
              'tipSize',
              pole.tip.size,
              on('tip', 'size'),
            ),
          ]),
    ],
    more: {
      summary: `${level ? 'heights, all level' : 'heights, staggered'}${pole.kind === 'screw' ? ', and heads' : ''}`,
      cells: [
        note('above the nominal plane, under string'),
        ...heights,
        ...(pole.kind === 'screw' ? head : []),
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
    key: `winding ${name}`,
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

function barRow(pickup: Pickup, bar: BarMagnet | null, name: string, at: Path): PartsRow {
  const whole = `${name} bar magnet`;
  const fitted = either(whole, bar !== null, ['none', 'fitted'], (bench, on) =>
    bench.set(at, on ? startingBar(pickup) : null),
  );
  if (!bar) return { key: `bar ${name}`, part: `${name} bar`, cells: [fitted] };
  const on = (...path: Path): Path => [...at, ...path];
  return {
    key: `bar ${name}`,
    part: `${name} bar`,
    cells: [
      fitted,
      ...magnetCells(whole, bar.magnet, on('magnet')),
      figure(`${whole}, width`, '', 'barWidth', bar.width, on('width')),
      figure(`${whole}, length`, '×', 'barLength', bar.length, on('length')),
      figure(`${whole}, thickness`, '×', 'barThickness', bar.thickness, on('thickness')),
    ],
    more: {
      summary: 'direction and place',
      cells: [
        choice(
          `${whole}, direction of magnetisation`,
          bar.direction,
          ['across the width', 'through the thickness'],
          on('direction'),
        ),
        either(`${whole}, turned over`, bar.turned, ['as drawn', 'turned over'], (bench, turned) =>
          bench.set(on('turned'), turned),
        ),
        figure(`${whole}, offset from the pickup's centre`, 'offset', 'barOffset', bar.offset, on('offset')),
        figure(`${whole}, upper face`, 'top', 'barTop', bar.top, on('top')),
      ],
    },
  };
}

/** Clear of every pole: beside the feet of two rows, or below one. */
function startingBar({ rows, build }: Pickup): BarMagnet {
  if (!build) return STARTING_BAR;
  const feet = Math.min(...build.rows.map(({ pole }) => Math.min(...pole.heights) - pole.length));
  const under = { ...STARTING_BAR, offset: rows[0]?.offset ?? 0, top: Math.round(feet * 1e4 - 2) / 1e4 };
  if (build.rows.length === 1) return under;
  const lowest = Math.min(...build.rows.map(({ window }) => window.bottom));
  return { ...STARTING_BAR, direction: 'across the width', top: Math.round(lowest * 1e4 - 3) / 1e4 };
}

export function buildRows(pickup: Pickup, index: number): PartsRow[] {
  const { build, name } = pickup;
  if (!build) return [];
  const at: Path = ['pickups', index, 'build'];
  const rows = build.rows.flatMap((row, r): PartsRow[] => {
    const of = build.rows.length === 2 ? `${name} row ${r + 1}` : name;
    const where: Path = [...at, 'rows', r];
    return [poleRow(row, of, where), windingRow(row, of, where)];
  });
  const spacing: PartsRow = {
    key: `spacing ${name}`,
    part: `${name} spacing`,
    cells: [
      figure(`${name} pole pitch`, 'pitch', 'polePitch', build.pitch, [...at, 'pitch']),
      figure(`${name} gap on the bass side`, 'gap bass', 'gap', build.gapBass, [...at, 'gapBass']),
      figure(`${name} gap on the treble side`, 'treble', 'gap', build.gapTreble, [...at, 'gapTreble']),
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
  return [...rows, barRow(pickup, build.bar, name, [...at, 'bar']), spacing];
}
