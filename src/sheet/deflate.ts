/**
 * Deflate (RFC 1951) by the streams of the Compression Streams standard, which browsers and Node both have.
 * Their types are declared here, as far as they are used, because this room knows neither.
 */
interface Reader {
  read(): Promise<{ done: boolean; value?: Uint8Array }>;
  cancel(): Promise<void>;
}

interface Writer {
  write(bytes: Uint8Array): Promise<void>;
  close(): Promise<void>;
  abort(): Promise<void>;
}

interface Transform {
  readonly readable: { getReader(): Reader };
  readonly writable: { getWriter(): Writer };
}

declare const CompressionStream: new (format: string) => Transform;
declare const DecompressionStream: new (format: string) => Transform;

/** What came out, or null when more than `most` bytes would; rejects when the stream does. */
async function through(stream: Transform, bytes: Uint8Array, most: number): Promise<Uint8Array | null> {
  const writer = stream.writable.getWriter();
  const reader = stream.readable.getReader();
  // A fault shows at the reader as well; here it is only kept from going unhandled.
  const ignore = (): void => undefined;
  writer.write(bytes).catch(ignore);
  writer.close().catch(ignore);
  const chunks: Uint8Array[] = [];
  let length = 0;
  for (;;) {
    const { done, value } = await reader.read();
    if (done || !value) break;
    length += value.length;
    if (length > most) {
      reader.cancel().catch(ignore);
      writer.abort().catch(ignore);
      return null;
    }
    chunks.push(value);
  }
  const out = new Uint8Array(length);
  let at = 0;
  for (const chunk of chunks) {
    out.set(chunk, at);
    at += chunk.length;
  }
  return out;
}

/** A raw deflate stream of any bytes. */
export async function deflate(bytes: Uint8Array): Promise<Uint8Array> {
  return (await through(new CompressionStream('deflate-raw'), bytes, Infinity)) as Uint8Array;
}

/**
 * At most `most` bytes; null when there would be more, whatever the data claims.
 * @throws when the data is no complete deflate stream
 */
export async function inflate(bytes: Uint8Array, most: number): Promise<Uint8Array | null> {
  return through(new DecompressionStream('deflate-raw'), bytes, most);
}
