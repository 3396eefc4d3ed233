/** What holding the focus does: sets the reach by hand, or moves the geometry that makes it. */
import type { FocusPart } from '../../sheet/focusPath.ts';
import type { Workbench } from '../../state/workbench.svelte.ts';
import type { Steer } from './steer.svelte.ts';
import type { RowView } from './view.ts';

/** What a drag of the focus changes; 'tip' goes on with the gap where the tip is at its limit. */
export type FocusBy = FocusPart | 'hand';

export const FOCUS_WORDS: Readonly<Record<FocusBy, string>> = {
  tip: 'the tip, then the gap',
  gap: 'the gap',
  hand: 'hand',
};

export interface FocusHold {
  readonly value: number;
  readonly byHand: boolean;
  /** «by chamfer» */
  readonly words: string;
  readonly preview: (width: number) => void;
  /** Returns why it was refused, empty when it was not. */
  readonly put: (width: number) => string;
  readonly commit: () => void;
  readonly cancel: () => void;
}

const TIPS = { flat: 'chamfer', chamfered: 'chamfer', coned: 'cone', domed: 'dome' } as const;

/** A tenth of a millimetre: what the figure shows. */
const shown = (width: number): number => Math.round(width * 1e4) / 1e4;

export function focusHold(bench: Workbench, steer: Steer, row: RowView, by: FocusBy): FocusHold {
  const pickup = bench.sheet.pickups[bench.chosen];
  const path = ['pickups', bench.chosen, 'rows', row.index, 'reach', 'width'];
  const pole = pickup?.build?.rows[row.index]?.pole;
  if (!pickup || pickup.reachBy === 'hand' || !pole || by === 'hand')
    return {
      value: pickup?.rows[row.index]?.reach.width ?? row.width,
      byHand: true,
      words: 'by hand',
      preview: (width) => bench.preview(path, width),
      put: (width) => bench.put(path, width),
      commit: bench.commit,
      cancel: bench.cancel,
    };
  const part = steer.moving ?? by;
  return {
    value: shown(row.width),
    byHand: false,
    words: `by ${part === 'tip' ? TIPS[pole.tip.shape] : 'gap'}`,
    preview: (width) => steer.aim(row.index, width, by),
    put: (width) => {
      steer.go(row.index, width, by);
      return ''; // what it comes to is known later, and said then
    },
    commit: () => steer.release(),
    cancel: () => steer.cancel(),
  };
}
