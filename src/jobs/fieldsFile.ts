/**
 * Fields as a file, to the bit: the length of a text (uint32), the text, which is their JSON with a count in the place of every
 * array of figures, and these arrays one after the other (float64). All of it little-endian, as every machine with a browser is.
 */
import type { Fields } from '../physics/heard/fieldAnswer.ts';

/** Stands in the text for an array. */
interface Counted {
  readonly figures: number;
}

const isCounted = (value: unknown): value is Counted =>
  typeof value === 'object' && value !== null && 'figures' in value;

/** Bytes of the text's length. */
const HEAD = 4;

export function packFields(fields: Fields): Uint8Array<ArrayBuffer> {
  const arrays: Float64Array[] = [];
  const text = new TextEncoder().encode(
    JSON.stringify(fields, (_key, value: unknown) => {
      if (!(value instanceof Float64Array)) return value;
      arrays.push(value);
      return { figures: value.length } satisfies Counted;
    }),
  );
  const size = arrays.reduce((sum, { byteLength }) => sum + byteLength, HEAD + text.length);
  const file = new Uint8Array(size);
  new DataView(file.buffer).setUint32(0, text.length, true);
  file.set(text, HEAD);
  let at = HEAD + text.length;
  for (const array of arrays) {
    file.set(new Uint8Array(array.buffer, array.byteOffset, array.byteLength), at);
    at += array.byteLength;
  }
  return file;
}

/** @throws when it is no such file, or not a whole one */
export function unpackFields(file: ArrayBuffer): Fields {
  const length = new DataView(file).getUint32(0, true);
  let at = HEAD + length;
  const fields: unknown = JSON.parse(
    new TextDecoder().decode(new Uint8Array(file, HEAD, length)),
    (_key, value: unknown) => {
      if (!isCounted(value)) return value;
      const from = at;
      at += value.figures * Float64Array.BYTES_PER_ELEMENT;
      if (at > file.byteLength)
        throw new RangeError(`The fields must be ${at} bytes at least; got ${file.byteLength}.`);
      return new Float64Array(file.slice(from, at));
    },
  );
  return fields as Fields;
}
