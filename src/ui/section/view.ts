/** Where the section along the chosen string stands, px: the string as a bar, the reach as a bell upon it. */
import { linearScale, type Scale } from '../../plot/scale.ts';
import type { Sheet } from '../../sheet/sheet.ts';
import type { Prediction, Voice } from '../../state/types.ts';

export interface RowView {
  readonly index: number;
  /** px */
  readonly centre: number;
  readonly left: number;
  readonly right: number;
  /** y of the bell at its edges and at its middle, px. */
  readonly edgeLeft: number;
  readonly edgeRight: number;
  readonly top: number;
}

export interface SectionView {
  readonly height: number;
  readonly string: number;
  readonly stringThick: number;
  readonly bellHeight: number;
  /** Value of the reach that is drawn `bellHeight` high, V·s/m². */
  readonly reference: number;
  readonly x: Scale;
  /** px per metre */
  readonly scale: number;
  readonly rows: readonly RowView[];
  /** Centre of the pickup under this string, px. */
  readonly middle: number;
}

/** Half of the string shown, m: a little more than the widest usual two-coil reach. */
const HALF_SPAN = 0.036;
/** A strong, narrow reach; higher bells are drawn as high as this one. */
const USUAL_PEAK = 9;

export function sectionView(
  sheet: Sheet,
  prediction: Prediction | null,
  chosen: number,
  width: number,
): SectionView {
  const string = 168;
  const bellHeight = 128;
  const voice: Voice | undefined = prediction?.voices[chosen];
  const pickup = sheet.pickups[chosen];
  const rows = voice?.reach.rows ?? [];
  const middleAt =
    rows.length > 0 ? rows.reduce((sum, r) => sum + r.centre, 0) / rows.length : (pickup?.place ?? 0);
  const scale = Math.max(1, width) / (2 * HALF_SPAN);
  const x = linearScale([middleAt + HALF_SPAN, middleAt - HALF_SPAN], [0, Math.max(1, width)]);
  let peak = 0;
  for (const v of voice?.reach.value ?? []) peak = Math.max(peak, Math.abs(v));
  const reference = Math.max(peak, USUAL_PEAK);
  const y = (place: number): number => string - (Math.abs(valueAt(voice, place)) / reference) * bellHeight;
  return {
    height: 318,
    string,
    stringThick: Math.max(
      3,
      Math.min(9, (sheet.instrument.strings[sheet.listen.string - 1]?.diameter ?? 0) * scale),
    ),
    bellHeight,
    reference,
    x,
    scale,
    middle: x.to(middleAt),
    rows: rows.map((row, index) => ({
      index,
      centre: x.to(row.centre),
      left: x.to(row.centre + row.width / 2),
      right: x.to(row.centre - row.width / 2),
      edgeLeft: y(row.centre + row.width / 2),
      edgeRight: y(row.centre - row.width / 2),
      top: y(row.centre),
    })),
  };
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
