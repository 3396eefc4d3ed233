/** The link as a QR code (ISO/IEC 18004). */
import { encode } from 'uqr';
import { path, type Block } from './page.ts';
import { utf8 } from './utf8.ts';

/**
 * mm: what a telephone still tells apart on a printed page (common practice: 0.33 to 0.4 at arm's length), and what the code may
 * take of it. Links of layout 2 make most of them 0.44 mm and more.
 */
const LEAST_MODULE = 0.33;
const MOST = 48;
/** White modules about it, as the standard asks for. */
const QUIET = 4;
/** Letters that a code of so many modules a side carries at its lowest correction: version 33, 149 modules. */
export const LONGEST = 2068;

/** @param link the whole address; empty where there is none */
export function codeBlock(link: string): Block {
  const block = (drawing: Extract<Block, { kind: 'code' }>['drawing'], says: string): Block => ({
    kind: 'code',
    title: 'Link',
    drawing,
    says,
  });
  if (link === '')
    return block(null, 'No code: the page’s address was not given (--address), and a link begins with it.');
  const bytes = utf8(link).length;
  if (bytes > LONGEST)
    return block(
      null,
      `No code: the link must be at most ${LONGEST} characters long to be read from paper; got ${bytes}. Shorten the notes, or send the link itself.`,
    );
  const { size, data } = encode(link, { ecc: 'L', border: QUIET });
  const module = Math.min(0.5, Math.max(LEAST_MODULE, MOST / size));
  const side = module * size;
  return block(
    {
      width: side,
      height: side,
      marks: [path(data.map((row, y) => runs(row, y, module)).join(''), 'solid')],
      says: 'QR code of the link to this sheet',
    },
    'Opens this very sheet. It holds all of it; nothing is stored anywhere else.',
  );
}

/** Neighbouring dark modules as one rectangle each. */
function runs(row: readonly boolean[], y: number, module: number): string {
  let d = '';
  const mm = (n: number): string => (n * module).toFixed(3);
  for (let x = 0; x < row.length; x++) {
    if (!row[x]) continue;
    const from = x;
    while (row[x + 1]) x++;
    d += `M${mm(from)} ${mm(y)}H${mm(x + 1)}V${mm(y + 1)}H${mm(from)}Z`;
  }
  return d;
}
