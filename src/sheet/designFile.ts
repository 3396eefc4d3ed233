/**
 * A design as a file: JSON in UTF-8, a plain sheet or a document of several trials, as presets are and `npm run predict` takes it.
 * What is read is trusted in nothing: size, bytes, JSON and every field.
 */
import { checkTrials, type CheckedTrials } from './checkTrials.ts';
import { alone, type Trials } from './trials.ts';

declare const TextDecoder: new (
  label: string,
  options: { fatal: boolean },
) => { decode(bytes: Uint8Array): string };

/** Bytes; ten times what six of the fullest sheets take. */
export const LARGEST_DESIGN = 1_000_000;

/** What is said to whoever gives something else. */
export const WANTED = 'File must be a design, which is JSON';
const SAVED = '«save the design» under Files makes one.';

const fail = (message: string): CheckedTrials => ({ ok: false, message });

/** @param got what there is instead, in few words */
export const noDesign = (got: string): string => `${WANTED}; got ${got}. ${SAVED}`;

/** @param bytes more than LARGEST_DESIGN */
export const tooLarge = (bytes: number): string =>
  noDesign(`${(bytes / 1e6).toFixed(1)} MB, and no design is larger than 1 MB`);

/** How files of some kinds begin, byte for byte. */
const BEGINNINGS: readonly (readonly [begins: string, is: string])[] = [
  ['\x89PNG', 'a picture'],
  ['\xff\xd8\xff', 'a picture'],
  ['GIF8', 'a picture'],
  ['RIFF....WEBP', 'a picture'],
  ['RIFF....WAVE', 'a sound'],
  ['FORM....AIF', 'a sound'],
  ['OggS', 'a sound'],
  ['fLaC', 'a sound'],
  ['ID3', 'a sound'],
  ['\xff\xfb', 'a sound'],
  ['....ftyp', 'a film or a sound'],
  ['%PDF', 'a PDF'],
  ['PK\x03\x04', 'an archive'],
  ['\x1f\x8b', 'an archive'],
];

/** Whether the bytes are a WAV file's, which is heard and not opened. */
export const isWav = (bytes: Uint8Array): boolean => begins(bytes, 'RIFF....WAVE');

const begins = (bytes: Uint8Array, mark: string): boolean =>
  bytes.length >= mark.length &&
  Array.from(mark).every((letter, i) => letter === '.' || bytes[i] === letter.charCodeAt(0));

/** What a text is that is no JSON. */
function kindOf(text: string): string {
  const first = text.trimStart();
  if (first === '') return 'an empty file';
  if (/^<svg|^<\?xml[^]{0,400}<svg/i.test(first)) return 'a drawing';
  if (first.startsWith('<')) return 'a web page or another text with marks in angles';
  if (/^\*[^]*^\.(end|ac|tran|op)\b/im.test(first.slice(0, 100_000))) return 'a circuit';
  if (/^https?:\/\/\S+\s*$/i.test(first)) return 'an address: paste it where addresses go';
  if (/^[^\n]*[,;\t][^\n]*\r?\n[^\n]*[,;\t]/.test(first)) return 'a table';
  return 'a text of another kind';
}

/** A text, or what bytes are instead, in few words. */
export type TextRead =
  | { readonly ok: true; readonly text: string }
  | { readonly ok: false; readonly got: string };

/** Never throws. */
export function textOf(bytes: Uint8Array): TextRead {
  const mark = BEGINNINGS.find(([beginning]) => begins(bytes, beginning));
  if (mark) return { ok: false, got: mark[1] };
  const text = decoded(bytes);
  return text === null ? { ok: false, got: 'bytes that are no text in UTF-8 or UTF-16' } : { ok: true, text };
}

/** @returns null for bytes that are no text */
function decoded(bytes: Uint8Array): string | null {
  const wide = begins(bytes, '\xff\xfe') ? 'utf-16le' : begins(bytes, '\xfe\xff') ? 'utf-16be' : null;
  try {
    // Takes a byte-order mark away, which some editors put before the text.
    const text = new TextDecoder(wide ?? 'utf-8', { fatal: true }).decode(bytes);
    return text.includes('\0') ? null : text;
  } catch {
    return null;
  }
}

/** What Lodetone itself writes as JSON and does not open. */
const isFigures = (data: unknown): boolean =>
  typeof data === 'object' &&
  data !== null &&
  Object.hasOwn(data, 'voices') &&
  !Object.hasOwn(data, 'harness');

/** Never throws, and never takes long. */
export function readDesign(bytes: Uint8Array): CheckedTrials {
  if (bytes.length > LARGEST_DESIGN) return fail(tooLarge(bytes.length));
  const read = textOf(bytes);
  return read.ok ? readDesignText(read.text) : fail(noDesign(read.got));
}

/** The same of a text, however long. */
export function readDesignText(text: string): CheckedTrials {
  if (!/^\s*[[{"\d-]/.test(text)) return fail(noDesign(kindOf(text)));
  let data: unknown;
  try {
    data = JSON.parse(text);
  } catch {
    return fail(
      /^\s*[{[]/.test(text)
        ? 'Design must be whole JSON; got a text that breaks off or is spoilt. Have it saved or sent again.'
        : noDesign(kindOf(text)),
    );
  }
  if (isFigures(data)) return fail(noDesign('the figures of one, from which none can be made'));
  return checkTrials(data);
}

/** As `readDesign` takes it; a document of one trial as the plain sheet that it is. */
export const writeDesign = (trials: Trials): string =>
  `${JSON.stringify(alone(trials) ?? trials, null, 2)}\n`;
