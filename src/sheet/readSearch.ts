/** What is wanted of a pickup and of what it may be built, read from the text that a document keeps of it. */
import { CHOSEN_GRADES } from '../shape/materials.ts';
import {
  asFields,
  choiceIn,
  Fault,
  figure,
  figureIn,
  figureOrNone,
  group,
  list,
  orDefault,
  refuse,
  type Fields,
} from './fault.ts';
import type { FigureKey } from './figures.ts';
import { formatFigure } from './format.ts';
import { ENAMELS, MOST_OF_A_LIST, WANTS, type Search } from './search.ts';

export { CHOSEN_GRADES };

const WHERE = 'Search';

/** Two ends, the lower one first. */
function ends(stock: Fields, name: string, key: FigureKey, what: string): [number, number] {
  const pair = list(stock, name, WHERE, `${what}, least and most,`, 2, 2);
  const [least, most] = [0, 1].map((i) => figureIn(pair, i, key, WHERE)) as [number, number];
  if (least > most)
    refuse(
      WHERE,
      `${what} at most must be no less than at least, ${formatFigure(least, key)}; got ${formatFigure(most, key)}.`,
    );
  return [least, most];
}

/** Without what is not there. */
const given = <T extends object>(fields: T): T =>
  Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== undefined)) as T;

/** A search to be trusted, or a sentence about the first thing that is wrong. Never throws. */
export type ReadSearch =
  | { readonly ok: true; readonly search: Search }
  | { readonly ok: false; readonly message: string };

export function readSearch(text: string): ReadSearch {
  try {
    return { ok: true, search: checkSearch(asFields(JSON.parse(text), '', WHERE)) };
  } catch (error) {
    const message =
      error instanceof Fault ? error.message : 'Search must be text that can be read; it is not.';
    return { ok: false, message };
  }
}

/** @throws Fault */
function checkSearch(search: Fields): Search {
  const wants = group(search, 'wants', WHERE, 'What is wanted');
  const stock = group(search, 'stock', WHERE, 'What there is');
  const some = <T>(name: string, what: string, read: (items: readonly unknown[], i: number) => T) =>
    orDefault(stock, name, undefined, () =>
      list(stock, name, WHERE, what, 1, MOST_OF_A_LIST).map((_, i, all) => read(all, i)),
    );
  const figures = (name: string, what: string, key: FigureKey) =>
    some(name, what, (all, i) => figureIn(all, i, key, WHERE));
  const load = orDefault(search, 'load', undefined, () => {
    const fields = group(search, 'load', WHERE, 'Load');
    return {
      resistance: figureOrNone(fields, 'resistance', 'inputResistance', WHERE),
      capacitance: figure(fields, 'capacitance', 'inputCapacitance', WHERE),
    };
  });
  return {
    ...(load && { load }),
    wants: given(
      Object.fromEntries(
        WANTS.map(([key, of]) => [
          key,
          orDefault(wants, key, undefined, () => figure(wants, key, of, WHERE)),
        ]),
      ),
    ),
    stock: given({
      wires: figures('wires', 'Wires', 'wire'),
      enamels: some('enamels', 'Enamels', (all, i) => choiceIn(all, i, ENAMELS, WHERE, 'Enamel')),
      grades: some('grades', 'Grades', (all, i) => choiceIn(all, i, CHOSEN_GRADES, WHERE, 'Magnet grade')),
      diameters: figures('diameters', 'Diameters', 'poleDiameter'),
      lengths: figures('lengths', 'Lengths', 'poleLength'),
      turns: orDefault(stock, 'turns', undefined, () => ends(stock, 'turns', 'turns', 'Turns')),
      gap: orDefault(stock, 'gap', undefined, () => ends(stock, 'gap', 'gap', 'Gap')),
    } as Search['stock']),
  };
}
