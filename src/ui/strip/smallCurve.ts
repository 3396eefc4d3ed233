/** The curve as the strip has it: the open trial's with its reach and the other's, small enough for a line of the page. Pure. */
import { curvePath } from '../../plot/path.ts';
import { linearScale, logScale } from '../../plot/scale.ts';
import type { CurveLine } from '../curve/lines.ts';

export interface SmallLine extends Pick<CurveLine, 'key' | 'kind' | 'colour' | 'dash'> {
  readonly d: string;
}

export interface SmallCurve {
  readonly lines: readonly SmallLine[];
  /** px: decades of the frequency, and 0 dB; null where that lies outside. */
  readonly decades: readonly number[];
  readonly zero: number | null;
}

/** Hz: what leaves a cable and is heard of it. */
const BAND = [50, 20000] as const;
const DECADES = [100, 1000, 10000];
/** dB below the top; as the large curve, the top keeps to steps, so that nothing jumps while a part is changed. */
const SPAN = 36;
const STEP = 6;
const HEADROOM = 3;

/** @param lines as the large curve has them; other pickups are left out */
export function smallCurve(lines: readonly CurveLine[], width: number, height: number): SmallCurve {
  const shown = lines.filter(({ kind }) => kind !== 'pickup');
  let most = 0;
  for (const { voice } of shown) for (const level of voice.reachDb) most = Math.max(most, level);
  const top = Math.ceil((most + HEADROOM) / STEP) * STEP;
  const x = logScale([...BAND], [0, width]);
  const y = linearScale([top - SPAN, top], [height - 1, 1]);
  return {
    lines: shown.map(({ key, kind, colour, dash, frequencies, voice }) => {
      const first = Math.max(
        0,
        frequencies.findIndex((f) => f >= BAND[0]),
      );
      const d = curvePath(frequencies.subarray(first), voice.reachDb.subarray(first), x, y, {
        digits: 1,
        clip: [1, height - 1],
      });
      return { key, kind, colour, dash, d };
    }),
    decades: DECADES.map((f) => x.to(f)),
    zero: top < SPAN ? y.to(0) : null,
  };
}
