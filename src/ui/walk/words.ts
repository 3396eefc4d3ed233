/** What the first walk says, and what on the sheet it says it of. */
import type { WalkStep } from '../../state/walk.svelte.ts';

/** A step in the sheet's own words. */
export interface StepWords {
  readonly does: string;
  readonly says: string;
  /** Where on the page, the first that is shown. */
  readonly at: readonly string[];
}

export const STEPS: Readonly<Record<WalkStep, StepWords>> = {
  drag: {
    does: 'Drag',
    says: 'Take the ring at the gap and draw it up or down: filings, reach and curve follow. Arrow keys do the same.',
    at: ['[role="slider"][aria-label^="gap from the pole"]', '[role="slider"][aria-label^="focus of"]'],
  },
  hear: {
    does: 'Hear',
    says: 'Press play: so it sounds as it is drawn. Whatever you drag while it plays is heard at once.',
    at: ['button.play'],
  },
  keep: {
    does: 'Keep',
    says: 'Press +: this one stays as it is, and a copy of it lies open beside it.',
    at: ['button[aria-label^="add a trial"]'],
  },
  compare: {
    does: 'Compare',
    says: 'Change the copy, by its gap for one, then turn to the other by its letter. At matched level both are equally loud.',
    at: ['[role="radiogroup"][aria-label="trial on the table"]'],
  },
  send: {
    does: 'Send',
    says: 'Copy the link: whoever opens it has this very sheet and hears the same. Nothing is stored anywhere else.',
    at: ['button.send'],
  },
  end: {
    does: 'That was all',
    says: 'Undo goes back step by step. Dotted words say what they mean when you touch them. The bench sheet is one page for the workbench.',
    at: [],
  },
};

/** Whether an element is drawn, and where: not with no size, as what a narrow page leaves out. */
const isShown = (element: Element): boolean => {
  const { width, height } = element.getBoundingClientRect();
  return width > 0 && height > 0;
};

/** What a step is about: on the sheet itself rather than in the strip. */
export function targetOf(step: WalkStep): HTMLElement | SVGElement | null {
  const all = STEPS[step].at
    .flatMap((selector) => Array.from(document.querySelectorAll<HTMLElement | SVGElement>(selector)))
    .filter(isShown);
  return all.find((element) => !element.closest('[aria-label="In sight"]')) ?? all[0] ?? null;
}
