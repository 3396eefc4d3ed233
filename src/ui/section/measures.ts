/** All dimensions of a section but those of bars and steel, which come with what stands further down. */
import { lowered } from '../../sheet/focusLever.ts';
import type { BuiltRow } from './built.ts';
import { CLEAR, COLUMN, type Measure, type MeasureInput, type Path } from './measure.ts';
import { rowMeasures } from './rowMeasures.ts';

/** What «gap 2.60 mm» needs beside its ring, px. */
const GAP_ROOM = 104;
const FIGURE_ROOM = 76;

/** Rings stand apart by their hit discs; figures of one row never meet those of its neighbour. */
export function measures(input: MeasureInput): Measure[] {
  const { built, build } = input;
  const two = build.rows.length === 2;
  return [
    ...built.rows.flatMap((row) => (row.kind === 'none' ? [] : rowMeasures(input, row, two))),
    gap(input, two),
    ...(two ? built.rows.map((row) => offset(input, row)) : []),
  ];
}

/** Over the pole of the row that stands to the right, beyond its coil. */
function gap({ build, built, index, string, under, view }: MeasureInput, two: boolean): Measure {
  const row = built.rows.at(-1) as BuiltRow;
  const height = build.rows[row.index]?.pole.heights[string - 1] ?? 0;
  const column = row.centre + row.asideRight + COLUMN;
  const path: Path = ['pickups', index, 'build'];
  const y = view.z.to(under);
  // A hundredth of a millimetre is finer than any gap can be set.
  const value = Math.round(Math.max(0, under - height) * 1e5) / 1e5;
  return {
    key: 'gap',
    label: `gap from the pole${two ? ` of row ${row.index + 1}` : ''} to string ${string}; bass and treble side together`,
    word: 'gap',
    before: view.width - column < GAP_ROOM ? '' : 'gap',
    after: '',
    figure: 'gap',
    value,
    paths: [
      [...path, 'gapBass'],
      [...path, 'gapTreble'],
    ],
    // By whole hundredths, so that the gaps at both sides stay on them.
    change: (to) => ({ path, value: lowered(build, Math.round((to - value) * 1e5) / 1e5) }),
    along: 'y',
    handle: { x: column, y },
    pixelsPerUnit: -view.scale,
    line: { from: { x: column + 1, y }, to: { x: row.centre + row.halfTop, y: row.top }, at: column },
    place:
      view.width - column < FIGURE_ROOM
        ? { x: column - 10, y: Math.max(y + 16, (y + row.top) / 2), anchor: 'end' }
        : { x: column + CLEAR, y: Math.max(y + 15, (y + row.top) / 2), anchor: 'start' },
  };
}

function offset({ index, pickup, view }: MeasureInput, row: BuiltRow): Measure {
  const path: Path = ['pickups', index, 'rows', row.index, 'offset'];
  const y = view.bottom + 56;
  return {
    key: `offset ${row.index}`,
    label: `${pickup.name} row ${row.index + 1}, offset from the pickup's centre`,
    word: 'offset',
    before: '',
    after: '',
    figure: 'rowOffset',
    value: pickup.rows[row.index]?.offset ?? 0,
    paths: [path],
    change: (value) => ({ path, value }),
    along: 'x',
    handle: { x: row.centre, y },
    pixelsPerUnit: -view.scale / Math.cos(pickup.slant),
    line: {
      from: { x: view.middle, y: view.bottom },
      to: { x: row.centre, y: row.bottom },
      at: y,
    },
    place: { x: (view.middle + row.centre) / 2, y, anchor: 'middle' },
  };
}
