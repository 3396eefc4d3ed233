/** Plates, walls and blades of steel in the parts list. */
import { coreSteels } from '../../shape/coreSteel.ts';
import { hasCoil } from '../../shape/hasCoil.ts';
import type { CoilSteel, PickupBuild, SteelBox } from '../../sheet/build.ts';
import { STEEL_STARTS, withStartingSteel } from '../../sheet/startingBlocks.ts';
import { steelNames } from '../../sheet/steelWords.ts';
import { CHOSEN_STEELS, OWN_STEEL } from '../../shape/materials.ts';
import { MU_KNOWN } from '../../shape/steelMu.ts';
import type { Pickup } from '../../sheet/sheet.ts';
import type { Workbench } from '../../state/workbench.svelte.ts';
import { choice, figure, note, type Cell, type PartsRow, type Path } from './cells.ts';

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
    ...coilSteelRow(pickup, build, name, at),
  ];
}

const GRADES_OWN: CoilSteel = { mu: null, relaxation: null };

/** What coils find in the steel of their cores, and what is known of it; nothing where no core is of steel. */
function coilSteelRow(pickup: Pickup, build: PickupBuild, name: string, at: Path): PartsRow[] {
  const offsets = pickup.rows.map(({ offset }) => offset);
  const steels = [...new Set(coreSteels(build, offsets).filter((steel) => steel !== null))];
  if (!hasCoil(build) || steels.length === 0) return [];
  const { coilSteel = GRADES_OWN } = build;
  const changed = (change: Partial<CoilSteel>): CoilSteel | undefined => {
    const next = { ...coilSteel, ...change };
    return next.mu === null && next.relaxation === null ? undefined : next;
  };
  const known = steels.flatMap((steel) =>
    steel === OWN_STEEL ? [] : [`${steel}: ${MU_KNOWN[steel].join(' to ')}`],
  );
  const cell = (
    field: keyof CoilSteel,
    before: string,
    key: 'coilMu' | 'relaxation',
    blank: string,
  ): Cell => ({
    ...figure(
      `${name}, steel for the coil, ${before}`,
      before,
      key,
      coilSteel[field],
      [...at, 'coilSteel', field],
      true,
    ),
    blank,
    ...(field === 'mu' && { help: 'coilSteel' as const }),
    commit: (bench: Workbench, value: number) => bench.put([...at, 'coilSteel'], changed({ [field]: value })),
    clear: (bench: Workbench) => bench.set([...at, 'coilSteel'], changed({ [field]: null })),
  });
  return [
    {
      key: `${at.join(' ')} coilSteel`,
      part: `${name} steel for the coil`,
      cells: [
        cell('mu', 'µ', 'coilMu', 'of its grade'),
        cell('relaxation', 'relaxing at', 'relaxation', 'not'),
        ...(known.length > 0 ? [note(`handbooks’ µ, ${known.join('; ')}`)] : []),
      ],
    },
  ];
}

function steelRow(piece: SteelBox, whole: string, at: Path): PartsRow {
  const on = (field: keyof SteelBox): Path => [...at, field];
  return {
    key: at.join(' '),
    part: whole,
    cells: [
      choice(`${whole}, grade`, piece.steel, CHOSEN_STEELS, on('steel')),
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
