/** What only a maker's own spread and the steps that matter ask of physics, in a file of its own: a worker loads it when it is first asked for. */
import type { FieldSolver } from '../physics/field.ts';
import { Makes } from '../physics/spreadOf.ts';
import type { Door, LaterKind } from './answer.ts';
import { mattersOf } from './matters.ts';

export const solderDoor = (
  solver: FieldSolver,
): Required<Pick<Door, Extract<LaterKind, 'spread' | 'matters'>>> => {
  const makes = new Makes();
  return {
    spread: (sheet, wish, fields) => makes.part(sheet, wish, fields),
    matters: (sheet, wish, fields) => mattersOf(sheet, wish, fields, solver),
  };
};
