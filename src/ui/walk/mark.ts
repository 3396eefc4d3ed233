/** A ring about what a step of the walk is about: it follows it, and never lies over it. */

/** px that it keeps from what it marks. */
const AWAY = 6;
/** px between the panel and what is brought into sight. */
const CLEAR = 14;

/**
 * Brings the target into sight beside the panel, once, and holds the ring about it.
 * @param targetOf looked for again whenever it is gone: a page draws its parts anew
 */
export const mark =
  (targetOf: () => Element | null, panelOf: () => Element | undefined) =>
  (ring: HTMLElement): (() => void) => {
    let target = targetOf();
    let frame = 0;
    bring(target, panelOf());
    const follow = (): void => {
      if (!target?.isConnected) target = targetOf();
      place(ring, target);
      frame = requestAnimationFrame(follow);
    };
    follow();
    return () => cancelAnimationFrame(frame);
  };

function place(ring: HTMLElement, target: Element | null): void {
  const box = target?.getBoundingClientRect();
  ring.hidden = !box || box.width === 0;
  if (!box) return;
  ring.style.left = `${box.left - AWAY}px`;
  ring.style.top = `${box.top - AWAY}px`;
  ring.style.width = `${box.width + 2 * AWAY}px`;
  ring.style.height = `${box.height + 2 * AWAY}px`;
}

/** Scrolls only as far as there is need: what stands in sight stays where it is. */
function bring(target: Element | null, panel: Element | undefined): void {
  if (!target) return;
  const box = target.getBoundingClientRect();
  const top = (panel?.getBoundingClientRect().bottom ?? 0) + CLEAR;
  const strip = parseFloat(getComputedStyle(document.documentElement).getPropertyValue('--strip')) || 0;
  const bottom = window.innerHeight - strip - CLEAR;
  if (box.top >= top && box.bottom <= bottom) return;
  // What stands still, as the strip does, is in sight anyway.
  if (isFixed(target)) return;
  const middle = 0.5 * (top + bottom) - 0.5 * (box.top + box.bottom);
  const still = matchMedia('(prefers-reduced-motion: reduce)').matches;
  window.scrollBy({ top: -middle, behavior: still ? 'auto' : 'smooth' });
}

function isFixed(element: Element): boolean {
  for (let at: Element | null = element; at; at = at.parentElement)
    if (getComputedStyle(at).position === 'fixed') return true;
  return false;
}
