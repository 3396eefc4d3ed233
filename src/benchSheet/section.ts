/** The pickup cut along a string, with its dimensions, and the plan of its bobbins in natural size. */
import { hasCoil } from '../shape/hasCoil.ts';
import { FLANGE, FLANGE_RIM, upperFlange } from '../shape/bobbin.ts';
import { basePlateTop, coverOutside, coverRim } from '../shape/cover.ts';
import { pickupParts } from '../shape/parts.ts';
import { poleForm, poleOutline, topDiameter } from '../shape/pole.ts';
import { polesStanding, standingPoles } from '../shape/poleRow.ts';
import { poleAt } from '../shape/singlePole.ts';
import { stringUnderside } from '../shape/stringCourse.ts';
import type { BarMagnet, PickupBuild, RowBuild } from '../sheet/build.ts';
import type { Pickup, Sheet } from '../sheet/sheet.ts';
import { buildUnder } from '../sheet/singlePoles.ts';
import { apart, besideOneAnother, onPaper } from './lettersApart.ts';
import { LANE, measured, middled } from './measure.ts';
import { box, circle, lettersLast, path, text, through, type Drawing, type Mark } from './page.ts';
import { mm } from './shown.ts';

/** mm of paper: a column, its height at most, and room for dimension lines at the sides and below. */
const WIDTH = 92;
const HEIGHT = 62;
const SIDE = 14;
const TOP = 3;
/** Scales, the largest that fits is taken. */
const SCALES = [
  [3, '3 : 1'],
  [2, '2 : 1'],
  [1.5, '3 : 2'],
  [1, '1 : 1'],
  [0.5, '1 : 2'],
] as const;
/** Metres to millimetres. */
const MILLI = 1e3;

interface Frame {
  readonly build: PickupBuild;
  readonly offsets: readonly number[];
  readonly string: number;
  readonly X: (x: number) => number;
  readonly Z: (z: number) => number;
  /** mm of paper a metre. */
  readonly by: number;
}

/** @param string 1 is the highest */
export function sectionDrawing(sheet: Sheet, pickup: Pickup, whole: PickupBuild, string: number): Drawing {
  const build = buildUnder(whole, string - 1);
  const offsets = pickup.rows.map(({ offset }) => offset);
  const parts = pickupParts(whole, offsets);
  const under = stringUnderside(sheet.instrument, pickup, build, string);
  const thick = sheet.instrument.strings[string - 1]!.diameter;
  const { bars, steel, basePlate, cover } = build;
  const blocks = [...bars, ...steel];
  const plate = basePlate ? basePlateTop(parts) - basePlate.thickness : 0;
  const lowest = Math.min(
    plate,
    0,
    ...blocks.map(({ top, thickness }) => top - thickness),
    ...build.rows
      .filter(({ pole }) => pole.kind !== 'none')
      .map(({ pole }) => (pole.heights[string - 1] ?? 0) - pole.length),
    coverRim(parts),
  );
  const half = Math.max(
    coverOutside(parts).x,
    ...blocks.map(({ offset, width }) => Math.abs(offset) + 0.5 * width),
  );
  const highest = Math.max(under + thick, cover ? cover.clearance + cover.thickness : 0);
  const lanes = build.rows.length === 2 ? 4 : 3;
  const below = lanes * LANE + 1;
  const [scale, ratio] =
    SCALES.find(
      ([times]) =>
        2 * half * MILLI * times <= WIDTH - 2 * SIDE &&
        (highest - lowest) * MILLI * times <= HEIGHT - TOP - below,
    ) ?? SCALES.at(-1)!;
  const by = scale * MILLI;
  const X = (x: number): number => WIDTH / 2 - x * by;
  const Z = (z: number): number => TOP + (highest - z) * by;
  const frame: Frame = { build, offsets, string, X, Z, by };
  const bottom = Z(lowest);
  return {
    width: WIDTH,
    height: bottom + below,
    marks: onPaper([
      path(box(2, Z(under + thick), WIDTH - 4, Math.max(0.3, thick * by)), 'metal'),
      ...sheets(frame, parts),
      ...blocks.map(({ offset, width, top, thickness }) =>
        path(box(X(offset + 0.5 * width), Z(top), width * by, thickness * by), 'metal'),
      ),
      ...build.rows.flatMap((row, r) => rowMarks(frame, row, offsets[r]!)),
      ...besideOneAnother(bars.flatMap((bar) => barLetters(bar, frame))),
      ...sideMeasures(frame, half, under),
      ...apart(build.rows.map((row, r) => rowMeasures(frame, row, offsets[r]!, bottom))),
      ...(build.rows.length === 2
        ? measured({
            from: { x: X(offsets[0]!), y: bottom },
            to: { x: X(offsets[1]!), y: bottom },
            along: 'x',
            at: bottom + 4 * LANE,
            figure: mm(Math.abs(offsets[0]! - offsets[1]!)),
          })
        : []),
    ]),
    says: `under string ${string}, ${ratio}, mm; nut on the left`,
  };
}

/** Whether there is anything of a row: on the bench without a coil a bar may lie alone. */
const stands = (build: PickupBuild, { pole }: RowBuild): boolean => hasCoil(build) || pole.kind !== 'none';

function rowMarks({ build, X, Z, by, string }: Frame, row: RowBuild, offset: number): Mark[] {
  const { pole, window, up } = row;
  const height = pole.heights[string - 1] ?? 0;
  const outline = poleOutline(poleForm(pole)).map(({ x, z }) => [X(offset) + x * by, Z(height + z)] as const);
  const edge = window.outer + FLANGE_RIM;
  const above = upperFlange(window.top);
  const flange = (z: number, thick: number): Mark =>
    path(box(X(offset + edge), Z(z), 2 * edge * by, thick * by), 'outline');
  const wound = [-1, 1].map((side): Mark => {
    const left = X(offset) + (side < 0 ? -window.outer : window.inner) * by;
    const width = (window.outer - window.inner) * by;
    const [y, high] = [Z(window.top), (window.top - window.bottom) * by];
    const cross =
      through([
        [left, y],
        [left + width, y + high],
      ]) +
      through([
        [left + width, y],
        [left, y + high],
      ]);
    return path(box(left, y, width, high) + cross, 'copper');
  });
  const rod = pole.kind === 'rod';
  const letters = up === 'north' ? ['N', 'S'] : ['S', 'N'];
  return [
    ...(hasCoil(build) ? [flange(window.top + above, above), flange(window.bottom, FLANGE), ...wound] : []),
    ...(pole.kind === 'none' ? [] : [path(through(outline, true), 'metal')]),
    ...(stands(build, row)
      ? [
          path(
            through([
              [X(offset), Z(height) - 1.5],
              [X(offset), Z(height - pole.length) + 1.5],
            ]),
            'centre',
          ),
        ]
      : []),
    ...(rod
      ? [
          text(X(offset), middled(Z(height) + 4), letters[0]!),
          text(X(offset), middled(Z(height - pole.length) - 4), letters[1]!),
        ]
      : []),
  ];
}

/** North stands towards the nut, on the left, or up, unless it is turned. */
function barLetters(bar: BarMagnet, { X, Z, by }: Frame): Mark[] {
  if (bar.width * by < 12 || bar.direction === 'along the length') return [];
  const y = middled(Z(bar.top - 0.5 * bar.thickness));
  const [first, second] = bar.turned ? ['S', 'N'] : ['N', 'S'];
  const [left, right] = [X(bar.offset + 0.5 * bar.width) + 2.5, X(bar.offset - 0.5 * bar.width) - 2.5];
  return bar.direction === 'across the width'
    ? [text(left, y, first), text(right, y, second)]
    : [text(X(bar.offset), y, `${first} up`)];
}

function sheets({ build, X, Z, by }: Frame, parts: ReturnType<typeof pickupParts>): Mark[] {
  const { cover, basePlate } = build;
  const { x: out } = coverOutside(parts);
  const marks: Mark[] = [];
  if (cover) {
    const [top, rim, t] = [cover.clearance + cover.thickness, coverRim(parts), cover.thickness];
    const points = [
      [out, rim],
      [out, top],
      [-out, top],
      [-out, rim],
      [-out + t, rim],
      [-out + t, cover.clearance],
      [out - t, cover.clearance],
      [out - t, rim],
    ] as const;
    marks.push(
      path(
        through(
          points.map(([x, z]) => [X(x), Z(z)] as const),
          true,
        ),
        'metal',
      ),
    );
  }
  if (basePlate)
    marks.push(
      path(
        box(X(out), Z(basePlateTop(parts)), 2 * out * by, Math.max(0.3, basePlate.thickness * by)),
        'metal',
      ),
    );
  return marks;
}

/** Of the first row on the left; on the right the gap, and what the second has otherwise. */
function sideMeasures({ build, offsets, string, X, Z }: Frame, half: number, under: number): Mark[] {
  const first = build.rows[0]!;
  const last = build.rows.at(-1)!;
  const [left, right] = [X(half), X(-half)];
  const upright = (row: RowBuild, offset: number, side: -1 | 1, from: number): Mark[] => {
    const height = row.pole.heights[string - 1] ?? 0;
    const { window } = row;
    const edge = X(offset);
    if (!stands(build, row)) return [];
    return [
      ...(hasCoil(build)
        ? measured({
            from: { x: X(offset + (side < 0 ? window.outer : -window.outer)), y: Z(window.top) },
            to: { x: X(offset + (side < 0 ? window.outer : -window.outer)), y: Z(window.bottom) },
            along: 'y',
            at: from + side * (LANE - 0.6),
            figure: mm(window.top - window.bottom),
          })
        : []),
      ...(row.pole.kind !== 'none'
        ? measured({
            from: { x: edge, y: Z(height) },
            to: { x: edge, y: Z(height - row.pole.length) },
            along: 'y',
            at: from + side * (2 * LANE - 0.6),
            figure: mm(row.pole.length),
          })
        : []),
    ];
  };
  const height = last.pole.heights[string - 1] ?? 0;
  const gap = measured({
    from: { x: X(offsets.at(-1)!), y: Z(under) },
    to: { x: X(offsets.at(-1)!), y: Z(height) },
    along: 'y',
    at: right + (build.rows.length === 2 ? 2.9 : 1.5) * LANE,
    figure: mm(under - height),
  });
  return [
    ...upright(first, offsets[0]!, -1, left),
    ...(build.rows.length === 2 ? upright(last, offsets[1]!, 1, right) : []),
    ...gap,
  ];
}

/** Widths below: pole, hole and winding. */
function rowMeasures({ build, X, Z, string }: Frame, row: RowBuild, offset: number, bottom: number): Mark[] {
  const { pole, window } = row;
  if (!stands(build, row)) return [];
  const foot = Z((pole.heights[string - 1] ?? 0) - pole.length);
  const wide = (half: number, y: number, lane: number, figure: string): Mark[] =>
    measured({
      from: { x: X(offset + half), y },
      to: { x: X(offset - half), y },
      along: 'x',
      at: bottom + lane * LANE,
      figure,
    });
  const head = topDiameter(poleForm(pole));
  const thick = head === pole.diameter ? `Ø ${mm(pole.diameter)}` : `Ø ${mm(pole.diameter)}, ${mm(head)}`;
  return [
    ...(pole.kind !== 'none' ? wide(0.5 * pole.diameter, foot, 1, thick) : []),
    ...(hasCoil(build)
      ? [
          ...wide(window.inner, Z(window.bottom), 2, mm(2 * window.inner)),
          ...wide(window.outer, Z(window.bottom), 3, mm(2 * window.outer)),
        ]
      : []),
  ];
}

/** The first row's bobbin from above, the nut up and the bass side left: winding, poles and their pitch. */
export function planDrawing({ rows: built, pitch }: PickupBuild): Drawing {
  const rows = built.slice(0, 1);
  const offsets = [0];
  const halves = rows.map(({ window }) => 0.5 * window.straight + window.outer);
  const most = Math.max(...halves);
  const [scale, ratio] =
    SCALES.slice(3).find(([times]) => 2 * most * MILLI * times <= WIDTH - 2) ?? SCALES.at(-1)!;
  const by = scale * MILLI;
  const nut = Math.max(...rows.map(({ window }, r) => offsets[r]! + window.outer));
  const saddle = Math.min(...rows.map(({ window }, r) => offsets[r]! - window.outer));
  const X = (y: number): number => WIDTH / 2 + y * by;
  const Y = (x: number): number => LANE + 1 + (nut - x) * by;
  const bottom = Y(saddle);
  const last = rows.at(-1)!;
  const first = rows[0]!;
  const count = first.pole.heights.length;
  const end = 0.5 * (count - 1) * pitch;
  const racetrack = (offset: number, straight: number, r: number): string => {
    const [left, right, high, low] = [X(-straight / 2), X(straight / 2), Y(offset + r), Y(offset - r)];
    const arc = `A${(r * by).toFixed(2)} ${(r * by).toFixed(2)} 0 0 1`;
    return `M${left} ${high}H${right}${arc} ${right} ${low}H${left}${arc} ${left} ${high}Z`;
  };
  return {
    width: WIDTH,
    height: bottom + 2 * LANE + 1,
    marks: lettersLast([
      ...rows.flatMap(({ window, pole }, r): Mark[] => [
        path(racetrack(offsets[r]!, window.straight, window.outer), 'outline'),
        path(racetrack(offsets[r]!, window.straight, window.inner), 'thin'),
        path(
          polesStanding({ pitch, heights: standingPoles(pole) })
            .map(({ k, y }) => circle(X(y), Y(offsets[r]!), 0.5 * poleAt(pole, k).diameter * by))
            .join(''),
          'metal',
        ),
        path(
          standingPoles(pole)
            .map(
              (_, k) =>
                through([
                  [X(end - k * pitch), Y(offsets[r]!) - 0.8],
                  [X(end - k * pitch), Y(offsets[r]!) + 0.8],
                ]) +
                through([
                  [X(end - k * pitch) - 0.8, Y(offsets[r]!)],
                  [X(end - k * pitch) + 0.8, Y(offsets[r]!)],
                ]),
            )
            .join(''),
          'thin',
        ),
      ]),
      ...measured({
        from: { x: X(-end), y: Y(offsets[0]!) },
        to: { x: X(end), y: Y(offsets[0]!) },
        along: 'x',
        at: LANE,
        figure: `${count - 1} × ${mm(pitch)} = ${mm((count - 1) * pitch)}`,
      }),
      ...measured({
        from: { x: X(-0.5 * last.window.straight), y: Y(offsets.at(-1)! - last.window.outer) },
        to: { x: X(0.5 * last.window.straight), y: Y(offsets.at(-1)! - last.window.outer) },
        along: 'x',
        at: bottom + LANE,
        figure: mm(last.window.straight),
      }),
      ...measured({
        from: { x: X(-0.5 * last.window.straight - last.window.outer), y: Y(offsets.at(-1)!) },
        to: { x: X(0.5 * last.window.straight + last.window.outer), y: Y(offsets.at(-1)!) },
        along: 'x',
        at: bottom + 2 * LANE,
        figure: mm(last.window.straight + 2 * last.window.outer),
      }),
    ]),
    says: `${built.length > 1 ? 'of row 1 ' : ''}from above, ${ratio}; bass on the left`,
  };
}
