/** The bar magnet in the parts list. */
import type { BarMagnet } from '../../sheet/build.ts';
import { MAGNET_GRADES } from '../../shape/materials.ts';
import type { Pickup } from '../../sheet/sheet.ts';
import { choice, either, figure, type Cell, type PartsRow, type Path } from './cells.ts';

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

export const magnetCells = (
  name: string,
  magnet: { readonly grade: string; readonly charge: number },
  at: Path,
): Cell[] => [
  choice(`${name}, grade`, magnet.grade, MAGNET_GRADES, [...at, 'grade']),
  figure(`${name}, charge`, 'charged', 'charge', magnet.charge, [...at, 'charge']),
];

export function barRow(pickup: Pickup, bar: BarMagnet | null, name: string, at: Path): PartsRow {
  const whole = `${name} bar magnet`;
  const fitted = either(whole, bar !== null, ['none', 'fitted'], (bench, on) =>
    bench.set(at, on ? startingBar(pickup) : null),
  );
  if (!bar) return { key: at.join(' '), part: `${name} bar`, cells: [fitted] };
  const on = (...path: Path): Path => [...at, ...path];
  return {
    key: at.join(' '),
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
