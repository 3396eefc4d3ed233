/** The first preset's fields, which were computed when the app was built: its curve is there half a second sooner. */
import address from '../presets/01-skerry-three-single-coils.json?fields';
import type { Fields } from './physics/heard/fieldAnswer.ts';

/** null where none come with the page. @throws when they can't be had */
export async function firstFields(): Promise<Fields | null> {
  if (address === null) return null;
  // Side by side: the page is busy when they arrive, and every turn that they take then is one later.
  const [file, { unpackFields }] = await Promise.all([
    fetch(address).then((response) => response.arrayBuffer()),
    import('./jobs/fieldsFile.ts'),
  ]);
  return unpackFields(file);
}
