/** A pickup in the parts list: what it is, its coils, and how it is built. */
import { withoutPickup, withRows } from '../../sheet/compose.ts';
import { withCoil, withoutCoil } from '../../sheet/looseMagnets.ts';
import { hasCoil } from '../../shape/hasCoil.ts';
import { startingBuilds } from '../../sheet/builds.ts';
import type { FigureKey } from '../../sheet/figures.ts';
import type { CoilFigures, Pickup } from '../../sheet/sheet.ts';
import { buildWords } from '../../sheet/buildWords.ts';
import type { PickupOutcome } from '../../state/types.ts';
import type { Workbench } from '../../state/workbench.svelte.ts';
import { reachBy } from '../section/reachBy.ts';
import { buildFrom, dropBuild } from './building.ts';
import { buildRows } from './buildRows.ts';
import { choice, either, figure, note, type Cell, type PartsRow } from './cells.ts';

const COIL: readonly [keyof CoilFigures, string, string, FigureKey][] = [
  ['resistance', 'DC resistance', 'R', 'coilResistance'],
  ['inductance', 'inductance', 'L', 'coilInductance'],
  ['capacitance', 'self-capacitance', 'C', 'coilCapacitance'],
  ['coreLoss', 'core loss', 'loss', 'coreLoss'],
];

function coilRow(pickup: Pickup, index: number, r: number, outcome: PickupOutcome | undefined): PartsRow {
  const name = pickup.rows.length === 2 ? `${pickup.name} coil ${r + 1}` : `${pickup.name} coil`;
  const coil = pickup.rows[r]?.coil;
  const found = outcome?.coils[r];
  return {
    key: `coil ${index} ${r}`,
    part: name,
    cells: COIL.map(([field, label, before, key]): Cell => {
      const value = coil?.[field] ?? null;
      const cell = figure(`${name}, ${label}`, before, key, value, [
        'pickups',
        index,
        'rows',
        r,
        'coil',
        field,
      ]);
      if (!pickup.build) return { ...cell, optional: field === 'coreLoss' };
      // What the circuit has in place of a figure that nobody typed.
      return { ...cell, optional: true, computed: value === null ? (found?.[field] ?? null) : null };
    }),
  };
}

const PHASES = { in: 'in phase', out: 'out of phase' } as const;

function headRow(pickup: Pickup, i: number, several: boolean, strings: number): PartsRow {
  const { name, build, rows } = pickup;
  const two = rows.length === 2;
  const starts = startingBuilds(strings).map((start) => start.name);
  const from = build ? 'build afresh from …' : 'build it from …';
  const cells: Cell[] = [
    either(
      `${name} pickup, coils`,
      two,
      hasCoil(build) ? ['one coil', 'two coils'] : ['one row', 'two rows'],
      (bench, on) => bench.restructure((sheet) => withRows(sheet, i, on ? 2 : 1)),
    ),
    ...(two && hasCoil(build)
      ? [
          choice(
            `${name} pickup, coils joined in`,
            pickup.join,
            ['series', 'parallel'],
            ['pickups', i, 'join'],
          ),
          {
            ...choice(
              `${name} pickup, coils in or out of phase`,
              PHASES[pickup.phase],
              Object.values(PHASES),
              ['pickups', i, 'phase'],
              (word) => (word === PHASES.out ? 'out' : 'in'),
            ),
            help: 'phase' as const,
          },
        ]
      : []),
    ...(hasCoil(build)
      ? [
          either(
            `${name} pickup, hot and ground wires`,
            pickup.reversed,
            ['wires as drawn', 'wires exchanged'],
            (bench, on) => bench.set(['pickups', i, 'reversed'], on),
          ),
        ]
      : []),
    ...(build && hasCoil(build)
      ? [
          either(
            `${name} pickup, how its reach is found`,
            pickup.reachBy === 'hand',
            ['reach from the build', 'reach by hand'],
            (bench, hand) => reachBy(bench, i, hand ? 'hand' : 'build'),
          ),
        ]
      : []),
    {
      kind: 'choice',
      label: `${name} pickup, ${build ? 'build it afresh from' : 'build it from'}`,
      before: '',
      value: from,
      options: [from, ...starts],
      ...(build ? { help: 'afresh' as const } : {}),
      choose: (bench, v) => {
        if (starts.includes(v)) buildFrom(bench, i, v);
      },
    },
    ...(build ? [coilCell(pickup, i)] : []),
    ...(build && hasCoil(build)
      ? [
          {
            kind: 'do' as const,
            word: 'remove the build, keep its figures',
            help: 'dropBuild' as const,
            label: `${name} pickup, take the build away`,
            run: (bench: Workbench) => dropBuild(bench, i),
          },
        ]
      : []),
    ...(several
      ? [
          {
            kind: 'do' as const,
            word: 'take out',
            label: `take out the ${name} pickup`,
            run: (bench: Workbench) => bench.restructure((sheet) => withoutPickup(sheet, i)),
          },
        ]
      : []),
  ];
  return { key: `pickup ${i}`, part: `${name} pickup`, cells };
}

/** Coils off and on, with what is made for them. */
const coilCell = (pickup: Pickup, i: number): Cell =>
  hasCoil(pickup.build)
    ? {
        kind: 'do',
        word: 'take the coil off',
        help: 'coilOff',
        label: `${pickup.name} pickup, take the coil off: magnets and steel lie on the bench by themselves`,
        run: (bench) => bench.set(['pickups', i], withoutCoil(pickup)),
      }
    : {
        kind: 'do',
        word: 'put the coil on',
        label: `${pickup.name} pickup, put the coil on as it was wound`,
        run: (bench) => bench.set(['pickups', i], withCoil(pickup)),
      };

/** All of the pickup that is looked at; of another that is built, a line that says how. */
export function pickupRows(
  pickup: Pickup,
  i: number,
  several: boolean,
  chosen: boolean,
  strings: number,
  outcome: PickupOutcome | undefined,
): PartsRow[] {
  const head = headRow(pickup, i, several, strings);
  const coils = hasCoil(pickup.build) ? pickup.rows.map((_, r) => coilRow(pickup, i, r, outcome)) : [];
  if (!pickup.build) return [head, ...coils];
  if (chosen) return [head, ...buildRows(pickup, i), ...coils];
  const show: Cell = {
    kind: 'do',
    word: 'show',
    label: `show the parts of the ${pickup.name} pickup`,
    run: (bench) => bench.choose(i),
  };
  return [
    {
      ...head,
      cells: [
        ...head.cells.slice(0, 1),
        note(
          buildWords(
            pickup.build,
            pickup.rows.map(({ offset }) => offset),
          ),
        ),
        show,
      ],
    },
  ];
}
