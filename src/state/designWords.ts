/** What is said when the browser's database takes or gives nothing. */
import type { StoreTrouble } from './designStore.ts';

/** To who keeps, looks or takes in. */
export const STORE_WORDS: Readonly<Record<StoreTrouble, string>> = {
  full: 'The browser has no room for another design. Delete one, or save this one as a file.',
  refused: 'The browser keeps no designs for this page, as in a private window. Save it as a file.',
  newer: 'A newer Lodetone keeps the designs here, and this one can’t read them. Reload the page, or update.',
};

/** Added to «kept on this machine only». */
export const NOT_AMONG: Readonly<Record<StoreTrouble, string>> = {
  full: '; not among the designs: the browser’s room for them is full; delete a design, or save this one as a file',
  refused: '; not among the designs: the browser keeps none for this page, as in a private window',
  newer: '; not among the designs, which a newer Lodetone keeps here; reload the page',
};
