/** What is asked of physics to make a sheet sound, in a file of its own: a worker loads it when it is first asked for. */
import type { FieldSolver } from '../physics/field.ts';
import { beginning, render } from '../physics/rendered.ts';
import type { LiveSetup } from '../physics/sound/live/types.ts';
import { liveSetup, phraseLevel } from '../physics/soundingLive.ts';
import type { Door } from './answer.ts';

/** @param feed sends a setup straight to what sounds, and says when; null when there is no way to it */
export const liveDoor = (
  feed: (setup: LiveSetup) => number | null,
  solver: FieldSolver,
): Pick<Required<Door>, 'sound' | 'beginning' | 'live' | 'level'> => ({
  sound: (sheet, fields) => render(sheet, fields ?? solver.fields(sheet)),
  beginning: (sheet, fields) => beginning(sheet, fields ?? solver.fields(sheet)),
  live: (sheet, wish, fields) => {
    const setup = liveSetup(sheet, wish.sampleRate, wish.gain, fields ?? solver.fields(sheet));
    return { setup, fedAt: wish.feed ? feed(setup) : null };
  },
  level: (sheet, fields) => phraseLevel(sheet, fields ?? solver.fields(sheet)),
});
