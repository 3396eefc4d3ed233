/**
 * What of a build moves when its focus is dragged: a way through the geometry, one number long, along which the reach
 * grows wider. A smaller tip in the same place is further from the string on the whole, and so is a lowered pickup:
 * both widen the reach.
 */
import type { PickupBuild, Pole, PoleTip } from './build.ts';
import { FIGURES } from './figures.ts';

/** What moves when the focus is dragged. */
export type FocusPart = 'tip' | 'gap';

/** A way through builds, `u` m of estimated width from the one that stands. */
export interface FocusPath {
  /** Ends of the way, m of estimated width; 0 is the build as it stands. */
  readonly least: number;
  readonly most: number;
  readonly at: (u: number) => { readonly build: PickupBuild; readonly part: FocusPart };
}

/** m of width for 1 m of tip or of gap, near enough to begin with: rods of 4–6 mm, 2–4 mm below the string. */
const TIP_SLOPE = 0.8;
const GAP_SLOPE = 2;
/** How near the poles may come, m. */
const NEAREST = 0.5e-3;

/** The largest tip that leaves a land on top and a side below it, in whole micrometres, m. */
export function largestTip({ kind, diameter, length, head, tip }: Pole): number {
  const [wide, high] = kind === 'screw' ? [head.diameter, 0.9 * head.height] : [diameter, 0.9 * length];
  const most = tip.shape === 'coned' ? high : Math.min(0.49 * wide, high);
  return Math.floor(Math.min(most, FIGURES.tipSize.max) * 1e6) / 1e6;
}

/** A flat pole is bevelled as soon as its tip gets a size, and a bevel of no size is flat. */
export function withTip(pole: Pole, size: number): Pole {
  const shape = pole.tip.shape === 'flat' ? 'chamfered' : pole.tip.shape;
  const tip: PoleTip = size > 0 ? { shape, size } : { shape: 'flat', size: 0 };
  return { ...pole, tip };
}

/** To whole micrometres, finer than anything is made. */
const round = (value: number): number => Number(value.toFixed(6)) + 0;

/** The whole pickup so much lower (m), within what its gaps allow. */
export function lowered(build: PickupBuild, by: number): PickupBuild {
  const highest = Math.max(0, ...build.rows.flatMap((row) => row.pole.heights));
  const { min, max } = FIGURES.gap;
  const least = Math.max(min, highest + NEAREST) - Math.min(build.gapBass, build.gapTreble);
  const most = max - Math.max(build.gapBass, build.gapTreble);
  const d = Math.max(Math.min(0, least), Math.min(Math.max(0, most), by));
  return { ...build, gapBass: round(build.gapBass + d), gapTreble: round(build.gapTreble + d) };
}

const withRowTip = (build: PickupBuild, row: number, size: number): PickupBuild => ({
  ...build,
  rows: build.rows.map((r, i) => (i === row ? { ...r, pole: withTip(r.pole, size) } : r)),
});

/** @param by which moves first: the tip of that row's poles and past its limits the gap, or the gap alone */
export function focusPath(build: PickupBuild, row: number, by: FocusPart): FocusPath {
  const pole = build.rows[row]?.pole;
  const size = pole && pole.tip.shape !== 'flat' ? pole.tip.size : 0;
  const down = by === 'tip' && pole ? TIP_SLOPE * size : 0;
  const up = by === 'tip' && pole ? TIP_SLOPE * Math.max(0, largestTip(pole) - size) : 0;
  const gapAt = (d: number): number => lowered(build, d).gapBass - build.gapBass;
  return {
    least: -down + GAP_SLOPE * gapAt(-1),
    most: up + GAP_SLOPE * gapAt(1),
    at: (u) => {
      const tipped = Math.max(-down, Math.min(up, u));
      const moved =
        tipped === 0 ? build : withRowTip(build, row, Math.max(0, round(size + tipped / TIP_SLOPE)));
      const rest = u - tipped;
      return { build: rest === 0 ? moved : lowered(moved, rest / GAP_SLOPE), part: rest === 0 ? by : 'gap' };
    },
  };
}
