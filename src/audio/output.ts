/** What the players have in common: how loud, what to say about the output, when the page is seen. */

/** Time constant of a volume change, s: no click, and settled within a tenth of a second. */
export const VOLUME_TIME = 0.02;

/** Sentences for the screen. */
export const BLOCKED = 'The browser holds the sound back. Click on the sheet or press a key, and it begins.';
export const STALLED =
  'The sound output takes no sound. Check that it is connected and chosen in the system’s settings.';
export const NO_OUTPUT = 'No sound output could be opened. Connect one and press play again.';

/** The volume within 0–1; not a number is silence. */
export function holdVolume(volume: number): number {
  return volume > 0 ? Math.min(volume, 1) : 0;
}

/** What tells when the page is seen again; null outside a page. */
export function defaultPage(): EventTarget | null {
  return typeof document === 'undefined' ? null : document;
}

/** What counts as a gesture by the HTML standard's activation triggers, and in older browsers. */
const GESTURES = ['pointerdown', 'pointerup', 'touchend', 'keydown'] as const;

/**
 * Calls `wake` when the page is seen again and at every gesture: some browsers let a sound that they held back go only from
 * within one.
 *
 * @returns ends it
 */
export function whenRoused(page: EventTarget | null, wake: () => void): () => void {
  page?.addEventListener('visibilitychange', wake);
  // Before anything on the sheet keeps the event to itself.
  for (const gesture of GESTURES) page?.addEventListener(gesture, wake, { capture: true, passive: true });
  return () => {
    page?.removeEventListener('visibilitychange', wake);
    for (const gesture of GESTURES) page?.removeEventListener(gesture, wake, { capture: true });
  };
}

/** What the browser says about an error, to be put behind a sentence. */
export function detail(error: unknown): string {
  return error instanceof Error && error.message ? ` (${error.message})` : '';
}

/** Gives an output back; once more does no harm. */
export function closeContext(context: AudioContext): void {
  // Closing twice rejects; there is nothing to be done about it, nor lost by it.
  if (context.state !== 'closed') context.close().catch(() => undefined);
}
