/** The keys that turn to a trial: 1 to 6 or a to f, while nothing is typed. */

/** Whether a key pressed there would be text, or pick an option by its first letter. */
export const takesLetters = (target: EventTarget | null): boolean =>
  target instanceof Element &&
  target.matches(
    'input:not([type=radio], [type=checkbox], [type=range]), textarea, select, [contenteditable]',
  );

/** The trial that a key asks for, from 0; null when it asks for none. */
export function trialKey(e: KeyboardEvent): number | null {
  if (e.defaultPrevented || e.ctrlKey || e.metaKey || e.altKey || takesLetters(e.target)) return null;
  if (/^[1-6]$/.test(e.key)) return Number(e.key) - 1;
  return /^[a-f]$/i.test(e.key) ? e.key.toLowerCase().charCodeAt(0) - 97 : null;
}

/** What a key means while a blind listen lasts. */
export interface BlindKey {
  readonly hear?: 'P' | 'Q' | 'X';
  readonly answer?: 'P' | 'Q';
}

const BLIND_KEYS: Readonly<Record<string, BlindKey>> = {
  p: { hear: 'P' },
  q: { hear: 'Q' },
  x: { hear: 'X' },
  '1': { answer: 'P' },
  ArrowLeft: { answer: 'P' },
  '2': { answer: 'Q' },
  ArrowRight: { answer: 'Q' },
};

/** null for a key that means nothing there; arrows on the volume move that. */
export function blindKey(e: KeyboardEvent): BlindKey | null {
  if (e.ctrlKey || e.metaKey || e.altKey) return null;
  if (e.key.startsWith('Arrow') && e.target instanceof Element && e.target.matches('input')) return null;
  return BLIND_KEYS[e.key.length === 1 ? e.key.toLowerCase() : e.key] ?? null;
}
