/** A build in the words of a parts list. */
import { PLATE_WORDS, PLATES, type PlateName } from '../shape/plates.ts';
import type { PickupBuild, Pole, RowBuild } from './build.ts';
import { formatFigure } from './format.ts';
import { gaugeOf } from './wireGauge.ts';

const mm = (value: number): string => formatFigure(value, 'poleLength').replace(' mm', '');

function poleWords({ kind, magnet, diameter, length, tip }: Pole): string {
  const what = { rod: `${magnet.grade} rods`, slug: 'steel slugs', screw: 'steel screws' }[kind];
  const shape = tip.shape === 'flat' ? '' : `, ${tip.shape} ${mm(tip.size)}`;
  return `${what} Ø ${mm(diameter)} × ${mm(length)} mm${shape}`;
}

/** «8000 turns of AWG 42»; a wire that is no gauge by its diameter. */
export function windingWords({ turns, wire }: RowBuild): string {
  const gauge = gaugeOf(wire.conductor);
  return `${turns} turns of ${gauge === null ? formatFigure(wire.conductor, 'wire') : `AWG ${gauge}`}`;
}

/** What stands over and under a pickup: «nickel silver cover», «brass base plate»; nothing for none. */
export const sheetWords = (build: Pick<PickupBuild, PlateName>): string[] =>
  PLATES.flatMap((name) => (build[name] ? [`${build[name].metal} ${PLATE_WORDS[name]}`] : []));

/** «alnico 5 rods Ø 4.85 × 17.0 mm, 8000 turns of AWG 42»; two rows are joined by «and». */
export function buildWords(build: PickupBuild): string {
  const { rows, bar } = build;
  const words = rows.map((row) => `${poleWords(row.pole)}, ${windingWords(row)}`).join(' and ');
  const more = bar ? [`${bar.magnet.grade} bar ${mm(bar.thickness)} mm thick`] : [];
  return [words, ...more, ...sheetWords(build)].join('; ');
}
