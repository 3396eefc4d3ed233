/** Hands bytes to the person as a file. */

/** How long the address of the bytes stays valid, ms: long enough for a «save as» question to be answered. */
const KEEP = 60_000;

/** Starts a download. `name` with its extension, see `fileName`. */
export function download(bytes: Uint8Array, name: string, type = 'audio/wav'): void {
  // The copy makes sure that it is not shared memory, which a Blob does not take.
  const address = URL.createObjectURL(new Blob([new Uint8Array(bytes)], { type }));
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(address), KEEP);
}

/** «Skerry neck, bevelled» → «Skerry neck, bevelled.wav»: what no file system takes is left out. */
export function fileName(title: string, extension: string): string {
  const plain = title
    .normalize('NFC')
    // Control characters, and those that some system forbids in names.
    .replace(/[\p{Cc}\p{Cf}<>:"/\\|?*]/gu, ' ')
    .replace(/\s+/g, ' ')
    .replace(/^[ .]+|[ .]+$/g, '');
  // Names may have 255 bytes on most systems; the rest is room for the extension and a number in brackets.
  let short = '';
  let bytes = 0;
  for (const letter of plain) {
    bytes += new TextEncoder().encode(letter).length;
    if (bytes > 200) break;
    short += letter;
  }
  return `${short.trim() || 'sheet'}.${extension}`;
}
