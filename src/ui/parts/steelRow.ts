/** Plates, walls and blades of steel in the parts list. */
import type { PickupBuild, SteelBox } from '../../sheet/build.ts';
import { STEEL_STARTS, withStartingSteel } from '../../sheet/startingBlocks.ts';
import { steelNames } from '../../sheet/steelWords.ts';
import { STEEL_GRADES } from '../../shape/materials.ts';
import type { Pickup } from '../../sheet/sheet.ts';
import { choice, figure, type Cell, type PartsRow, type Path } from './cells.ts';

const ADD = 'add …';
const WORDS = {
  'keeper plate': 'plate beneath',
  wall: 'wall beside the coils',
  blade: 'blade in place of poles',
} as const;

/** @param at the build */
export function steelRows(pickup: Pickup, build: PickupBuild, name: string, at: Path): PartsRow[] {
  const { steel } = build;
  const pieces: Path = [...at, 'steel'];
  const offered = STEEL_STARTS.flatMap((start) => {
    const made = withStartingSteel(pickup, start);
    return made ? [{ word: WORDS[start], made }] : [];
  });
  const add: Cell = {
    kind: 'choice',
    label: `${name}, add a steel part`,
    before: '',
    value: ADD,
    options: [ADD, ...offered.map(({ word }) => word)],
    choose: (bench, chosen) => {
      const start = offered.find(({ word }) => word === chosen);
      if (start) bench.set(at, start.made);
    },
  };
  const names = steelNames(
    build,
    pickup.rows.map(({ offset }) => offset),
  );
  return [
    ...steel.map((piece, i): PartsRow => {
      const whole = `${name} steel ${names[i]}${steel.length > 1 ? ` ${i + 1}` : ''}`;
      const row = steelRow(piece, whole, [...pieces, i]);
      const away: Cell = {
        kind: 'do',
        word: 'take away',
        label: `take ${whole} away`,
        run: (bench) => bench.set(pieces, steel.toSpliced(i, 1)),
      };
      return { ...row, cells: [...row.cells, away] };
    }),
    ...(offered.length > 0 ? [{ key: pieces.join(' '), part: `${name} steel`, cells: [add] }] : []),
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
