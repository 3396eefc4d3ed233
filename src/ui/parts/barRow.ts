/** Bar magnets in the parts list. */
import type { BarMagnet, PickupBuild } from '../../sheet/build.ts';
import { DIRECTIONS, MOST_BLOCKS } from '../../sheet/checkBuild.ts';
import { numbered } from '../../sheet/steelWords.ts';
import { startingBar } from '../../sheet/startingBlocks.ts';
import { MAGNET_GRADES } from '../../shape/materials.ts';
import type { Pickup } from '../../sheet/sheet.ts';
import { choice, either, figure, type Cell, type PartsRow, type Path } from './cells.ts';

export const magnetCells = (
  name: string,
  magnet: { readonly grade: string; readonly charge: number },
  at: Path,
): Cell[] => [
  choice(`${name}, grade`, magnet.grade, MAGNET_GRADES, [...at, 'grade']),
  figure(`${name}, charge`, 'charged', 'charge', magnet.charge, [...at, 'charge']),
];

export function barRows(pickup: Pickup, build: PickupBuild, name: string, at: Path): PartsRow[] {
  const { bars } = build;
  const add: Cell = {
    kind: 'do',
    word: bars.length === 0 ? 'add a bar magnet' : 'add another',
    label: `${name}, add a bar magnet`,
    run: (bench) => bench.set(at, [...bars, startingBar(pickup)]),
  };
  const room = bars.length < MOST_BLOCKS ? [add] : [];
  if (bars.length === 0) return [{ key: at.join(' '), part: `${name} bar`, cells: room }];
  return bars.map((bar, i) => {
    const row = barRow(bar, numbered(`${name} bar magnet`, i, bars.length), [...at, i]);
    const away: Cell = {
      kind: 'do',
      word: 'take away',
      label: `take ${numbered(`${name} bar magnet`, i, bars.length)} away`,
      run: (bench) => bench.set(at, bars.toSpliced(i, 1)),
    };
    const part = numbered(`${name} bar`, i, bars.length);
    return { ...row, part, cells: [...row.cells, away, ...(i === bars.length - 1 ? room : [])] };
  });
}

function barRow(bar: BarMagnet, whole: string, at: Path): PartsRow {
  const on = (...path: Path): Path => [...at, ...path];
  return {
    key: at.join(' '),
    part: whole,
    cells: [
      ...magnetCells(whole, bar.magnet, on('magnet')),
      figure(`${whole}, width`, '', 'barWidth', bar.width, on('width')),
      figure(`${whole}, length`, '×', 'barLength', bar.length, on('length')),
      figure(`${whole}, thickness`, '×', 'barThickness', bar.thickness, on('thickness')),
    ],
    more: {
      summary: 'direction and place',
      cells: [
        choice(`${whole}, direction of magnetisation`, bar.direction, DIRECTIONS, on('direction')),
        either(`${whole}, turned over`, bar.turned, ['as drawn', 'turned over'], (bench, turned) =>
          bench.set(on('turned'), turned),
        ),
        figure(`${whole}, offset from the pickup's centre`, 'offset', 'barOffset', bar.offset, on('offset')),
        figure(`${whole}, place across the strings`, 'across', 'barAcross', bar.across, on('across')),
        figure(`${whole}, upper face`, 'top', 'barTop', bar.top, on('top')),
      ],
    },
  };
}
