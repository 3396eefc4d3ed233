/** What a worker's jobs are to the physics; one a worker. */
import type { FieldSolver } from '../physics/field.ts';
import { pictures } from '../physics/picture.ts';
import { predict } from '../physics/predict.ts';
import type { Door } from './answer.ts';

/** All but what is loaded when it is first asked for. */
export const physicsDoor = (solver: FieldSolver): Door => ({
  field: (sheet, { wanted }) => solver.fields(sheet, wanted),
  predict: (sheet, fields) => predict(sheet, fields ?? solver.fields(sheet)),
  picture: pictures,
});
