/** What there is to say about playing, besides that it sounds. Pure. */
import type { Workbench } from '../../state/workbench.svelte.ts';

export interface Remarks {
  /** Why nothing sounds, or not what should; empty when nothing is wrong. */
  readonly trouble: string;
  /** What it waits for. */
  readonly waits: string;
}

export function remarksOn({ player, problem }: Workbench['listening']): Remarks {
  const failed = player.status === 'failed';
  return { trouble: problem || (failed ? player.message : ''), waits: failed ? '' : player.message };
}
