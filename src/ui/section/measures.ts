/** All dimensions of a section. */
import { lowered } from '../../sheet/focusLever.ts';
import { numbered } from '../../sheet/steelWords.ts';
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
    ...input.build.bars.flatMap((_, i) => barMeasures(input, i)),
    ...(two ? built.rows.map((row) => offset(input, row)) : []),
  ];
}

/** Over the pole of the row that stands to the right, beyond its coil. */
function gap({ build, built, index, string, under, view }: MeasureInput, two: boolean): Measure {
  const row = built.rows.at(-1) as BuiltRow;
  const height = build.rows[row.index]?.pole.heights[string - 1] ?? 0;
  const column = row.centre + row.edge + COLUMN;
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

function barMeasures({ build, built, index, pickup, view }: MeasureInput, i: number): Measure[] {
  const bar = build.bars[i]!;
  const { box } = built.bars[i]!;
  const name = numbered(`${pickup.name} bar magnet`, i, build.bars.length);
  const middle = box.x + box.width / 2;
  // On its faces, or just beside a bar too narrow for two rings.
  const apart = Math.max(14, Math.min(28, box.width / 2));
  const at = (field: string): Path => ['pickups', index, 'build', 'bars', i, field];
  const inside = box.height >= 26;
  return [
    {
      key: `bar ${i} top`,
      label: `${name}, upper face`,
      word: 'magnet top',
      before: 'top',
      after: '',
      figure: 'barTop',
      value: bar.top,
      paths: [at('top')],
      change: (value) => ({ path: at('top'), value }),
      along: 'y',
      handle: { x: middle - apart, y: box.y },
      pixelsPerUnit: -view.scale,
      line: null,
      // Between two rows there is room below it only, under one row beside it only.
      place:
        build.rows.length === 2
          ? { x: middle + 8, y: box.y + box.height + 20, anchor: 'end' }
          : { x: box.x - 8, y: box.y + Math.max(26, box.height / 2), anchor: 'end' },
    },
    {
      key: `bar ${i} thickness`,
      label: `${name}, thickness`,
      word: 'magnet',
      before: '',
      after: '',
      figure: 'barThickness',
      value: bar.thickness,
      paths: [at('thickness')],
      change: (value) => ({ path: at('thickness'), value }),
      along: 'y',
      handle: { x: middle + apart, y: box.y + box.height },
      pixelsPerUnit: view.scale,
      line: null,
      place: inside
        ? { x: middle, y: box.y + box.height / 2, anchor: 'middle' }
        : { x: middle + apart + CLEAR, y: box.y + box.height + 6, anchor: 'start' },
    },
  ];
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
