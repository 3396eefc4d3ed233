/**
 * Prints the sheet on one page. Drawings measure the room that they have, and a browser does not let them measure anew
 * for paper: so the page is laid out for paper first (print.css), and printed once they are drawn.
 */
import './print.css';

/** ms in which drawings are laid out and field pictures are painted again. */
const DRAWN = 700;
/** Height of an A4 page across within the margins of print.css, CSS px, less a hair's breadth. */
const PAGE_HEIGHT = 738;
/** The sheet's width in print.css to that of the page. */
const FULL_WIDTH = 0.461;

export function printSheet(): void {
  const root = document.documentElement;
  if ('printing' in root.dataset) return;
  const at = window.scrollY;
  root.dataset.printing = '';
  window.addEventListener(
    'afterprint',
    () => {
      delete root.dataset.printing;
      for (const name of ['--print-zoom', '--print-height']) root.style.removeProperty(name);
      window.scrollTo(0, at);
    },
    { once: true },
  );
  setTimeout(() => {
    // What is not printed still takes its room here: at worst the sheet comes out a little smaller than it could.
    const height = document.body.scrollHeight;
    root.style.setProperty('--print-zoom', String(Math.min(FULL_WIDTH, PAGE_HEIGHT / height)));
    root.style.setProperty('--print-height', `${height}px`);
    window.print();
  }, DRAWN);
}

/** The keys that print in every browser. */
export function isPrintKey(e: KeyboardEvent): boolean {
  return (e.ctrlKey || e.metaKey) && !e.shiftKey && !e.altKey && e.key.toLowerCase() === 'p';
}
