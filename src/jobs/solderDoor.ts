/** What only a maker's own spread, the steps that matter and a target ask of physics, in a file of its own: a worker loads it when it is first asked for. */
import { FieldSolver } from '../physics/field.ts';
import { Searches } from '../physics/search.ts';
import { Makes } from '../physics/spreadOf.ts';
import { balance } from '../physics/balance.ts';
import { turnsFor } from '../physics/target.ts';
import type { Door, LaterKind } from './answer.ts';
import { mattersOf } from './matters.ts';

export const solderDoor = (
  solver: FieldSolver,
): Required<Pick<Door, Extract<LaterKind, 'spread' | 'matters' | 'target' | 'balance' | 'search'>>> => {
  const makes = new Makes();
  // What it goes through is not to take the place of what is looked at.
  const searches = new Searches(new FieldSolver());
  return {
    spread: (sheet, wish, fields) => makes.part(sheet, wish, fields),
    target: (sheet, wish, fields) => turnsFor(sheet, wish, solver, fields),
    search: (sheet, { wish, step }) => searches.part(sheet, wish, step),
    balance: (sheet, wish) => balance(sheet, wish, solver),
    matters: (sheet, wish, fields) => mattersOf(sheet, wish, fields, solver),
  };
};
