/**
 * What of a build moves when its focus is dragged: one dimension, the lever, that the person chooses. Nothing else of the
 * build changes with it. How wide the reach is for each of its values is physics' to say; see physics/focusTrack.ts.
 */
import { standingPoles, topsOf } from '../shape/poleRow.ts';
import { tipRoom } from '../shape/pole.ts';
import type { PickupBuild, Pole, PoleTip } from './build.ts';
import { FIGURES } from './figures.ts';

/** 'gap': the whole pickup is lowered or raised; 'tip' and 'diameter': of one row's poles, a screw's by its head. */
export type Lever = 'gap' | 'tip' | 'diameter';
export const LEVERS: readonly Lever[] = ['gap', 'tip', 'diameter'];

/** A lever as it stands, and how far the figures let it go, m. The gap is the bass side's. */
export interface LeverRange {
  readonly value: number;
  readonly min: number;
  readonly max: number;
}

/** How near the poles may come, m. */
const NEAREST = 0.5e-3;

/** The largest tip that leaves a land on top and a side below it, in whole micrometres, m. */
export function largestTip(pole: Pole): number {
  const { land, side } = tipRoom(pole);
  const most = pole.tip.shape === 'coned' ? side : Math.min(land, side);
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
  const highest = Math.max(0, ...build.rows.flatMap((row) => topsOf(standingPoles(row.pole))));
  const { min, max } = FIGURES.gap;
  const least = Math.max(min, highest + NEAREST) - Math.min(build.gapBass, build.gapTreble);
  const most = max - Math.max(build.gapBass, build.gapTreble);
  const d = Math.max(Math.min(0, least), Math.min(Math.max(0, most), by));
  return { ...build, gapBass: round(build.gapBass + d), gapTreble: round(build.gapTreble + d) };
}

/** null for a row that isn't there. */
export function leverRange(build: PickupBuild, row: number, lever: Lever): LeverRange | null {
  const pole = build.rows[row]?.pole;
  if (!pole) return null;
  if (lever === 'gap')
    return { value: build.gapBass, min: lowered(build, -1).gapBass, max: lowered(build, 1).gapBass };
  if (lever === 'tip')
    return { value: pole.tip.shape === 'flat' ? 0 : pole.tip.size, min: 0, max: largestTip(pole) };
  const figure = pole.kind === 'screw' ? FIGURES.headDiameter : FIGURES.poleDiameter;
  const value = pole.kind === 'screw' ? pole.head.diameter : pole.diameter;
  return { value, min: Math.min(value, figure.min), max: Math.max(value, figure.max) };
}

/** The build with its lever there, to whole micrometres; the very same build where it stands there already. */
export function withLever(build: PickupBuild, row: number, lever: Lever, to: number): PickupBuild {
  const value = round(to);
  if (leverRange(build, row, lever)?.value === value) return build;
  if (lever === 'gap') return lowered(build, value - build.gapBass);
  const moved = (pole: Pole): Pole => {
    if (lever === 'tip') return withTip(pole, value);
    return pole.kind === 'screw'
      ? { ...pole, head: { ...pole.head, diameter: value } }
      : { ...pole, diameter: value };
  };
  return { ...build, rows: build.rows.map((r, i) => (i === row ? { ...r, pole: moved(r.pole) } : r)) };
}
