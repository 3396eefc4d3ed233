/** Why a sheet sounds unlike the one before: each cause undone in turn, and what then follows. */
import { FieldSolver } from '../physics/field.ts';
import { fieldQuestion } from '../physics/fieldQuestion.ts';
import type { FieldAnswer, Fields } from '../physics/heard/fieldAnswer.ts';
import { whyFigures, type WhyFigures, type WhyPlace } from '../physics/why.ts';
import type { Sheet } from '../sheet/sheet.ts';

/** One cause of a change. */
export interface WhyUndone {
  readonly words: string;
  /** The sheet as it is without it: the one before itself where it is the only one; null where the document can't be so. */
  readonly undone: Sheet | null;
}

/** Pickup and string from 0; see whyAsked.ts. */
export interface WhyWish extends WhyPlace {
  /** The sheet as it was, listened to as it is now. */
  readonly before: Sheet;
  readonly causes: readonly WhyUndone[];
  /** Of its pickups; null where one is not known, or the same as now. */
  readonly beforeFields: Fields | null;
}

/** What follows without one of the causes; null where the sheet without it can't be built. */
export interface WhyCause {
  readonly words: string;
  readonly without: WhyFigures | null;
}

/** Before and after a change, and what there would be if each of its causes had stayed as it was. */
export interface WhyAnswer extends WhyPlace {
  readonly before: WhyFigures;
  readonly after: WhyFigures;
  readonly causes: readonly WhyCause[];
}

/**
 * A field that is known of the sheet now or before is not computed again: circuit, place and wire need none.
 * @param fields of the sheet's pickups
 * @throws as `predict` for the sheet itself and the one before
 */
export function whyOf(
  after: Sheet,
  wish: WhyWish,
  fields: Fields | null,
  solver = new FieldSolver(),
): WhyAnswer {
  const { before, causes, pickup, string } = wish;
  const place = { pickup, string };
  const known = new Map<string, FieldAnswer>();
  keep(known, before, wish.beforeFields);
  keep(known, after, fields);
  const figures = (sheet: Sheet): WhyFigures =>
    whyFigures(sheet, fieldsFrom(known, sheet, solver), placeIn(sheet, place));
  const then = figures(before);
  const now = figures(after);
  const without = (undone: Sheet | null): WhyFigures | null => {
    if (!undone || undone === before) return undone && then;
    try {
      return figures(undone);
    } catch {
      // Poles that touch, a string in a cover: a build that there could never have been.
      return null;
    }
  };
  return {
    ...place,
    before: then,
    after: now,
    causes: causes.map(({ words, undone }) => ({ words, without: without(undone) })),
  };
}

/** The last pickup and string where there are fewer. */
const placeIn = ({ pickups, instrument }: Sheet, { pickup, string }: WhyPlace): WhyPlace => ({
  pickup: Math.min(pickup, pickups.length - 1),
  string: Math.min(string, instrument.strings.length - 1),
});

const keyOf = (sheet: Sheet, pickup: number): string | null => {
  const question = fieldQuestion(sheet, pickup);
  return question && JSON.stringify(question);
};

function keep(known: Map<string, FieldAnswer>, sheet: Sheet, fields: Fields | null): void {
  fields?.forEach((answer, i) => {
    const key = answer && keyOf(sheet, i);
    if (answer && key !== null) known.set(key, answer);
  });
}

function fieldsFrom(known: Map<string, FieldAnswer>, sheet: Sheet, solver: FieldSolver): Fields {
  const found = sheet.pickups.map((_, i) => known.get(keyOf(sheet, i) ?? '') ?? null);
  const solved = solver.fields(
    sheet,
    found.map((answer) => answer === null),
  );
  return found.map((answer, i) => answer ?? solved[i] ?? null);
}
