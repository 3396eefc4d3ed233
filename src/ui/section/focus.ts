/** What holding the focus does: sets the reach by hand, or moves the lever that makes it. */
import type { Lever } from '../../sheet/focusLever.ts';
import type { Workbench } from '../../state/workbench.svelte.ts';
import type { FocusHand } from './focusHand.svelte.ts';
import { leverName } from './focusWords.ts';
import type { RowView } from './view.ts';

/** What a drag of the focus changes. */
export type FocusBy = Lever | 'hand';

export const FOCUS_WORDS: Readonly<Record<FocusBy, string>> = {
  gap: 'the gap',
  tip: 'the tip',
  diameter: 'the diameter',
  hand: 'hand',
};

export interface FocusHold {
  readonly value: number;
  readonly byHand: boolean;
  /** «by chamfer» */
  readonly words: string;
  /** Why it goes no further where it is held; empty else. */
  readonly end: string;
  /** Where the middle of the reach was when it was taken hold of, m from the saddle; null where it isn't held. */
  readonly middle: number | null;
  readonly preview: (width: number) => void;
  /** Returns why it was refused, empty when it was not. */
  readonly put: (width: number) => string;
  readonly commit: () => void;
  readonly cancel: () => void;
}

/** A tenth of a millimetre: what the figure shows. */
const shown = (width: number): number => Math.round(width * 1e4) / 1e4;

export function focusHold(bench: Workbench, hand: FocusHand, row: RowView): FocusHold {
  const pickup = bench.sheet.pickups[bench.chosen];
  const path = ['pickups', bench.chosen, 'rows', row.index, 'reach', 'width'];
  const build = pickup?.build;
  if (!build?.rows[row.index] || pickup?.reachBy === 'hand')
    return {
      value: pickup?.rows[row.index]?.reach.width ?? row.width,
      byHand: true,
      words: 'by hand',
      end: '',
      middle: null,
      preview: (width) => bench.preview(path, width),
      put: (width) => bench.put(path, width),
      commit: bench.commit,
      cancel: bench.cancel,
    };
  const held = hand.held?.row === row.index ? hand.held : null;
  return {
    value: shown(held?.width ?? row.width),
    byHand: false,
    words: `by ${leverName(build, row.index, bench.focus.lever)}`,
    end: held?.end ?? '',
    middle: held?.prediction?.voices[bench.chosen]?.reach.rows[row.index]?.centre ?? null,
    preview: (width) => hand.aim(row.index, width),
    put: (width) => {
      hand.go(row.index, width);
      return ''; // what it comes to is known later, and said then
    },
    commit: () => hand.release(),
    cancel: () => hand.cancel(),
  };
}
