/** Letters of a drawing that would lie over one another, or beyond the paper. */
import { lettersLast, widthOfText, type Mark } from './page.ts';

/** mm between two figures on one line. */
const BETWEEN = 1.6;
/** mm from one line of letters to the next. */
const LINE = 3.6;

/** Of letters that would lie over one another the first: bars that are drawn in the same place can't all be named. */
export const besideOneAnother = (marks: readonly Mark[]): readonly Mark[] =>
  marks.reduce<Mark[]>((kept, mark) => {
    const over = (other: Mark): boolean =>
      mark.kind === 'text' &&
      other.kind === 'text' &&
      Math.abs(mark.y - other.y) < LINE &&
      Math.abs(mark.x - other.x) < 0.5 * (widthOfText(mark.text) + widthOfText(other.text));
    return kept.some(over) ? kept : [...kept, mark];
  }, []);

/** A figure that is read from the right and longer than what it measures stays below the paper's edge. */
export const onPaper = (marks: readonly Mark[]): readonly Mark[] =>
  lettersLast(marks).map((mark) =>
    mark.kind === 'text' && mark.turned
      ? { ...mark, y: Math.max(mark.y, 0.5 * widthOfText(mark.text) + 0.5) }
      : mark,
  );

/** Where figures of two rows would run into each other on a line, each ends, or begins, half-way between them. */
export function apart([first = [], second = []]: readonly (readonly Mark[])[]): readonly Mark[] {
  const words = (marks: readonly Mark[]) =>
    marks.flatMap((mark, i) => (mark.kind === 'text' ? [{ mark, i }] : []));
  const [one, other] = [first, second].map((marks) => words(marks)[0]?.mark.x);
  // A row of which nothing stands has none.
  if (one === undefined || other === undefined) return [...first, ...second];
  const [left, right] = one < other ? [first, second] : [second, first];
  const moved = [[...left], [...right]];
  words(left).forEach(({ mark: a, i }) => {
    const there = words(right).find(({ mark }) => Math.abs(mark.y - a.y) < 0.5 * LINE);
    if (!there) return;
    const { mark: b, i: j } = there;
    const room = b.x - a.x - BETWEEN;
    if (0.5 * (widthOfText(a.text) + widthOfText(b.text)) <= room) return;
    const mid = 0.5 * (a.x + b.x);
    moved[0]![i] = { ...a, x: mid - 0.5 * BETWEEN, anchor: 'end' };
    moved[1]![j] = { ...b, x: mid + 0.5 * BETWEEN, anchor: 'start' };
  });
  return moved.flat();
}
