/**
 * Where things stand on the plan of the string, in pixels: nut on the left, saddle on the right, the treble side on
 * top, as a player looking down at the instrument sees it. Across there is a scale of its own: what matters is along the
 * strings, and all of it is to stand on the screen with the section and the curve.
 */
import { linearScale, type Scale } from '../../plot/scale.ts';
import { stringAcross } from '../../shape/stringCourse.ts';
import type { Sheet } from '../../sheet/sheet.ts';

export interface PlacementView {
  /** px per metre along the strings. */
  readonly scale: number;
  /** px per metre across them. */
  readonly across: number;
  readonly height: number;
  readonly top: number;
  readonly bottom: number;
  readonly dimension: number;
  readonly amplitude: number;
  /** Whether the names of all pickups fit beside each other. */
  readonly roomy: boolean;
  readonly along: Scale;
  readonly x: (fromSaddle: number) => number;
  readonly y: (across: number) => number;
  /** Distance from the centre line, m, at a place along the string. */
  readonly acrossAt: (string: number, fromSaddle: number) => number;
  readonly onString: (string: number, fromSaddle: number) => number;
  readonly string: (n: number) => { readonly saddle: number; readonly nut: number; readonly shear: string };
  /** Centre of a dimension's label: on its line, or before it where the line is too short for it. */
  readonly label: (fromSaddle: number) => number;
}

const MARGIN = 14;
/** What the strings are drawn across, px. */
const BAND = 76;
/** Above the strings, for the names of the pickups; from the strings to the ends of what lies under them, px. */
const TOP = 28;
const BEYOND = 12;
/** Half of a dimension's label, «bridge 46.0 mm». */
const HALF_LABEL = 66;
/** From a handle's centre to a label, so that the label leaves all of the handle free. */
const CLEAR = 16;

export function placementView(sheet: Sheet, width: number): PlacementView {
  const { scaleLength, spreadSaddle } = sheet.instrument;
  const scale = Math.max(1, width - 2 * MARGIN) / scaleLength;
  const across = BAND / spreadSaddle;
  const top = TOP;
  const bottom = top + BAND + BEYOND;
  const middle = (top + bottom) / 2;
  const dimension = bottom + 32;

  const along = linearScale([0, scaleLength], [width - MARGIN, width - MARGIN - scale * scaleLength]);
  const x = (fromSaddle: number): number => along.to(fromSaddle);
  const y = (offset: number): number => middle - offset * across;
  const acrossAt = (string: number, fromSaddle: number): number =>
    stringAcross(sheet.instrument, string, fromSaddle);
  const onString = (string: number, fromSaddle: number): number => y(acrossAt(string, fromSaddle));
  return {
    scale,
    across,
    height: dimension + 16,
    top,
    bottom,
    dimension,
    amplitude: BAND / 7,
    roomy: width > 560,
    along,
    x,
    y,
    acrossAt,
    onString,
    string: (n) => {
      const saddle = onString(n, 0);
      const nut = onString(n, scaleLength);
      const slope = (nut - saddle) / (x(scaleLength) - x(0));
      return { saddle, nut, shear: `matrix(1 ${slope} 0 1 0 ${saddle - slope * x(0)})` };
    },
    label: (fromSaddle) => {
      const from = x(fromSaddle);
      if (x(0) - from >= 2 * (HALF_LABEL + CLEAR)) return (from + x(0)) / 2;
      return Math.max(HALF_LABEL, from - CLEAR - HALF_LABEL);
    },
  };
}
