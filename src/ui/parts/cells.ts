/** What a line of the parts list is made of: figures and choices, each with what it does to the sheet. */
import type { FigureKey } from '../../sheet/figures.ts';
import type { HelpKey } from '../help/helps.ts';
import type { Workbench } from '../../state/workbench.svelte.ts';

export type Path = readonly (string | number)[];

export interface FigureCell {
  readonly kind: 'figure';
  /** For the ear; says which part of which pickup it is. */
  readonly label: string;
  /** Written before the figure. */
  readonly before: string;
  readonly figure: FigureKey;
  readonly value: number | null;
  readonly path: Path;
  /** Whether it may be left out. */
  readonly optional: boolean;
  /** What the build gives in its place; the cell then says where its figure comes from. */
  readonly computed?: number | null | undefined;
  /** What is said where it is left out; «none» unless told. */
  readonly blank?: string;
  readonly help?: HelpKey;
  /** What is done with it where other figures follow; returns why it was refused, empty when it was not. */
  readonly commit?: (bench: Workbench, value: number) => string;
  /** What is done where it is left out, if its place may not be there. */
  readonly clear?: (bench: Workbench) => void;
}

export interface ChoiceCell {
  readonly kind: 'choice';
  readonly label: string;
  readonly before: string;
  readonly value: string;
  readonly options: readonly string[];
  readonly help?: HelpKey;
  /** Does something of which there is no refusal. */
  readonly choose?: (bench: Workbench, value: string) => void;
  /** Takes it over, or returns why it was refused, empty when it was not. */
  readonly take?: (bench: Workbench, value: string) => string;
}

export interface DoCell {
  readonly kind: 'do';
  readonly label: string;
  readonly word: string;
  readonly help?: HelpKey;
  readonly run: (bench: Workbench) => void;
}

/** A sentence. */
export interface NoteCell {
  readonly kind: 'note';
  readonly label: string;
  readonly warns: boolean;
}

export type Cell = FigureCell | ChoiceCell | DoCell | NoteCell;

export interface PartsRow {
  readonly key: string;
  readonly part: string;
  readonly cells: readonly Cell[];
  /** What is seldom changed: behind a line that says what it is. */
  readonly more?: {
    readonly summary: string;
    readonly cells: readonly Cell[];
    readonly lines?: readonly (readonly Cell[])[];
  };
}

export const figure = (
  label: string,
  before: string,
  key: FigureKey,
  value: number | null,
  path: Path,
  optional = false,
): FigureCell => ({ kind: 'figure', label, before, figure: key, value, path, optional });

/** A choice of words that stand in the sheet as they are, or as what `stored` makes of them. */
export const choice = (
  label: string,
  value: string,
  options: readonly string[],
  path: Path,
  stored: (value: string) => unknown = (v) => v,
): ChoiceCell => ({
  kind: 'choice',
  label,
  before: '',
  value,
  options,
  take: (bench, v) => bench.put(path, stored(v)),
});

/** One of two words that stand for no and yes. */
export const either = (
  label: string,
  on: boolean,
  words: readonly [string, string],
  choose: (bench: Workbench, on: boolean) => void,
): ChoiceCell => ({
  kind: 'choice',
  label,
  before: '',
  value: words[on ? 1 : 0],
  options: words,
  choose: (bench, v) => choose(bench, v === words[1]),
});

export const note = (label: string, warns = false): NoteCell => ({ kind: 'note', label, warns });

/** Whether one of the cells holds the figure at a place in the sheet. */
export const hasPath = (cells: readonly Cell[], path: Path): boolean =>
  cells.some((cell) => cell.kind === 'figure' && cell.path.join() === path.join());
