/** What is asked of a pickup's balance, with the ranges of the document. */
import type { BalanceWish } from './balance.ts';
import { FIGURES } from './figures.ts';
import type { Sheet } from './sheet.ts';

const HEIGHT = FIGURES.poleHeight;
const GAP = FIGURES.gap;

export const balanceWish = (asked: Omit<BalanceWish, 'heights' | 'gaps'>): BalanceWish => ({
  ...asked,
  heights: [HEIGHT.min, HEIGHT.max],
  gaps: [GAP.min, GAP.max],
});

/** The sheet with another build of one of its pickups. */
export const withBuildOf = (
  sheet: Sheet,
  pickup: number,
  build: NonNullable<Sheet['pickups'][number]['build']>,
): Sheet => ({
  ...sheet,
  pickups: sheet.pickups.map((one, i) => (i === pickup ? { ...one, build } : one)),
});
