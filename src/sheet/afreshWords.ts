/** What another kind of poles and magnets made of a pickup, in words. Pure. */
import { changeList, changesOf } from './changes.ts';
import type { Sheet } from './sheet.ts';

/** «Built from six rods. Differs from before: poles slug → rod, pole length 14.5 → 17.0 mm.» @param name of the start */
export function afreshWords(before: Sheet, after: Sheet, index: number, name: string): string {
  const changes = changesOf(before, after).filter(({ path: [root, i] }) => root === 'pickups' && i === index);
  const words = changeList(changes);
  const start = `Built from «${name}».`;
  return words.length === 0
    ? `${start} It was built so before.`
    : `${start} Differs from before: ${words.join(', ')}. All else is as it was.`;
}
