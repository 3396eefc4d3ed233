/** The sheets that come with the program; loaded once the first of them is on the table. */
import { checkSheet } from './sheet/check.ts';
import type { Preset } from './state/workbench.svelte.ts';

const files = import.meta.glob('../presets/*.json', { eager: true, import: 'default' });

/** In the order of their files. @param first what is open already, and stays the same object */
export const presetsAfter = (first: Preset): Preset[] => [
  first,
  ...Object.keys(files)
    .sort()
    .slice(1)
    .flatMap((path) => {
      const checked = checkSheet(files[path]);
      return checked.ok ? [{ name: checked.sheet.title, sheet: checked.sheet }] : [];
    }),
];
