/** Single poles of a row in the parts list: those that have been asked for, a line each. */
import type { OwnPole, Pole, RowBuild } from '../../sheet/build.ts';
import { AS_THE_ROW, changeSingle, withFitted, withOthers, withSingle } from '../../sheet/singlePoles.ts';
import { CHOSEN_GRADES } from '../../shape/materials.ts';
import { leftOut, poleAt, upAt } from '../../shape/singlePole.ts';
import { choice, figure, note, type Cell, type ChoiceCell, type PartsRow, type Path } from './cells.ts';

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
  const put = (word: string, label: string, pole: Pole): Cell => ({
    ...{ kind: 'do', word, label },
    run: (bench) => bench.set(at, { ...row, pole }),
  });
  const out = leftOut(row.pole);
  const key = `${at.join(' ')} pole ${k}`;
  if (out.includes(k + 1))
    return {
      key,
      part: whole,
      cells: [note('left out'), put('put it in', `put the ${whole} in`, withFitted(row.pole, k, true))],
    };
  const alone = out.length === row.pole.heights.length - 1;
  return {
    key,
    part: whole,
    cells: [
      ...magnet,
      size('diameter', 'Ø', 'diameter'),
      size('length', '×', 'length'),
      put('as the others', `make the ${whole} as the others`, withSingle(row.pole, k, null)),
      ...(alone ? [] : [put('leave it out', `leave the ${whole} out`, withFitted(row.pole, k, false))]),
      alone
        ? put('put the others in', `put the others beside the ${whole} in`, withOthers(row.pole, k, true))
        : put('leave the others out', `leave all but the ${whole} out`, withOthers(row.pole, k, false)),
    ],
  };
}
