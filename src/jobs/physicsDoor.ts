/** What a worker's jobs are to the physics; one a worker. */
import type { FieldSolver } from '../physics/field.ts';
import { pictures } from '../physics/picture.ts';
import { beginning, liveSetup, phraseLevel, predict, render } from '../physics/predict.ts';
import type { LiveSetup } from '../physics/sound/live/types.ts';
import type { Door } from './answer.ts';

/**
 * All but what is loaded when it is first asked for.
 * @param feed sends a setup straight to what sounds, and says when; null when there is no way to it
 */
export function physicsDoor(feed: (setup: LiveSetup) => number | null, solver: FieldSolver): Door {
  return {
    field: (sheet, { wanted }) => solver.fields(sheet, wanted),
    predict: (sheet, fields) => predict(sheet, fields ?? solver.fields(sheet)),
    render: (sheet, fields) => render(sheet, fields ?? solver.fields(sheet)),
    beginning: (sheet, fields) => beginning(sheet, fields ?? solver.fields(sheet)),
    live: (sheet, wish, fields) => {
      const setup = liveSetup(sheet, wish.sampleRate, wish.gain, fields ?? solver.fields(sheet));
      return { setup, fedAt: wish.feed ? feed(setup) : null };
    },
    level: (sheet, fields) => phraseLevel(sheet, fields ?? solver.fields(sheet)),
    picture: pictures,
  };
}
