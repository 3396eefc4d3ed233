/** What one step of a dimension or part does to a pickup. */
import { FieldSolver } from '../physics/field.ts';
import type { Fields } from '../physics/heard/fieldAnswer.ts';
import { effectOf, lookedAt, type Effect, type Looked } from '../physics/matters.ts';
import type { Sheet } from '../sheet/sheet.ts';

/** The sheet with the step up and down; null where it can't be so. */
export interface MattersWish {
  /** From 0. */
  readonly pickup: number;
  readonly up: Sheet | null;
  readonly down: Sheet | null;
}

/** Which way the step is taken: up wherever it can be; and what it does. null where it can be taken neither way. */
export type MattersAnswer = { readonly way: 'up' | 'down'; readonly effect: Effect } | null;

/**
 * Half the difference between the step down and the step up, which is the central difference; where only one can be built, the
 * difference that it makes by itself.
 * @param fields of the sheet's pickups
 * @throws as `predict` for the sheet itself
 */
export function mattersOf(
  sheet: Sheet,
  { pickup, up, down }: MattersWish,
  fields: Fields | null,
  solver = new FieldSolver(),
): MattersAnswer {
  const at = (one: Sheet | null): Looked | null => {
    if (!one) return null;
    try {
      return lookedAt(one, solver.fields(one), pickup);
    } catch {
      // Poles that touch, a string in a cover: what can't be built is no step.
      return null;
    }
  };
  const [above, below] = [at(up), at(down)];
  if (above && below) return { way: 'up', effect: effectOf(below, above, 0.5) };
  const to = above ?? below;
  if (!to) return null;
  const from = lookedAt(sheet, fields ?? solver.fields(sheet), pickup);
  return { way: above ? 'up' : 'down', effect: effectOf(from, to, 1) };
}
