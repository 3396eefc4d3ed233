/** Bytes as text that may stand in an address: RFC 4648, section 5, without padding. */

const ALPHABET = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_';

const VALUES = new Map(Array.from(ALPHABET, (letter, value) => [letter, value]));

/** Never fails; four letters for three bytes. */
export function toBase64url(bytes: Uint8Array): string {
  let out = '';
  for (let i = 0; i < bytes.length; i += 3) {
    const three = ((bytes[i] ?? 0) << 16) | ((bytes[i + 1] ?? 0) << 8) | (bytes[i + 2] ?? 0);
    const letters = Math.min(4, bytes.length - i + 1);
    for (let j = 0; j < letters; j++) out += ALPHABET.charAt((three >> (18 - 6 * j)) & 63);
  }
  return out;
}

/** null when it is not base64url, or not as `toBase64url` writes it (one text for one run of bytes). */
export function fromBase64url(text: string): Uint8Array<ArrayBuffer> | null {
  if (text.length % 4 === 1) return null;
  const bytes = new Uint8Array(Math.floor((text.length * 3) / 4));
  let bits = 0;
  let held = 0;
  let at = 0;
  for (const letter of text) {
    const value = VALUES.get(letter);
    if (value === undefined) return null;
    bits = ((bits << 6) | value) & 0xffff;
    held += 6;
    if (held >= 8) {
      held -= 8;
      bytes[at++] = (bits >> held) & 255;
    }
  }
  return (bits & ((1 << held) - 1)) === 0 ? bytes : null;
}
