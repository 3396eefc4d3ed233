/** The gap that keeps the pull within some cents. */
import type { PickupBuild } from '../sheet/sheet.ts';
import { close } from './close.ts';
import type { BalancedSheet } from './balancedSheet.ts';
import { mm, rounded, STEP } from './lever.ts';

/** Both sides alike, as near as they may be; see physics/close.ts. */
export function byPull(one: BalancedSheet): {
  readonly build: PickupBuild;
  readonly limits: readonly string[];
} {
  const { build, wish } = one;
  const found = close(one.with(build), 0, wish.cents);
  if (!found)
    return { build, limits: ['Even 10 mm lower an open string shifts further. Take weaker magnets.'] };
  const [least, most] = wish.gaps;
  // Away from the strings, so that rounding does not bring it over what is allowed.
  const down = Math.ceil(-found.raise / STEP - 1e-6) * STEP;
  const low = least - Math.min(build.gapBass, build.gapTreble);
  const high = most - Math.max(build.gapBass, build.gapTreble);
  const by = Math.max(low, Math.min(high, down));
  const at = {
    ...build,
    gapBass: rounded(build.gapBass + by),
    gapTreble: rounded(build.gapTreble + by),
  };
  const limits =
    down > high + 1e-9
      ? [`A gap is ${mm(most)} at most, and more would be needed. Take weaker magnets.`]
      : [];
  return { build: at, limits };
}
