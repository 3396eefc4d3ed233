/** How far the document's own rules let a lever of the focus go. */
import type { Within } from '../jobs/track.ts';
import { objection } from '../sheet/checkTrials.ts';
import { leverRange, withLever, type Lever } from '../sheet/focusLever.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { wrap } from '../sheet/trials.ts';

/** Halvings that find where the document begins to refuse: to 1/4000 of the lever's way. */
const HALVINGS = 12;

/** null for a pickup without a build, or without that row. */
export function leverWithin(sheet: Sheet, pickup: number, row: number, lever: Lever): Within | null {
  const build = sheet.pickups[pickup]?.build;
  const range = build && leverRange(build, row, lever);
  if (!build || !range) return null;
  const refuses = (value: number): string => {
    const moved = { ...sheet.pickups[pickup]!, build: withLever(build, row, lever, value) };
    const pickups = sheet.pickups.map((p, i) => (i === pickup ? moved : p));
    return objection(wrap({ ...sheet, pickups }), wrap(sheet));
  };
  const last = (end: number): readonly [value: number, why: string] => {
    let why = refuses(end);
    if (why === '') return [end, ''];
    let [good, bad] = [range.value, end];
    for (let i = 0; i < HALVINGS; i++) {
      const middle = 0.5 * (good + bad);
      const said = refuses(middle);
      if (said === '') good = middle;
      else [bad, why] = [middle, said];
    }
    return [good, why];
  };
  const [min, below] = last(range.min);
  const [max, above] = last(range.max);
  return { min, max, below, above };
}
