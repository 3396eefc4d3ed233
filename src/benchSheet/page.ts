/** What a page consists of, whoever sets it: bands of columns of blocks, and drawings in millimetres of paper. */

/** A page of paper; both leave the same room between margins. */
export type Paper = 'A4' | 'Letter';

/** mm; the largest letter-spaced room that both papers have. */
export const ROOM = { width: 190, height: 263 } as const;
/** mm of a letter of 9 points, of which nothing on the page is smaller: everything is measured in it. */
export const LETTER = 3.175;

/** From a path, or a text, on a drawing. */
export type Mark =
  | { readonly kind: 'path'; readonly d: string; readonly look: Look }
  | {
      readonly kind: 'text';
      readonly x: number;
      readonly y: number;
      readonly text: string;
      readonly anchor: 'start' | 'middle' | 'end';
      /** Whether it is read from the right. */
      readonly turned: boolean;
    };

/** Line types of ISO 128, and what is filled. */
export type Look = 'outline' | 'thin' | 'centre' | 'arrow' | 'solid' | 'metal' | 'copper';

/** mm. */
export interface Drawing {
  readonly width: number;
  readonly height: number;
  readonly marks: readonly Mark[];
  /** What it shows, in a sentence. */
  readonly says: string;
}

/** A part of the page under a heading. */
export type Block = { readonly title: string } & (
  | { readonly kind: 'drawing'; readonly drawing: Drawing; readonly note: string }
  | {
      readonly kind: 'table';
      /** Heads of the columns; empty for a table of two whose rows say all. */
      readonly head: readonly string[];
      /** The first of a row is its head. */
      readonly rows: readonly (readonly string[])[];
      readonly note: string;
      /** Whether its cells may break, on a page that is full. */
      readonly tight?: boolean;
    }
  | { readonly kind: 'list'; readonly items: readonly { readonly what: string; readonly says: string }[] }
  | { readonly kind: 'text'; readonly says: string }
  | { readonly kind: 'code'; readonly drawing: Drawing | null; readonly says: string }
);

/** One page. */
export interface BenchPage {
  readonly paper: Paper;
  readonly title: string;
  /** What is described of it. */
  readonly of: string;
  readonly notes: string;
  /** Date and state. */
  readonly facts: readonly { readonly what: string; readonly says: string }[];
  /** From the top: one column or two. */
  readonly bands: readonly (readonly (readonly Block[])[])[];
}

/** mm in letters, in which everything on the page is measured. */
export const letters = (mm: number): string => `${(mm / LETTER).toFixed(4)}em`;

/** Head of a column that is left empty for what is read at the bench. */
export const READ = 'read';

/** Two decimals of a millimetre are finer than any printer. */
export const at = (value: number): string => String(Number(value.toFixed(2)));

export const path = (d: string, look: Look): Mark => ({ kind: 'path', d, look });

export const text = (
  x: number,
  y: number,
  words: string,
  anchor: 'start' | 'middle' | 'end' = 'middle',
  turned = false,
): Mark => ({ kind: 'text', x, y, text: words, anchor, turned });

/** A closed polygon's, or an open line's, path. */
export const through = (points: readonly (readonly [number, number])[], closed = false): string =>
  points.map(([x, y], i) => `${i === 0 ? 'M' : 'L'}${at(x)} ${at(y)}`).join('') + (closed ? 'Z' : '');

export const box = (x: number, y: number, width: number, height: number): string =>
  `M${at(x)} ${at(y)}h${at(width)}v${at(height)}h${at(-width)}Z`;

export const circle = (x: number, y: number, r: number): string =>
  `M${at(x - r)} ${at(y)}a${at(r)} ${at(r)} 0 1 0 ${at(2 * r)} 0a${at(r)} ${at(r)} 0 1 0 ${at(-2 * r)} 0Z`;

/** Letters last, so that a line that runs through a figure has a gap for it, whichever was drawn first. */
export const lettersLast = (marks: readonly Mark[]): readonly Mark[] => [
  ...marks.filter(({ kind }) => kind === 'path'),
  ...marks.filter(({ kind }) => kind === 'text'),
];

/** mm that a text of nine points takes at most. */
export const widthOfText = (words: string): number => 0.53 * LETTER * words.length;
