/** Words that a maker writes, without what nobody sees but what may turn them into others. */

/**
 * What is left out. By the Unicode Standard: embeddings, overrides and isolates of direction (annex 9), with which text reads
 * otherwise than it is; spaces and operators without width, byte-order marks, format characters of old, tags, separators of lines
 * and paragraphs, halves of surrogate pairs. The joiners and the marks of direction that scripts need for themselves stay.
 */
const UNSEEN = /[\u180E\u200B\u2028-\u202E\u2060-\u206F\uFEFF\uFFF9-\uFFFB\u{E0000}-\u{E007F}]|\p{Cs}/gu;

/** The text without them. */
export const plainText = (text: string): string => text.replace(UNSEEN, '');

/** What was left out, in a sentence; empty for nothing. */
export function leftOut(text: string): string {
  const codes = new Set(
    Array.from(text.matchAll(UNSEEN), ([found]) => found.codePointAt(0)!.toString(16).toUpperCase()),
  );
  if (codes.size === 0) return '';
  const all = Array.from(codes, (code) => `U+${code.padStart(4, '0')}`);
  return `Text must hold no invisible control characters; ${all.join(', ')} ${all.length > 1 ? 'were' : 'was'} left out.`;
}
