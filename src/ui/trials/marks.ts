/** How trials are told apart on paper: by letter and line pattern, and besides by colour. */

export interface Mark {
  /** Dashes of its line, for stroke-dasharray; 'none' for a solid one. */
  readonly dash: string;
  /** One of the paper's colours. */
  readonly colour: string;
}

const DASHES = ['none', '8 5', '2 4', '12 4 2 4', '5 3', '12 3 2 3 2 3'] as const;

/** @param index 0 for trial A */
export function trialMark(index: number): Mark {
  return {
    dash: DASHES[index] ?? 'none',
    colour: index === 0 ? 'var(--copper)' : index === 1 ? 'var(--blue)' : 'var(--ink)',
  };
}
