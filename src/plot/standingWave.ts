/** The standing wave of one partial between the saddle and the stopping point, as its two envelopes. */
import { Pen } from './pen.ts';
import type { Scale } from './scale.ts';

export interface StandingWaveInput {
  /** Number of the partial, ≥ 1. */
  readonly n: number;
  /** Saddle to the stopping point, m (or any unit that `x` takes). */
  readonly length: number;
  /** Distance from the saddle → pixel; must be linear. */
  readonly x: Scale;
  /** y of the string at rest, px. */
  readonly centre: number;
  /** Height of an antinode, px. */
  readonly amplitude: number;
}

export interface StandingWave {
  /** The envelope +sin(nπx/L), drawn above the string. */
  readonly upper: string;
  readonly lower: string;
  /** Distances from the saddle, both ends included: kL/n. */
  readonly nodes: readonly number[];
  /** (k + ½)L/n. */
  readonly antinodes: readonly number[];
}

// Cubics over an eighth of a wave meet the sine's value and slope at both ends; Hermite's remainder
// h⁴/384 with h = π/4 leaves 0.1 % of the amplitude, a fiftieth of a pixel on the sheet.
const PIECES = 4;

/** y = ± sin(nπx/L). Throws RangeError for n < 1 or a length that is not positive. */
export function standingWave({ n, length, x, centre, amplitude }: StandingWaveInput): StandingWave {
  if (!(Number.isInteger(n) && n >= 1)) {
    throw new RangeError(`The number of a partial must be a whole number from 1; got ${n}.`);
  }
  if (!(length > 0 && length < Infinity)) {
    throw new RangeError(`The sounding length must be positive; got ${length}.`);
  }
  return {
    upper: envelope(n, length, x, centre, -amplitude),
    lower: envelope(n, length, x, centre, amplitude),
    nodes: Array.from({ length: n + 1 }, (_, k) => (k * length) / n),
    antinodes: Array.from({ length: n }, (_, k) => ((k + 0.5) * length) / n),
  };
}

function envelope(n: number, length: number, x: Scale, centre: number, height: number): string {
  const pen = new Pen(2);
  const pieces = PIECES * n;
  const stride = (x.to(length) - x.to(0)) / pieces;
  // A third of the slope times the piece's length: how Bézier controls express a Hermite end slope.
  const lean = (height * Math.PI) / PIECES / 3;
  let px = x.to(0);
  let py = centre;
  let lift = lean;
  pen.move(px, py);
  for (let i = 1; i <= pieces; i++) {
    const phase = (Math.PI * i) / PIECES;
    const qx = px + stride;
    const qy = centre + height * Math.sin(phase);
    const next = lean * Math.cos(phase);
    pen.curve(px + stride / 3, py + lift, qx - stride / 3, qy - next, qx, qy);
    px = qx;
    py = qy;
    lift = next;
  }
  return pen.text;
}
