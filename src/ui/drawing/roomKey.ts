/** How long a drawing keeps the room that it has. Pure. */
import type { Sheet } from '../../sheet/sheet.ts';

/**
 * What is drawn, as far as that says whether its room is still the right one: another pickup, or another sheet, finds room
 * of its own, and so does one with a part more or less; a part that is moved finds it as it is. Trials of one sheet share it.
 */
export function roomKey({ instrument, pickups }: Sheet, chosen: number): string {
  const pickup = pickups[chosen];
  const names = pickups.map(({ name }) => name);
  return JSON.stringify([
    names,
    chosen,
    instrument.scaleLength,
    instrument.strings.length,
    pickup?.rows.length,
    !pickup?.build,
    pickup?.build?.bars.length,
    pickup?.build?.steel.length,
  ]);
}
