/** The dimensions of one row of poles. */
import type { RowBuild } from '../../sheet/build.ts';
import { changeSingle } from '../../sheet/singlePoles.ts';
import { poleAt } from '../../shape/singlePole.ts';
import { withTip } from '../../sheet/focusLever.ts';
import type { BuiltRow } from './built.ts';
import { CLEAR, COLUMN, type Measure, type MeasureInput, type Path } from './measure.ts';

/** What «h −0.00 mm» needs beside a pole, as wide as it is drawn for fingers, px. */
const H_ROOM = 95;
/** From a pole to its tip's dimension, px. */
const TIP = 20;

const TIP_WORDS = { flat: 'chamfer', chamfered: 'chamfer', coned: 'cone', domed: 'dome' } as const;

export function rowMeasures(input: MeasureInput, row: BuiltRow, two: boolean): Measure[] {
  const { build, index, pickup, string, view } = input;
  const data = build.rows[row.index] as RowBuild;
  const { pole } = data;
  const of = two ? `${pickup.name} row ${row.index + 1}` : pickup.name;
  const at = (...path: Path): Path => ['pickups', index, 'build', 'rows', row.index, 'pole', ...path];
  const figure = (path: Path) => (value: number) => ({ path, value });
  const k = string - 1;
  const own = pole.own?.[k];
  const here = poleAt(pole, k);
  // What a single pole has of its own is changed there, all else for the whole row.
  const size = (field: 'length' | 'diameter') =>
    own && own[field] !== null
      ? {
          paths: [at('own', k, field)],
          change: (value: number) => ({
            path: ['pickups', index, 'build', 'rows', row.index],
            value: changeSingle(data, k, { [field]: value }),
          }),
        }
      : { paths: [at(field)], change: figure(at(field)) };
  // Of two rows each keeps to its own side of the pickup; one row has its length on the left, its tip on the right.
  const outward = two && row.index === 0 ? -1 : 1;
  const side = two ? outward : -1;
  const column = row.centre + side * ((side < 0 ? row.asideLeft : row.asideRight) + COLUMN);
  const screw = pole.kind === 'screw';
  const tipX = row.centre + outward * (row.halfTop + TIP);
  const tipY = row.top + (pole.tip.shape === 'flat' ? 0 : pole.tip.size) * view.scale;
  const low = view.bottom + 24;
  const room = Math.abs(view.middle - row.centre) - row.halfTop;
  return [
    {
      key: `height ${row.index}`,
      label: `${of}, height of the ${pole.kind} under string ${string}`,
      word: 'height',
      before: two ? (room > H_ROOM ? 'h' : '') : 'height',
      after: '',
      figure: 'poleHeight',
      value: pole.heights[string - 1] ?? 0,
      paths: [at('heights', string - 1), at('heights')],
      change: figure(at('heights', string - 1)),
      along: 'y',
      handle: { x: row.centre, y: row.top },
      pixelsPerUnit: -view.scale,
      line: null,
      place: two
        ? {
            x: row.centre - outward * (row.halfTop + 6),
            y: row.top - 2,
            anchor: outward < 0 ? 'start' : 'end',
          }
        : { x: column - 10, y: row.top, anchor: 'end' },
    },
    {
      key: `tip ${row.index}`,
      label: `${of}, ${TIP_WORDS[pole.tip.shape]} of the pole`,
      word: TIP_WORDS[pole.tip.shape],
      before: two ? '' : TIP_WORDS[pole.tip.shape],
      after: pole.tip.shape === 'chamfered' ? '× 45°' : '',
      figure: 'tipSize',
      value: pole.tip.shape === 'flat' ? 0 : pole.tip.size,
      paths: [at('tip', 'size')],
      change: (value) => ({ path: at(), value: withTip(pole, value) }),
      along: 'y',
      handle: { x: tipX, y: tipY },
      pixelsPerUnit: view.scale,
      line:
        tipY - row.top < 1
          ? null
          : {
              from: { x: row.centre + outward * row.halfTop * 0.6, y: row.top },
              to: { x: row.centre + outward * row.halfTop, y: tipY },
              at: tipX,
            },
      ...(two
        ? {
            place:
              pole.tip.shape === 'flat'
                ? null
                : { x: tipX + outward * CLEAR, y: tipY + 8, anchor: outward < 0 ? 'end' : 'start' },
          }
        : {
            leader: [
              { x: tipX, y: tipY },
              { x: tipX + 10, y: tipY + 14 },
              { x: row.centre + row.edge + 8, y: tipY + 14 },
            ],
            place: { x: row.centre + row.edge + 8, y: tipY + 14, anchor: 'start' },
          }),
    },
    {
      key: `length ${row.index}`,
      label: `${of}, ${screw ? 'screw length, trimmed' : `${pole.kind} length`}`,
      word: 'length',
      before: '',
      after: '',
      figure: 'poleLength',
      value: here.length,
      ...size('length'),
      along: 'y',
      handle: { x: column, y: row.bottom },
      pixelsPerUnit: view.scale,
      line: {
        from: { x: row.centre - row.halfTop, y: row.top },
        to: { x: row.centre + (column < row.centre ? -1 : 1) * row.half, y: row.bottom },
        at: column,
      },
      place: { x: column, y: (row.top + row.bottom) / 2, anchor: 'middle' },
    },
    {
      key: `diameter ${row.index}`,
      label: `${of}, ${pole.kind} diameter`,
      word: 'Ø',
      before: 'Ø',
      after: '',
      figure: 'poleDiameter',
      value: here.diameter,
      ...size('diameter'),
      along: 'x',
      handle: { x: row.centre + row.half, y: low },
      pixelsPerUnit: view.scale / 2,
      line: {
        from: { x: row.centre - row.half, y: row.bottom },
        to: { x: row.centre + row.half, y: row.bottom },
        at: low,
      },
      place: { x: row.centre + row.half + CLEAR, y: low, anchor: 'start' },
    },
  ];
}
