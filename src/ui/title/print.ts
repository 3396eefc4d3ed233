/**
 * Puts the sheet on one page, whether it is printed by its button, by a key or from the browser's menu: before a browser
 * prints it says so, and the sheet is then laid out for paper (print.css) at once.
 */
import { layOut } from '../drawing/room.ts';
import './print.css';

/** Height of an A4 page across within the margins of print.css, CSS px, less a hair's breadth. */
const PAGE_HEIGHT = 738;
/** The sheet's width in print.css to that of the page. */
const FULL_WIDTH = 0.461;

/** How the screen was, for the time after. */
let screen: { readonly scroll: number; readonly paper: string | undefined } | null = null;

export function layOutForPaper(): void {
  const root = document.documentElement;
  // The bench sheet is a page already.
  if (screen || 'bench' in root.dataset) return;
  screen = { scroll: window.scrollY, paper: root.dataset.paper };
  root.dataset.printing = '';
  // Field pictures are painted in the inks of the day.
  root.dataset.paper = 'day';
  layOut();
  // What is not printed still takes its room here: at worst the sheet comes out a little smaller than it could.
  const height = document.body.scrollHeight;
  root.style.setProperty('--print-zoom', String(Math.min(FULL_WIDTH, PAGE_HEIGHT / height)));
  root.style.setProperty('--print-height', `${height}px`);
}

export function layOutForScreen(): void {
  if (!screen) return;
  const root = document.documentElement;
  const { scroll, paper } = screen;
  screen = null;
  delete root.dataset.printing;
  if (paper) root.dataset.paper = paper;
  for (const name of ['--print-zoom', '--print-height']) root.style.removeProperty(name);
  layOut();
  window.scrollTo(0, scroll);
}
