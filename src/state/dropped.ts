/** What a hand lets go of over the page, and what can be made of it. */
import { isWav, LARGEST_DESIGN, noDesign, readDesign, textOf, tooLarge } from '../sheet/designFile.ts';
import { beginsDesigns, LARGEST_DESIGNS, readDesigns, type ReadDesign } from '../sheet/designsFile.ts';
import { curveTooLarge, LARGEST_CURVE, looksLikeTable } from '../sheet/measuredTable.ts';
import type { Trials } from '../sheet/trials.ts';

/** Taken from the browser's own record at once: it is empty a moment later. */
export interface Dropped {
  readonly files: readonly File[];
  readonly folder: boolean;
  readonly text: string;
}

/** A design; many of them; the sheet of a link; a recording to be heard; a measured curve; or a sentence about what else there is. */
export type Taken =
  | { readonly kind: 'design'; readonly trials: Trials; readonly name: string }
  | { readonly kind: 'designs'; readonly designs: readonly ReadDesign[]; readonly faults: readonly string[] }
  | { readonly kind: 'link'; readonly fragment: string }
  | { readonly kind: 'recording'; readonly file: File }
  | { readonly kind: 'curve'; readonly text: string; readonly name: string }
  | { readonly kind: 'refused'; readonly message: string };

/** Bytes by which a file is known. */
const HEAD = 64;
/** What is too large to be looked into is known by its name. */
const TABLE_NAME = /\.(csv|tsv|txt|dat)$/i;

const UNREAD = 'The file could not be read. Check that it is still there and may be read, and open it again.';

const refused = (message: string): Taken => ({ kind: 'refused', message });

/** Never rejects. What is too large is not read. */
export async function take({ files, folder, text }: Dropped): Promise<Taken> {
  if (folder) return refused(noDesign('a folder: open it, and take the file from it'));
  if (files.length > 1) return refused(noDesign(`${files.length} files: take one after the other`));
  const [file] = files;
  return file ? takeFile(file) : takeText(text);
}

async function takeFile(file: File): Promise<Taken> {
  try {
    const bytesOf = async (part: Blob): Promise<Uint8Array> => new Uint8Array(await part.arrayBuffer());
    const head = await bytesOf(file.slice(0, HEAD));
    if (isWav(head)) return { kind: 'recording', file };
    if (beginsDesigns(new TextDecoder().decode(head)) && file.size <= LARGEST_DESIGNS)
      return takeDesigns(new TextDecoder().decode(await bytesOf(file)));
    const bytes = file.size > LARGEST_CURVE ? null : await bytesOf(file);
    const curve = bytes && curveIn(bytes, file.name);
    if (curve) return curve;
    if (!bytes && TABLE_NAME.test(file.name)) return refused(curveTooLarge(file.size));
    if (file.size > LARGEST_DESIGN) return refused(tooLarge(file.size));
    const read = readDesign(bytes ?? (await bytesOf(file)));
    return read.ok ? { kind: 'design', trials: read.trials, name: file.name } : refused(read.message);
  } catch {
    return refused(UNREAD);
  }
}

/** null for anything but a table of figures. */
function curveIn(bytes: Uint8Array, name: string): Taken | null {
  const read = textOf(bytes);
  return read.ok && looksLikeTable(read.text) ? { kind: 'curve', text: read.text, name } : null;
}

function takeDesigns(text: string): Taken {
  const read = readDesigns(text);
  if (!read.ok) return refused(read.message);
  if (read.designs.length > 0) return { kind: 'designs', designs: read.designs, faults: read.faults };
  return refused(read.faults[0] ?? 'File of designs must hold one at least; got none.');
}

function takeText(text: string): Taken {
  const address = text.trim();
  if (/^https?:\/\/[^\s#]+$/i.test(address)) return refused(noDesign('an address without a sheet in it'));
  const fragment = /^https?:\/\/[^\s#]*#(\S+)$/i.exec(address)?.[1];
  if (fragment !== undefined) return { kind: 'link', fragment };
  if (beginsDesigns(text)) return takeDesigns(text);
  const bytes = new TextEncoder().encode(text);
  const curve = curveIn(bytes, 'a text');
  if (curve) return curve;
  const read = readDesign(bytes);
  return read.ok ? { kind: 'design', trials: read.trials, name: 'The design' } : refused(read.message);
}
