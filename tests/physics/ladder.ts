/** Fields at many gaps, and how far what is put between them is from the exact one. */
import { betweenHeights, rungs, widened, type KnownField } from '../../src/physics/betweenHeights.ts';
import type { FieldSolver } from '../../src/physics/field.ts';
import type { FieldQuestion } from '../../src/physics/fieldQuestion.ts';
import { BuildError } from '../../src/physics/magnetics/build/checkBuild.ts';

/** All rungs that neither pole nor cover refuses. */
export function climbed(solver: FieldSolver, question: FieldQuestion): KnownField[] {
  return rungs(question, []).flatMap((by) => {
    const rung = widened(question, by);
    try {
      return [{ question: rung, answer: solver.answer(rung) }];
    } catch (error) {
      if (error instanceof BuildError) return [];
      throw error;
    }
  });
}

/** A string or row so much softer than the loudest is heard with it, not by itself: 40 dB. */
const SOFT = 0.01;

/**
 * Largest over strings and rows: dB, of a string's louder row, and m. Where strings and rows are so soft that they lie
 * within what is cancelled on them, dB are of 1 % of the loudest, and there is no reach to speak of. null outside.
 */
export function differences(
  solver: FieldSolver,
  known: readonly KnownField[],
  question: FieldQuestion,
): { readonly level: number; readonly reach: number } | null {
  const found = betweenHeights(known, question);
  if (!found) return null;
  const exact = solver.answer(question).strings.map(({ rows }) => rows);
  const sizes = exact.map((rows) => Math.max(...rows.map(({ area }) => Math.abs(area))));
  const soft = SOFT * Math.max(...sizes);
  let [level, reach] = [0, 0];
  exact.forEach((rows, i) =>
    rows.forEach(({ area, width }, r) => {
      const row = found.strings[i]!.rows[r]!;
      // Poles without a charge are heard by nobody.
      const off = Math.abs(row.area - area) / Math.max(sizes[i]!, soft, Number.MIN_VALUE);
      level = Math.max(level, 20 * Math.log10(1 + off));
      if (Math.abs(area) > Math.max(SOFT * sizes[i]!, soft))
        reach = Math.max(reach, Math.abs(row.width - width));
    }),
  );
  return { level, reach };
}
