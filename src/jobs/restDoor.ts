/** What is asked of physics only once a hand rests, in a file of its own: a worker loads it when it is first asked for. */
import { close } from '../physics/close.ts';
import type { FieldSolver } from '../physics/field.ts';
import { heardBetween } from '../physics/heardBetween.ts';
import type { Door } from './answer.ts';
import { trackOf } from './track.ts';
import { whyOf } from './why.ts';

export const restDoor = (solver: FieldSolver): Pick<Required<Door>, 'close' | 'track' | 'why' | 'heard'> => ({
  close: (sheet, { pickup, cents, ...notes }, field) => close(sheet, pickup, cents, field, notes),
  track: (sheet, wish) => trackOf(sheet, wish, solver),
  why: (sheet, wish, fields) => whyOf(sheet, wish, fields, solver),
  heard: (sheet, wish, fields) => heardBetween(sheet, wish, fields ?? solver.fields(sheet)),
});
