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

/** Largest over strings and rows: dB, with a row's error counted over the string's louder row, and m; null outside. */
export function differences(
  solver: FieldSolver,
  known: readonly KnownField[],
  question: FieldQuestion,
): { readonly level: number; readonly reach: number } | null {
  const found = betweenHeights(known, question);
  if (!found) return null;
  let [level, reach] = [0, 0];
  solver.answer(question).strings.forEach(({ rows }, i) => {
    const loudest = Math.max(...rows.map(({ area }) => Math.abs(area)));
    rows.forEach((exact, r) => {
      const row = found.strings[i]!.rows[r]!;
      level = Math.max(level, 20 * Math.log10(1 + Math.abs(row.area - exact.area) / loudest));
      // A row that hardly hears the string has no reach to speak of.
      if (Math.abs(exact.area) > 0.01 * loudest) reach = Math.max(reach, Math.abs(row.width - exact.width));
    });
  });
  return { level, reach };
}
