/** What is drawn around the lines of the field: strings, coils and the section's plane, in the pickup's own frame, m. */
import { basePlateTop, coverOutside, coverRim, coverTop, type Halves } from '../../shape/cover.ts';
import { hasCoil } from '../../shape/hasCoil.ts';
import { pickupParts } from '../../shape/parts.ts';
import { racetrack, solidEdges, type Racetrack } from '../../plot/space/solids.ts';
import { chain, clipped, fieldStrokes, type Ball, type Stroke } from '../../plot/space/strokes.ts';
import type { Triple } from '../../plot/space/view.ts';
import { halvesOf, heightsOf } from '../../shape/solid.ts';
import { rowCrossing, stringAcross, stringUnderside } from '../../shape/stringCourse.ts';
import type { Sheet } from '../../sheet/sheet.ts';
import type { SpacePicture } from '../../state/space.svelte.ts';

/** What the section shows: half along the strings, and heights. */
const HALF_SPAN = 0.036;
const HEIGHTS = [-0.033, 0.021] as const;
/** How far lines are drawn beyond the outermost body. */
const AROUND = 0.022;
/** The middle of what is drawn lies so far below the plane of the pole tops. */
const BELOW = 0.004;

/** A line of a coil that is there from wherever one looks, and its outline for where it ends. */
export interface CoilForm extends Racetrack {
  readonly heights: readonly [low: number, high: number];
}

export interface SpaceScene {
  readonly ball: Ball;
  /** Lines of the field within the ball. */
  readonly field: readonly Stroke[];
  readonly parts: readonly Stroke[];
  readonly coils: readonly CoilForm[];
  /** What thin lines stand for: coils, cover, base plate, as there are. */
  readonly thin: readonly string[];
  /** Where each string's number stands; string 1 first. */
  readonly numbers: readonly Triple[];
  /** Ends of the chosen string within the ball, towards saddle and nut. */
  readonly chosen: readonly [Triple, Triple];
  /** Where the section's plane is named. */
  readonly corner: Triple;
}

export function spaceScene(sheet: Sheet, index: number, picture: SpacePicture): SpaceScene | null {
  const pickup = sheet.pickups[index];
  if (!pickup?.build) return null;
  const { instrument } = sheet;
  const { build, place, slant } = pickup;
  const centre: Triple = [0, 0, -BELOW];
  const coils = (hasCoil(build) ? build.rows : []).map(({ window }, r): CoilForm => ({
    x: pickup.rows[r]?.offset ?? 0,
    straight: window.straight,
    edge: window.outer,
    heights: [window.bottom, window.top],
  }));
  const parts = pickupParts(
    build,
    pickup.rows.map(({ offset }) => offset),
  );
  const halves = coverOutside(parts);
  const below = basePlateTop(parts);
  const metal = [
    ...(build.cover ? boxOf(halves, coverRim(parts), coverTop(parts)) : []),
    ...(build.basePlate ? boxOf(halves, below - build.basePlate.thickness, below) : []),
  ];
  const farthest = Math.max(
    ...(metal.length > 0 ? [Math.hypot(halves.x, halves.y)] : []),
    ...picture.solids.map((solid) => {
      const [halfX, halfY] = halvesOf(solid);
      const up = Math.max(...heightsOf(solid).map((z) => Math.abs(z + BELOW)));
      return Math.hypot(Math.abs(solid.x) + halfX, Math.abs(solid.y) + halfY, up);
    }),
    ...coils.map(({ x, straight, edge }) => Math.abs(x) + 0.5 * straight + edge),
  );
  const ball: Ball = { centre, radius: farthest + AROUND };

  const [s, c] = [Math.sin(slant), Math.cos(slant)];
  /** From the instrument's frame to the pickup's: turned by the slant about its centre. */
  const local = (x: number, y: number, z: number): Triple => [
    (x - place) * c + y * s,
    y * c - (x - place) * s,
    z,
  ];
  const courses = instrument.strings.map(({ diameter }, i) => {
    const string = i + 1;
    const z = stringUnderside(instrument, pickup, build, string) + 0.5 * diameter;
    const at = rowCrossing(instrument, pickup, 0, string);
    const ends = [-1, 1].map((way) => {
      const x = at + way * 2 * ball.radius;
      return local(x, stringAcross(instrument, string, x), z);
    });
    return clipped({ pen: 'string', points: ends.flat(), thick: diameter }, ball)[0] ?? null;
  });
  const endsOf = (stroke: Stroke | null | undefined): [Triple, Triple] => {
    const p = stroke?.points ?? [0, 0, 0, 0, 0, 0];
    return [
      [p[0]!, p[1]!, p[2]!],
      [p[3]!, p[4]!, p[5]!],
    ];
  };

  const y = picture.plane;
  const frame: readonly Triple[] = [
    [-HALF_SPAN, y, HEIGHTS[0]],
    [HALF_SPAN, y, HEIGHTS[0]],
    [HALF_SPAN, y, HEIGHTS[1]],
    [-HALF_SPAN, y, HEIGHTS[1]],
  ];
  return {
    ball,
    field: fieldStrokes(picture.points, picture.ends, ball),
    parts: [
      ...picture.solids.flatMap(solidEdges),
      ...courses.filter((stroke) => stroke !== null),
      ...coils.flatMap((coil) => coil.heights.map((z) => racetrack(coil, z))),
      ...metal,
      ...frame.flatMap((corner, k) => chain(corner, frame[(k + 1) % 4]!)),
    ],
    coils,
    thin: [
      ...(coils.length > 0 ? ['coils'] : []),
      ...(build.cover ? ['cover'] : []),
      ...(build.basePlate ? ['base plate'] : []),
    ],
    numbers: courses.map((stroke) => endsOf(stroke)[0]),
    chosen: endsOf(courses[sheet.listen.string - 1]),
    corner: frame[2]!,
  };
}

/** The twelve edges of a box about the pickup's centre. */
function boxOf({ x, y }: Halves, low: number, high: number): readonly Stroke[] {
  const round: readonly (readonly [number, number])[] = [
    [x, y],
    [-x, y],
    [-x, -y],
    [x, -y],
  ];
  const face = (z: number): Stroke => ({
    pen: 'thin',
    points: [...round, round[0]!].flatMap(([a, b]) => [a, b, z]),
  });
  return [
    face(low),
    face(high),
    ...round.map(([a, b]): Stroke => ({ pen: 'thin', points: [a, b, low, a, b, high] })),
  ];
}
