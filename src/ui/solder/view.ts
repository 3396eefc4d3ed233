/** Where bands and bars of a spread stand. */
import { linePath } from '../../plot/path.ts';
import type { Scale } from '../../plot/scale.ts';
import type { BalanceBy, BalanceOf } from '../../sheet/sheet.ts';
import { counts, quantile, type Band, type SpreadFigures } from '../../state/spreadFigures.ts';

/** As they are chosen. */
export const BY_WORDS: Readonly<Record<BalanceBy, string>> = {
  poles: 'pole heights',
  gaps: 'gaps at bass and treble side',
  turns: 'turns',
  pull: 'the gap, for the pull',
};
export const OF_WORDS: Readonly<Record<BalanceOf, string>> = {
  strum: 'an even strum',
  movement: 'the same movement',
};

/** Tens of dB that hold all bands, 40 at most from the top. */
export function bandSpan({ sheet, other }: SpreadFigures): [number, number] {
  const all = [sheet, ...(other ? [other] : [])].flatMap(({ band }) => [...band.low, ...band.high]);
  const finite = all.filter(Number.isFinite);
  const top = Math.ceil(Math.max(...finite) / 10) * 10;
  const low = Math.floor(Math.min(...finite) / 10) * 10;
  return [Math.max(low, top - 40), top];
}

export function bandLines(
  frequencies: Float64Array,
  { low, high, nominal }: Band,
  x: Scale,
  y: Scale,
  clip: readonly [number, number],
): { readonly area: string; readonly nominal: string } {
  const [top, bottom] = clip;
  const at = [...frequencies].map((f) => x.to(f));
  const within = (db: number): number => Math.min(bottom, Math.max(top, y.to(db)));
  const up = [...high].map(within);
  const down = [...low].map(within);
  return {
    area: linePath([...at, ...at.toReversed(), at[0]!], [...up, ...down.toReversed(), up[0]!]),
    nominal: linePath(
      at,
      [...nominal].map((db) => y.to(db)),
      { clip },
    ),
  };
}

interface Bar {
  readonly x: number;
  readonly width: number;
  readonly size: number;
}

/** dB of a step. */
const STEP = 0.5;

export interface PairView {
  readonly own: readonly Bar[];
  readonly between: readonly Bar[];
  readonly ticks: readonly { readonly x: number; readonly text: string }[];
  /** Where both as they are drawn stand; null where there is one. */
  readonly nominal: number | null;
}

/** @param half px, of the highest bar */
export function pairBars({ own, between, nominal }: SpreadFigures, width: number, half: number): PairView {
  const most = Math.max(quantile(own, 0.98), between ? quantile(between, 0.98) : 0, nominal ?? 0, 2);
  const whole = 2 * Math.ceil(most / 2);
  const steps = Math.round(whole / STEP);
  const each = width / steps;
  const bars = (values: Float64Array): Bar[] => {
    const share = counts(values, STEP, steps).map((count) => count / values.length);
    const highest = Math.max(...share);
    return share.map((of, i) => ({
      x: i * each + 1,
      width: Math.max(1, each - 2),
      size: (half * of) / highest,
    }));
  };
  const by = whole > 16 ? 8 : whole > 8 ? 4 : 2;
  return {
    own: bars(own),
    between: between ? bars(between) : [],
    ticks: Array.from({ length: Math.floor((whole - 1) / by) }, (_, i) => ({
      x: ((by * (i + 1)) / whole) * width,
      text: `${by * (i + 1)}`,
    })),
    nominal: nominal === null ? null : (nominal / whole) * width,
  };
}
