/** Cover and base plate in the parts list. */
import { coverPart } from '../../shape/parts.ts';
import type { BasePlate, Cover, PickupBuild, PlateMetal } from '../../sheet/build.ts';
import { MAGNETIC_METALS, PLATE_METALS } from '../../shape/materials.ts';
import { startingCover } from '../../sheet/mods.ts';
import { choice, figure, type Cell, type ChoiceCell, type PartsRow, type Path } from './cells.ts';

const NONE = 'none';
const STARTING_PLATE: BasePlate = { metal: 'nickel silver', thickness: 0.001 };

/** No such part, or one of a metal, of which the sheet refuses those that a magnet holds; the first metal brings `start` with it. */
const metalCell = (
  label: string,
  part: { readonly metal: PlateMetal } | null,
  at: Path,
  start: () => object,
): ChoiceCell =>
  choice(label, part?.metal ?? NONE, [NONE, ...PLATE_METALS, ...MAGNETIC_METALS], at, (word) =>
    word === NONE ? null : { ...(part ?? start()), metal: word },
  );

/** Words for the holes, as the sheet has them and as they are said of one row. */
const HOLES: readonly (readonly [Cover['holes'], string])[] = [
  ['none', 'closed top'],
  ['row 1', 'holes over row 1'],
  ['row 2', 'holes over row 2'],
  ['every row', 'holes over every pole'],
];

function holesCell(label: string, cover: Cover, rows: number, at: Path): Cell {
  const offered = rows === 2 ? HOLES : [HOLES[0]!, HOLES[3]!];
  const shown = rows === 2 ? cover.holes : coverPart(cover, 1).holed[0] ? 'every row' : 'none';
  const words = new Map(HOLES);
  return choice(
    label,
    words.get(shown)!,
    offered.map(([, word]) => word),
    at,
    (word) => HOLES.find(([, said]) => said === word)![0],
  );
}

export function sheetRows(build: PickupBuild, name: string, at: Path): PartsRow[] {
  const { cover, basePlate } = build;
  const on = (...path: Path): Path => [...at, ...path];
  const coverCells: Cell[] = cover
    ? [
        figure(`${name} cover, thickness`, '', 'coverThickness', cover.thickness, on('cover', 'thickness')),
        figure(
          `${name} cover, its underside above the plane of the poles`,
          'underside at',
          'coverClearance',
          cover.clearance,
          on('cover', 'clearance'),
        ),
        holesCell(`${name} cover, holes for poles`, cover, build.rows.length, on('cover', 'holes')),
      ]
    : [];
  const plateCells: Cell[] = basePlate
    ? [
        figure(
          `${name} base plate, thickness`,
          '',
          'plateThickness',
          basePlate.thickness,
          on('basePlate', 'thickness'),
        ),
      ]
    : [];
  return [
    {
      key: on('cover').join(' '),
      part: `${name} cover`,
      cells: [
        metalCell(`${name} cover, metal`, cover, on('cover'), () => startingCover(build)),
        ...coverCells,
      ],
    },
    {
      key: on('basePlate').join(' '),
      part: `${name} base plate`,
      cells: [
        metalCell(`${name} base plate, metal`, basePlate, on('basePlate'), () => STARTING_PLATE),
        ...plateCells,
      ],
    },
  ];
}
