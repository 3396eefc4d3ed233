/** What may be asked of a pickup's balance: how its strings are to stand to one another, and what may be moved for it. */

/** What is moved; by turns pickups are balanced with one another, since they move all strings alike. */
export const BALANCE_BY = ['poles', 'gaps', 'turns', 'pull'] as const;
export type BalanceBy = (typeof BALANCE_BY)[number];

/** By what strings are told equal: as loud in an even strum, or giving as much for the same movement. */
export const BALANCE_OF = ['strum', 'movement'] as const;
export type BalanceOf = (typeof BALANCE_OF)[number];

export interface BalanceWish {
  /** From 0. */
  readonly pickup: number;
  readonly by: BalanceBy;
  readonly of: BalanceOf;
  /** By how much every string is to be louder than the one above it, dB. */
  readonly slope: number;
  /** Without meaning but for the pull: by how many cents the worst open string may shift. */
  readonly cents: number;
  /** Without meaning but for turns: as loud as which pickup, from 0. */
  readonly than: number;
  /** Between which a pole's height and a gap may lie, m. */
  readonly heights: readonly [least: number, most: number];
  readonly gaps: readonly [least: number, most: number];
}
