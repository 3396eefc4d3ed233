/** Bar magnets in the parts list. */
import type { BarMagnet, PickupBuild } from '../../sheet/build.ts';
import { DIRECTIONS } from '../../sheet/checkBuild.ts';
import { numbered } from '../../sheet/steelWords.ts';
import { withStartingBar } from '../../sheet/startingBlocks.ts';
import { CHOSEN_GRADES } from '../../shape/materials.ts';
import type { Pickup } from '../../sheet/sheet.ts';
import { choice, either, figure, type Cell, type PartsRow, type Path } from './cells.ts';

export const magnetCells = (
  name: string,
  magnet: { readonly grade: string; readonly charge: number },
  at: Path,
): Cell[] => [
  choice(`${name}, grade`, magnet.grade, CHOSEN_GRADES, [...at, 'grade']),
  figure(`${name}, charge`, 'charged', 'charge', magnet.charge, [...at, 'charge']),
];

/** Which way north lies, first as it is and then turned over. */
const NORTH: Readonly<Record<BarMagnet['direction'], readonly [string, string]>> = {
  'across the width': ['north towards the nut', 'north towards the bridge'],
  'through the thickness': ['north up', 'north down'],
  'along the length': ['north on the treble side', 'north on the bass side'],
};

/** @param at the build */
export function barRows(pickup: Pickup, build: PickupBuild, name: string, at: Path): PartsRow[] {
  const { bars } = build;
  const all: Path = [...at, 'bars'];
  const made = withStartingBar(pickup);
  const add: Cell[] = made
    ? [
        {
          kind: 'do',
          word: bars.length === 0 ? 'add a bar magnet' : 'add another',
          label: `${name}, add a bar magnet`,
          run: (bench) => bench.set(at, made),
        },
      ]
    : [];
  if (bars.length === 0)
    return add.length > 0 ? [{ key: all.join(' '), part: `${name} bar`, cells: add }] : [];
  return bars.map((bar, i) => {
    const row = barRow(bar, numbered(`${name} bar magnet`, i, bars.length), [...all, i]);
    const away: Cell = {
      kind: 'do',
      word: 'take away',
      label: `take ${numbered(`${name} bar magnet`, i, bars.length)} away`,
      run: (bench) => bench.set(all, bars.toSpliced(i, 1)),
    };
    const part = numbered(`${name} bar`, i, bars.length);
    return { ...row, part, cells: [...row.cells, away, ...(i === bars.length - 1 ? add : [])] };
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
        either(`${whole}, where its north is`, bar.turned, NORTH[bar.direction], (bench, turned) =>
          bench.set(on('turned'), turned),
        ),
        figure(`${whole}, offset from the pickup's centre`, 'offset', 'barOffset', bar.offset, on('offset')),
        figure(`${whole}, place across the strings`, 'across', 'barAcross', bar.across, on('across')),
        figure(`${whole}, upper face`, 'top', 'barTop', bar.top, on('top')),
      ],
    },
  };
}
