/** Single poles of a row in the parts list: those that have been asked for, a line each. */
import type { OwnPole, RowBuild } from '../../sheet/build.ts';
import { AS_THE_ROW, changeSingle, withSingle } from '../../sheet/singlePoles.ts';
import { CHOSEN_GRADES } from '../../shape/materials.ts';
import { poleAt, upAt } from '../../shape/singlePole.ts';
import { choice, figure, type Cell, type ChoiceCell, type PartsRow, type Path } from './cells.ts';

const NONE = 'choose a pole …';

const nameOf = (k: number): string => `under string ${k + 1}`;

/** Lists a pole of its own. @param at the row in the build */
export function ownCell(row: RowBuild, name: string, at: Path): ChoiceCell {
  const { pole } = row;
  const free = pole.heights.flatMap((_, k) => (pole.own?.[k] ? [] : [k])).toReversed();
  return {
    ...choice(`${name}, a pole of its own`, NONE, [NONE, ...free.map(nameOf)], at, (word) => {
      const k = free.find((one) => nameOf(one) === word);
      return k === undefined ? row : { ...row, pole: withSingle(pole, k, AS_THE_ROW) };
    }),
    before: 'one of its own',
  };
}

/** @param at the row in the build */
export const ownRows = (row: RowBuild, name: string, at: Path): PartsRow[] =>
  row.pole.kind === 'none'
    ? []
    : row.pole.heights.flatMap((_, k) => (row.pole.own?.[k] ? [ownRow(row, k, name, at)] : [])).toReversed();

function ownRow(row: RowBuild, k: number, name: string, at: Path): PartsRow {
  const whole = `${name}, pole ${nameOf(k)}`;
  const here = poleAt(row.pole, k);
  const on = (field: keyof OwnPole): Path => [...at, 'pole', 'own', k, field];
  const changed = (field: keyof OwnPole) => (value: unknown) => changeSingle(row, k, { [field]: value });
  const size = (label: string, before: string, field: 'diameter' | 'length' | 'charge'): Cell => ({
    ...figure(
      `${whole}, ${label}`,
      before,
      field === 'charge' ? 'charge' : field === 'length' ? 'poleLength' : 'poleDiameter',
      field === 'charge' ? here.magnet.charge : here[field],
      on(field),
    ),
    commit: (bench, value) => bench.put(at, changed(field)(value)),
  });
  const magnet: Cell[] =
    row.pole.kind === 'rod'
      ? [
          choice(`${whole}, grade`, here.magnet.grade, CHOSEN_GRADES, at, changed('grade')),
          size('charge', 'charged', 'charge'),
          choice(`${whole}, pole that is up`, `${upAt(row, k)} up`, ['north up', 'south up'], at, (word) =>
            changed('up')(word.split(' ')[0]),
          ),
        ]
      : [];
  return {
    key: `${at.join(' ')} pole ${k}`,
    part: whole,
    cells: [
      ...magnet,
      size('diameter', 'Ø', 'diameter'),
      size('length', '×', 'length'),
      {
        kind: 'do',
        word: 'as the others',
        label: `make the ${whole} as the others`,
        run: (bench) => bench.set(at, { ...row, pole: withSingle(row.pole, k, null) }),
      },
    ],
  };
}
