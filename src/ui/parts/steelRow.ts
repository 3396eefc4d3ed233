/** Plates, walls and blades of steel in the parts list. */
import type { PickupBuild, SteelBox } from '../../sheet/build.ts';
import { MOST_BLOCKS } from '../../sheet/checkBuild.ts';
import { STEEL_STARTS, startingSteel, type SteelStart } from '../../sheet/startingBlocks.ts';
import { steelNames } from '../../sheet/steelWords.ts';
import { STEEL_GRADES } from '../../shape/materials.ts';
import type { Pickup } from '../../sheet/sheet.ts';
import { choice, figure, type Cell, type PartsRow, type Path } from './cells.ts';

const ADD = 'add …';

export function steelRows(pickup: Pickup, build: PickupBuild, name: string, at: Path): PartsRow[] {
  const { steel } = build;
  const add: Cell = {
    kind: 'choice',
    label: `${name}, add steel`,
    before: '',
    value: ADD,
    options: [ADD, ...STEEL_STARTS],
    choose: (bench, start) => {
      if (start !== ADD) bench.set(at, [...steel, startingSteel(pickup, start as SteelStart)]);
    },
  };
  const names = steelNames(
    build,
    pickup.rows.map(({ offset }) => offset),
  );
  return [
    ...steel.map((piece, i): PartsRow => {
      const whole = `${name} steel ${names[i]}${steel.length > 1 ? ` ${i + 1}` : ''}`;
      const row = steelRow(piece, whole, [...at, i]);
      const away: Cell = {
        kind: 'do',
        word: 'take away',
        label: `take ${whole} away`,
        run: (bench) => bench.set(at, steel.toSpliced(i, 1)),
      };
      return { ...row, cells: [...row.cells, away] };
    }),
    ...(steel.length < MOST_BLOCKS ? [{ key: at.join(' '), part: `${name} steel`, cells: [add] }] : []),
  ];
}

function steelRow(piece: SteelBox, whole: string, at: Path): PartsRow {
  const on = (field: keyof SteelBox): Path => [...at, field];
  return {
    key: at.join(' '),
    part: whole,
    cells: [
      choice(`${whole}, grade`, piece.steel, STEEL_GRADES, on('steel')),
      figure(`${whole}, along the strings`, '', 'steelWidth', piece.width, on('width')),
      figure(`${whole}, across the strings`, '×', 'steelLength', piece.length, on('length')),
      figure(`${whole}, upright`, '×', 'steelThickness', piece.thickness, on('thickness')),
    ],
    more: {
      summary: 'place',
      cells: [
        figure(
          `${whole}, offset from the pickup's centre`,
          'offset',
          'steelOffset',
          piece.offset,
          on('offset'),
        ),
        figure(`${whole}, place across the strings`, 'across', 'steelAcross', piece.across, on('across')),
        figure(`${whole}, upper face`, 'top', 'steelTop', piece.top, on('top')),
      ],
    },
  };
}
