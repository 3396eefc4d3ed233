/**
 * A measured curve as it comes from an analyser: a table in text, its cells set apart by tabs, semicolons, commas or spaces, with a
 * decimal point or (not between commas) a decimal comma; with a header or without, with lines of comment or without. What is
 * read is trusted in nothing.
 */

/** A table of figures. */
export interface CurveTable {
  /** Of each column as its header has it; empty where there is none. */
  readonly names: readonly string[];
  /** Of each column a figure a row; NaN where a cell holds none. */
  readonly columns: readonly Float64Array[];
  /** Which line of the file each row is, from 1. */
  readonly lines: Int32Array;
  /** How many lines between the rows held something else. */
  readonly leftOut: number;
}

/** A table, or a sentence. */
export type TableRead =
  | { readonly ok: true; readonly table: CurveTable }
  | { readonly ok: false; readonly message: string };

/** Bytes; a spectrum of a hundred thousand lines. */
export const LARGEST_CURVE = 4_000_000;
/** Fewer are no curve. */
export const LEAST_POINTS = 8;
const MOST_ROWS = 200_000;
const MOST_COLUMNS = 40;
/** Letters of a header's name that are kept. */
const LONGEST_NAME = 60;
/** Lines by which the kind of table is known. */
const SAMPLE = 200;

/** What a file must be to be laid over a curve. */
export const CURVE_WANTED = 'A measured curve must be a table of frequency against level or impedance';

/** @param bytes more than LARGEST_CURVE */
export const curveTooLarge = (bytes: number): string =>
  `${CURVE_WANTED}, 4 MB at most; got ${(bytes / 1e6).toFixed(1)} MB. Have it saved with fewer points.`;

const fail = (message: string): { ok: false; message: string } => ({ ok: false, message });

const SEPARATORS = ['\t', ';', ',', ' '] as const;
type Separator = (typeof SEPARATORS)[number];

const COMMENT = /^\s*(?:#|%|!|\/\/|\*|;)/;
/** ASCII minus or U+2212. */
const NUMBER = /^[+\-\u2212]?(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:[eE][+\-\u2212]?\d+)?$/;
const MISSING = /^(?:|[+-]?(?:nan|inf(?:inity)?|-+|n\/a))$/i;

/** Cells of a line; quoted ones as RFC 4180 has them. */
function cellsOf(line: string, separator: Separator): string[] {
  if (separator === ' ') return line.trim().split(/\s+/);
  if (!line.includes('"')) return line.split(separator).map((cell) => cell.trim());
  const cells: string[] = [];
  let cell = '';
  let quoted = false;
  for (const letter of line) {
    if (letter === '"') quoted = !quoted;
    else if (letter === separator && !quoted) {
      cells.push(cell.trim());
      cell = '';
    } else cell += letter;
  }
  return [...cells, cell.trim()];
}

/** NaN for a cell that is no figure. */
function figureOf(cell: string, separator: Separator): number {
  if (!NUMBER.test(cell) || (separator === ',' && cell.includes(','))) return NaN;
  return Number(cell.replace(',', '.').replaceAll('\u2212', '-'));
}

/** Whether a line is a row of the table: two cells or more, of which one at least is a figure and none a word. */
function isRow(cells: readonly string[], separator: Separator): boolean {
  if (cells.length < 2) return false;
  let figures = 0;
  for (const cell of cells) {
    if (!Number.isNaN(figureOf(cell, separator))) figures++;
    else if (!MISSING.test(cell)) return false;
  }
  return figures > 0;
}

const isComment = (line: string): boolean => COMMENT.test(line);

/** The mark that makes most lines rows of figures; null where none does. */
function separatorOf(lines: readonly string[]): Separator | null {
  const sample = lines.filter((line) => line.trim() !== '' && !isComment(line)).slice(0, SAMPLE);
  let best: { separator: Separator; rows: number } | null = null;
  for (const separator of SEPARATORS) {
    const rows = sample.filter((line) => {
      const cells = cellsOf(line, separator);
      return isRow(cells, separator) && cells.filter((cell) => NUMBER.test(cell)).length > 1;
    }).length;
    if (rows > (best?.rows ?? 0)) best = { separator, rows };
  }
  return best?.separator ?? null;
}

const linesOf = (text: string): string[] => text.split(/\r\n|\r|\n/);

/** Whether a text, or its beginning, looks like a table of figures, and like nothing that is read otherwise. */
export function looksLikeTable(text: string): boolean {
  if (/^\s*[[{<]/.test(text)) return false;
  if (/^\*[^]*^\.(end|ac|tran|op)\b/im.test(text)) return false;
  return separatorOf(linesOf(text.slice(0, 20_000))) !== null;
}

/** Never throws. */
export function readTable(text: string): TableRead {
  if (text.length > LARGEST_CURVE) return fail(curveTooLarge(text.length));
  const lines = linesOf(text);
  const separator = separatorOf(lines);
  if (separator === null)
    return fail(
      `${CURVE_WANTED}; got ${text.trim() === '' ? 'an empty file' : 'no lines with two figures'}. Save it as CSV or text, a line a frequency.`,
    );
  const rows: { readonly line: number; readonly figures: readonly number[] }[] = [];
  const before: string[] = [];
  let leftOut = 0;
  for (const [i, line] of lines.entries()) {
    if (line.trim() === '') continue;
    const cells = isComment(line) ? [] : cellsOf(line, separator);
    if (isRow(cells, separator)) {
      if (rows.length >= MOST_ROWS)
        return fail(
          `${CURVE_WANTED}, ${MOST_ROWS} lines at most; got more. Have it saved with fewer points.`,
        );
      rows.push({ line: i + 1, figures: cells.slice(0, MOST_COLUMNS).map((c) => figureOf(c, separator)) });
    } else if (rows.length === 0) before.push(line.replace(COMMENT, ''));
    else if (!isComment(line)) leftOut++;
  }
  if (rows.length < LEAST_POINTS)
    return fail(`${CURVE_WANTED}, ${LEAST_POINTS} lines or more; got ${rows.length}.`);
  // A row that only a mark at its end makes wider is no wider.
  const width = Math.max(...rows.slice(0, SAMPLE).map(({ figures }) => widthOf(figures)));
  const names = headsOf(before, separator, width);
  return {
    ok: true,
    table: {
      names,
      columns: Array.from({ length: width }, (_, c) => Float64Array.from(rows, (r) => r.figures[c] ?? NaN)),
      lines: Int32Array.from(rows, ({ line }) => line),
      leftOut,
    },
  };
}

const widthOf = (figures: readonly number[]): number => figures.findLastIndex((v) => !Number.isNaN(v)) + 1;

/** Names of columns: the last line before the figures that has as many cells, and one right above it, where units have a line of their own. */
function headsOf(before: readonly string[], separator: Separator, width: number): string[] {
  const heads: string[][] = [];
  for (const line of before.toReversed()) {
    const own = separator === ' ' ? [] : cellsOf(line, separator);
    const cells =
      own.length >= width
        ? own
        : [/\s{2,}|\t/, /\s+/].map((by) => line.trim().split(by)).find(({ length }) => length === width);
    if (cells) heads.unshift(cells);
    if (heads.length === 2 || (!cells && heads.length > 0)) break;
  }
  return Array.from({ length: width }, (_, c) =>
    heads
      .map((cells) => cells[c] ?? '')
      .join(' ')
      .trim()
      .slice(0, LONGEST_NAME),
  );
}
