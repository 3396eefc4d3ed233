/** A build in the words of a parts list. */
import { hasCoil } from '../shape/hasCoil.ts';
import { PLATE_WORDS, PLATES, type PlateName } from '../shape/plates.ts';
import { differs, isFitted, leftOut } from '../shape/singlePole.ts';
import type { PickupBuild, Pole, RowBuild } from './build.ts';
import { formatFigure } from './format.ts';
import { steelNames } from './steelWords.ts';
import { windingWords } from './windingWords.ts';

const mm = (value: number): string => formatFigure(value, 'poleLength').replace(' mm', '');

function poleWords({ kind, magnet, diameter, length, tip }: Pole): string {
  if (kind === 'none') return 'no poles';
  const what = { rod: `${magnet.grade} rods`, slug: 'steel slugs', screw: 'steel screws' }[kind];
  const shape = tip.shape === 'flat' ? '' : `, ${tip.shape} ${mm(tip.size)}`;
  return `${what} Ø ${mm(diameter)} × ${mm(length)} mm${shape}`;
}

/** «, one alone, under string 3» or «, 2 left out». */
function outWords(pole: Pole): string {
  const out = leftOut(pole);
  if (pole.kind === 'none' || out.length === 0) return '';
  const alone = pole.heights.findIndex((_, k) => isFitted(pole, k)) + 1;
  return out.length === pole.heights.length - 1
    ? `, one alone, under string ${alone}`
    : `, ${out.length} left out`;
}

/** «, two poles of their own». */
function singleWords(row: RowBuild): string {
  const count = row.pole.heights.filter((_, k) => differs(row, k)).length;
  return `${outWords(row.pole)}${count === 0 ? '' : `, ${count} ${count === 1 ? 'pole of its own' : 'poles of their own'}`}`;
}

/** What stands over and under a pickup: «nickel silver cover», «brass base plate»; nothing for none. */
export const sheetWords = (build: Pick<PickupBuild, PlateName>): string[] =>
  PLATES.flatMap((name) => (build[name] ? [`${build[name].metal} ${PLATE_WORDS[name]}`] : []));

/** Each once, behind how many there are of it: «2 × ceramic 5 bar 6.0 mm thick». */
function counted(words: readonly string[]): string[] {
  return [...new Set(words)].map((word) => {
    const count = words.filter((other) => other === word).length;
    return count === 1 ? word : `${count} × ${word}`;
  });
}

/** «2 × ceramic 5 bar 6.0 mm thick», «steel blade 3.2 mm thick». @param offsets of the rows' centres, m */
export function blockWords(build: PickupBuild, offsets: readonly number[]): string[] {
  const names = steelNames(build, offsets);
  return [
    ...counted(build.bars.map(({ magnet, thickness }) => `${magnet.grade} bar ${mm(thickness)} mm thick`)),
    ...counted(
      build.steel.map(
        ({ width, length, thickness }, i) =>
          `steel ${names[i]} ${mm(Math.min(width, length, thickness))} mm thick`,
      ),
    ),
  ];
}

/**
 * «alnico 5 rods Ø 4.85 × 17.0 mm, 8000 turns of AWG 42»; two rows are joined by «and».
 * @param offsets of the rows' centres, m
 */
export function buildWords(build: PickupBuild, offsets: readonly number[]): string {
  const words = build.rows
    .map((row) => {
      const poles = `${poleWords(row.pole)}${singleWords(row)}`;
      return hasCoil(build) ? `${poles}, ${windingWords(row)}` : poles;
    })
    .join(' and ');
  return [
    ...(hasCoil(build) ? [] : ['no coil']),
    words,
    ...blockWords(build, offsets),
    ...sheetWords(build),
  ].join('; ');
}
