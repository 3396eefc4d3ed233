/** What is said of how close a pickup may sit. Pure. */
import { FIGURES } from '../../sheet/figures.ts';
import type { PickupBuild } from '../../sheet/sheet.ts';
import { formatFigure } from '../../sheet/units.ts';
import type { Closest } from '../../state/closeness.svelte.ts';

/** A screw's setting, m: nobody sets a pickup finer. */
const SETTING = 5e-5;

const mm = (length: number): string => formatFigure(Number(length.toPrecision(6)), 'gap');

export interface Advice {
  /** How far to raise it, m; below 0 lowers it. */
  readonly by: number;
  /** «raise it by 0.45 mm»; empty when it sits there already. */
  readonly doing: string;
  /** The same once it is done: «raised by 0.45 mm». */
  readonly done: string;
  readonly says: string;
}

/** How far to raise it, in whole settings towards the safe side and no nearer than the sheet allows. */
function setting({ gapBass, gapTreble }: PickupBuild, raise: number): number {
  const most = Math.min(raise, Math.min(gapBass, gapTreble) - FIGURES.gap.min);
  // A little slack, so that a whole setting is not lost to its last bit.
  return Number((Math.floor(most / SETTING + 1e-6) * SETTING).toPrecision(6)) + 0;
}

/** @param names of the strings, such as «6 E2», string 1 first */
export function advice(
  build: PickupBuild,
  closest: Closest,
  cents: number,
  names: readonly string[],
): Advice {
  const asked = formatFigure(cents, 'detuning');
  if (closest === null)
    return { by: 0, doing: '', done: '', says: `Even 10 mm lower a string shifts by more than ${asked}.` };
  const by = setting(build, closest.raise);
  const away = Math.abs(by);
  const doing = away < SETTING / 2 ? '' : `${by > 0 ? 'raise' : 'lower'} it by ${mm(away)}`;
  const gaps = `${mm(build.gapBass - by)} at the bass side, ${mm(build.gapTreble - by)} at the treble side`;
  const name = names[closest.string - 1] ?? String(closest.string);
  const limited = closest.touches || closest.raise - by >= 2 * SETTING;
  const says = limited
    ? `As close as the poles leave room, ${gaps}, no string shifts by ${asked}.`
    : `${gaps}. Closer, string ${name} goes ${closest.shift < 0 ? 'flat' : 'sharp'} by more.`;
  return { by, doing, done: `${by > 0 ? 'raised' : 'lowered'} by ${mm(away)}`, says };
}
