/**
 * Where the section along the chosen string stands, px: the string as a bar, the reach as a bell upon it. A pickup with
 * a build is drawn below it to scale, along and up alike; without one, a scheme stands in its place.
 */
import { hasCoil } from '../../shape/hasCoil.ts';
import { PX_PER_METRE } from '../../plot/naturalSize.ts';
import { linearScale, type Scale } from '../../plot/scale.ts';
import type { Sheet } from '../../sheet/sheet.ts';
import { basePlateTop } from '../../shape/cover.ts';
import { pickupParts } from '../../shape/parts.ts';
import { standingPoles } from '../../shape/poleRow.ts';
import { sizedAt } from '../../shape/singlePole.ts';
import { alongRow, rowCrossing, stringUnderside } from '../../shape/stringCourse.ts';
import { stringLevel } from '../../shape/stringLevel.ts';
import type { Prediction, Voice } from '../../state/types.ts';

export interface RowView {
  readonly index: number;
  /** Of the bell, px. */
  readonly centre: number;
  readonly left: number;
  readonly right: number;
  /** y of the bell at its edges and at its middle, px. */
  readonly edgeLeft: number;
  readonly edgeRight: number;
  readonly top: number;
  /** Of the reach, as a bell of the same width has it at half height, m. */
  readonly width: number;
}

export interface SectionView {
  readonly width: number;
  readonly height: number;
  /** y of the string's middle, px. */
  readonly string: number;
  readonly stringThick: number;
  readonly bellHeight: number;
  /** Value of the reach that is drawn `bellHeight` high, V·s/m². */
  readonly reference: number;
  /** Metres from the saddle to px, and metres above the nominal pole tops to px: one scale. */
  readonly x: Scale;
  readonly z: Scale;
  /** px per metre */
  readonly scale: number;
  /** Of the drawing, «3 : 1»; null for a scheme. */
  readonly ratio: string | null;
  readonly rows: readonly RowView[];
  /** Where each row's centre line crosses the string, px. */
  readonly centres: readonly number[];
  /** Centre of the pickup under this string, px. */
  readonly middle: number;
  /** Where the string crosses a line `offset` (m) from the pickup's centre: px, and m along that line from its middle. */
  readonly at: (offset: number) => { readonly x: number; readonly along: number };
  /** y of the lowest edge of the build, px. */
  readonly bottom: number;
  /** Whether figures stand in a table below the drawing, because they would not find room upon it. */
  readonly tabled: boolean;
}

/** Half of the string shown over a scheme, m: a little more than the widest usual two-coil reach. */
const HALF_SPAN = 0.036;
/** A strong, narrow reach set by hand; higher bells are drawn as high as this one. V·s/m². */
const USUAL_PEAK = 9;
/** The same for a reach that a build makes, on the reference string. */
const BUILT_PEAK = 3.6;
/** Whatever its level, a bell is never lower than this share of the room for it. */
const LOWEST = 0.5;
const LOWEST_BY_HAND = 0.3;
/** The scales of the drawing by the width that each needs, px. */
const SCALES: readonly (readonly [least: number, by: number, name: string])[] = [
  [760, 4, '4 : 1'],
  [540, 3, '3 : 1'],
  [350, 2, '2 : 1'],
  [0, 1.5, '3 : 2'],
  // For what has risen in a room that stays.
  [0, 1, '1 : 1'],
];
/** Below this width, or for two rows below this scale, figures go into a table. */
const ROOM = 480;
const ROOM_FOR_TWO = 2.5;
/** Above the bell, and between the bell's foot and the z = 0 plane, px and m. */
const TOP = 56;
/** The same where what is said there takes two lines, px. */
const TOP_NARROW = 74;
const LEAST_RISE = 0.003;
/** Below the build: the diameters, and the offsets of two rows, px. */
const BELOW = 46;
const BELOW_TWO = 78;

/** What a drawing to scale has to have room for; it stays the same while a part is dragged, so that nothing else moves. */
export interface Extent {
  /** From the plane z = 0 to the top of the string, and down to the lowest part, m. */
  readonly rise: number;
  readonly depth: number;
}

/**
 * What a drawing has room for that keeps its height: what it was made for while the sheet finds place in that, and what
 * the sheet needs where it doesn't; the scale is then a smaller one. A string that rises takes of the bell's room first.
 * @param width px
 */
export function keptExtent(made: Extent, needed: Extent, width: number): Extent {
  const gives = ((1 - LOWEST) * highestBell(width)) / scaleFor(width).scale;
  return {
    rise: needed.rise <= made.rise + gives ? made.rise : needed.rise,
    depth: Math.max(made.depth, needed.depth),
  };
}

const highestBell = (width: number): number => (width < ROOM ? 80 : 96);

/** The largest scale that the width allows and, of those, the largest that finds room in a height. */
function scaleFor(width: number, fits: (scale: number) => boolean = () => true): Scaled {
  const all = SCALES.filter(([least]) => width >= least).map(([, by, ratio]) => ({
    scale: by * PX_PER_METRE,
    by,
    ratio,
  }));
  return all.find(({ scale }) => fits(scale)) ?? all.at(-1)!;
}

interface Scaled {
  readonly scale: number;
  readonly by: number;
  readonly ratio: string;
}

/** Of what lies on the bench without a coil, m. */
const LEAST_DEPTH = 0.005;

/** Null for a scheme. */
export function sectionExtent(sheet: Sheet, chosen: number): Extent | null {
  const pickup = sheet.pickups[chosen];
  const build = pickup?.build;
  if (!build) return null;
  const { instrument, listen } = sheet;
  const under = stringUnderside(instrument, pickup, build, listen.string);
  const diameter = instrument.strings[listen.string - 1]?.diameter ?? 0;
  const feet = build.rows.flatMap(({ pole }) =>
    standingPoles(pole).map((top, k) => (top === null ? 0 : sizedAt(pole, k).length - top)),
  );
  const bobbins = hasCoil(build) ? build.rows.map(({ window }) => -window.bottom) : [LEAST_DEPTH];
  // Between two rows a bar's figure stands below it.
  const label = build.rows.length === 2 ? 0.003 : 0;
  const bars = build.bars.map(({ thickness, top }) => thickness - top + label);
  const steel = build.steel.map(({ thickness, top }) => thickness - top);
  const plate = build.basePlate ? build.basePlate.thickness - basePlateTop(pickupParts(build, [])) : 0;
  return {
    rise: Math.max(LEAST_RISE, under + diameter),
    depth: Math.max(...feet, ...bobbins, ...bars, ...steel, plate),
  };
}

export function sectionView(
  sheet: Sheet,
  prediction: Prediction | null,
  chosen: number,
  width: number,
  extent: Extent | null,
  height?: number,
): SectionView {
  const voice = prediction?.voices[chosen];
  const { instrument, listen } = sheet;
  const pickup = sheet.pickups[chosen]!;
  const spec = instrument.strings[listen.string - 1];
  const places = pickup.rows.map((row) => rowCrossing(instrument, pickup, row.offset, listen.string));
  const middle = rowCrossing(instrument, pickup, 0, listen.string);
  const shown = Math.max(1, width);
  const diameter = spec?.diameter ?? 0;
  const frame =
    extent && pickup.build
      ? toScale(sheet, chosen, shown, diameter, extent, height)
      : asScheme(shown, diameter);
  const { scale, string, bellHeight } = frame;
  const half = shown / scale / 2;
  const x = linearScale([middle + half, middle - half], [0, shown]);
  const peak = peakOf(voice);
  const usual = pickup.build && spec ? BUILT_PEAK * stringLevel(spec) : USUAL_PEAK;
  const lowest = pickup.reachBy === 'build' ? LOWEST : LOWEST_BY_HAND;
  const highest = peak > 0 ? peak / lowest : Infinity;
  const reference = Math.max(peak, Math.min(usual, highest));
  const y = (place: number): number => string - (Math.abs(valueAt(voice, place)) / reference) * bellHeight;
  return {
    ...frame,
    width: shown,
    reference,
    x,
    middle: x.to(middle),
    at: (offset) => ({
      x: x.to(rowCrossing(instrument, pickup, offset, listen.string)),
      along: alongRow(instrument, pickup, offset, listen.string),
    }),
    centres: places.map((place) => x.to(place)),
    rows: (voice?.reach.rows ?? []).slice(0, places.length).map((row, index) => ({
      index,
      centre: x.to(row.centre),
      left: x.to(row.centre + row.width / 2),
      right: x.to(row.centre - row.width / 2),
      edgeLeft: y(row.centre + row.width / 2),
      edgeRight: y(row.centre - row.width / 2),
      top: y(row.centre),
      width: row.width,
    })),
  };
}

/**
 * A row whose edges are where the hand has them: what is computed for them comes a moment later. Of two rows the middle of
 * each reach goes aside as it grows wider; while one is held it stays, or the ring would run away from the hand.
 * @param middle of the reach as it was taken hold of, m from the saddle; null where it isn't held
 */
export function underHand(
  row: RowView,
  width: number,
  { scale, x }: Pick<SectionView, 'scale' | 'x'>,
  middle: number | null,
): RowView {
  const half = 0.5 * width * scale;
  const centre = middle === null ? row.centre : x.to(middle);
  return { ...row, centre, left: centre - half, right: centre + half };
}

type Frame = Pick<
  SectionView,
  'height' | 'string' | 'stringThick' | 'bellHeight' | 'z' | 'scale' | 'ratio' | 'bottom' | 'tabled'
>;

function asScheme(width: number, diameter: number): Frame {
  const scale = width / (2 * HALF_SPAN);
  const string = 168;
  return {
    height: 318,
    string,
    stringThick: Math.max(3, Math.min(9, diameter * scale)),
    bellHeight: 128,
    z: linearScale([0, 1], [string, string - scale]),
    scale,
    ratio: null,
    bottom: 272,
    tabled: width < ROOM,
  };
}

function toScale(
  sheet: Sheet,
  chosen: number,
  width: number,
  diameter: number,
  extent: Extent,
  kept?: number,
): Frame {
  const pickup = sheet.pickups[chosen]!;
  const build = pickup.build!;
  const two = build.rows.length === 2;
  const below = two ? BELOW_TWO : BELOW;
  const highest = highestBell(width);
  const above = width < ROOM ? TOP_NARROW : TOP;
  const parts = (times: number): number => (extent.rise + extent.depth) * times + below;
  const { by } = scaleFor(width);
  const { scale, ratio } = scaleFor(
    width,
    (times) => kept === undefined || above + LOWEST * highest + parts(times) <= kept,
  );
  const height = Math.max(kept ?? 0, Math.round(above + (kept ? LOWEST : 1) * highest + parts(scale)));
  const plane = Math.min(above + highest + extent.rise * scale, height - below - extent.depth * scale);
  const bottom = plane + extent.depth * scale;
  const under = stringUnderside(sheet.instrument, pickup, build, sheet.listen.string);
  const string = plane - (under + diameter / 2) * scale;
  // A string that has risen since the room was made takes some of the bell's.
  const bellHeight = Math.max(LOWEST * highest, Math.min(highest, string - (diameter / 2) * scale - above));
  return {
    height,
    string,
    stringThick: Math.max(2, diameter * scale),
    bellHeight,
    z: linearScale([0, 1], [plane, plane - scale]),
    scale,
    ratio,
    bottom,
    tabled: width < ROOM || (two && by < ROOM_FOR_TWO),
  };
}

function peakOf(voice: Voice | undefined): number {
  let peak = 0;
  for (const v of voice?.reach.value ?? []) peak = Math.max(peak, Math.abs(v));
  return peak;
}

/** Between the samples of the profile; zero outside. */
function valueAt(voice: Voice | undefined, place: number): number {
  const { x, value } = voice?.reach ?? { x: new Float64Array(), value: new Float64Array() };
  const first = x[0];
  const second = x[1];
  if (first === undefined || second === undefined) return 0;
  const at = (place - first) / (second - first);
  const i = Math.floor(at);
  const a = value[i];
  const b = value[i + 1];
  if (a === undefined) return 0;
  return b === undefined ? a : a + (b - a) * (at - i);
}
