/**
 * A document as the fragment of an address, and back.
 *
 *     byte 0      version of this layout: 1, or 2 for a code on paper
 *     bytes 1–4   CRC-32 of byte 0 and of all that follows byte 4, most significant byte first
 *     bytes 5–    the document as JSON in UTF-8, deflated; in version 2 its words are shortened before (linkWords.ts)
 *
 * all of it in base64url. A document of a single trial without blind results is written as the plain sheet that it
 * is, as links were from the beginning; one of several has `trials`, which no sheet has, and that tells them apart.
 * The document stays in the sender's and the receiver's browsers: a fragment is not sent to
 * any server. What comes in is trusted in nothing: length, letters, checksum, inflated size, JSON and every field.
 */
import { fromBase64url, toBase64url } from './base64url.ts';
import { checkTrials, type CheckedTrials } from './checkTrials.ts';
import { crc32 } from './crc32.ts';
import { deflate, inflate } from './deflate.ts';
import { alone, type Trials } from './trials.ts';

declare const TextEncoder: new () => { encode(text: string): Uint8Array };
declare const TextDecoder: new (
  label: string,
  options: { fatal: boolean },
) => { decode(bytes: Uint8Array): string };

const VERSION = 1;
/** Half as long; opens nowhere but in a Lodetone that is as new. */
export const SHORT = 2;
const HEAD = 5;

/** Four times what six of the fullest sheets take. */
const LONGEST_LINK = 64 * 1024;

/** Bytes; three times what six of the fullest sheets take. */
const MOST_INFLATED = 256 * 1024;

const BROKEN =
  'Link must be whole; got one that is broken or cut short. Ask for it to be copied and sent again.';

const fail = (message: string): CheckedTrials => ({ ok: false, message });

function checksum(bytes: Uint8Array): number {
  const covered = new Uint8Array(bytes.length - 4);
  covered[0] = bytes[0] as number;
  covered.set(bytes.subarray(HEAD), 1);
  return crc32(covered);
}

/** What of a document is deflated. */
export function linkBytes(trials: Trials): Uint8Array {
  return new TextEncoder().encode(jsonOf(trials));
}

/** As text. */
export const jsonOf = (trials: Trials): string => JSON.stringify(alone(trials) ?? trials);

/** The fragment without its '#'. */
export const encodeLink = async (trials: Trials): Promise<string> =>
  fragmentOf(await deflate(linkBytes(trials)));

/** The same of what was deflated elsewhere. */
export function fragmentOf(packed: Uint8Array, version = VERSION): string {
  const bytes = new Uint8Array(HEAD + packed.length);
  bytes[0] = version;
  bytes.set(packed, HEAD);
  new DataView(bytes.buffer).setUint32(1, checksum(bytes));
  return toBase64url(bytes);
}

/** Never throws and never takes long; `fragment` may still carry its '#'. */
export async function decodeLink(fragment: string): Promise<CheckedTrials> {
  const letters = fragment.replace(/^#/, '');
  if (letters === '') return fail('Link must carry a sheet; got none.');
  if (letters.length > LONGEST_LINK)
    return fail(`Link must be at most ${LONGEST_LINK} characters long; got ${letters.length}.`);
  const bytes = fromBase64url(letters);
  if (!bytes || bytes.length <= HEAD) return fail(BROKEN);
  // The checksum comes before the version, so that a slip of the copying hand is not taken for a newer link.
  if (new DataView(bytes.buffer).getUint32(1) !== checksum(bytes)) return fail(BROKEN);
  const version = bytes[0] as number;
  if (version !== VERSION && version !== SHORT)
    return fail(
      `Link must be of version ${VERSION} or ${SHORT}; got ${version}. A newer Lodetone made it: reload the page, or update.`,
    );
  try {
    const json = await inflate(bytes.subarray(HEAD), MOST_INFLATED);
    if (!json)
      return fail(`Link must unpack to at most ${MOST_INFLATED / 1024} kB; got more. It holds no sheet.`);
    const text =
      version === SHORT
        ? (await import('./linkWords.ts')).lengthened(json, MOST_INFLATED)
        : new TextDecoder('utf-8', { fatal: true }).decode(json);
    return text === null ? fail(BROKEN) : checkTrials(JSON.parse(text));
  } catch {
    return fail(BROKEN);
  }
}
