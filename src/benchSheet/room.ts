/** How high a page comes out, as far as can be told without setting it: by letters and lines of nine points. */
import { LETTER, ROOM, type BenchPage, type Block } from './page.ts';

/** mm. The height of a line, of a heading, and what a row of a table adds to its lines. */
const LINE = 1.13 * LETTER;
const HEADING = 5.2;
const ROW = 0.45;
/** Of a letter on average, in whatever typeface stands in; a title's is larger. */
const AVERAGE = 1.42;
const TITLE = 2.55;
/** Between two columns; beside a title; and a table's first column. */
const GUTTER = 1.6 * LETTER;
const FACTS = 40;
const FIRST = 19;
/** Lines of the heads of a table as wide as the page. */
const HEADS = 4;
/** Letters of a name that is broken in a tight one. */
const BROKEN = 12;

const lines = (words: string, width: number, letter = AVERAGE): number =>
  words === '' ? 0 : Math.ceil((letter * words.length) / width);

/** mm. @param width of its column, mm */
export function heightOf(block: Block, width: number): number {
  switch (block.kind) {
    case 'drawing':
      return HEADING + block.drawing.height;
    case 'code':
      return HEADING + (block.drawing?.height ?? LINE * lines(block.says, width)) + 1;
    case 'text':
      return HEADING + LINE * lines(block.says, width);
    case 'list':
      return (
        HEADING +
        block.items.reduce((sum, { what, says }) => sum + LINE * lines(`${what}: ${says}`, width), 0)
      );
    case 'table': {
      const pairs = block.head.length === 0;
      const head = pairs ? 0 : ROW + LINE * (width < ROOM.width ? 1 : HEADS);
      const rows = block.rows.map(
        ([first = '', what = '']) =>
          ROW +
          LINE *
            (pairs ? Math.max(1, lines(what, width - FIRST)) : block.tight && first.length > BROKEN ? 3 : 1),
      );
      return HEADING + head + rows.reduce((a, b) => a + b, 0) + LINE * lines(block.note, width);
    }
  }
}

/** mm. */
export const columnHeight = (blocks: readonly Block[], width: number): number =>
  blocks.reduce((sum, block) => sum + heightOf(block, width), 0);

export const columnWidth = (columns: number): number =>
  columns === 1 ? ROOM.width : (ROOM.width - GUTTER) / 2;

/** mm. */
export const bandsHeight = (bands: BenchPage['bands']): number =>
  bands.reduce(
    (sum, columns) =>
      sum + Math.max(...columns.map((blocks) => columnHeight(blocks, columnWidth(columns.length)))),
    0,
  );

/** mm. */
export function pageHeight({ title, of, notes, bands }: BenchPage): number {
  const beside = ROOM.width - FACTS;
  const head = 2 + LINE * (lines(title, beside, TITLE) * 1.45 + lines(`Bench sheet · ${of}`, beside));
  return head + LINE * lines(notes, ROOM.width) + bandsHeight(bands);
}
