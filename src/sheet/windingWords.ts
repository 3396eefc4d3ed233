/** A winding in the words of a parts list. */
import type { RowBuild } from './build.ts';
import { formatFigure } from './format.ts';
import { gaugeOf } from './wireGauge.ts';

/** «8000 turns of AWG 42»; a wire that is no gauge by its diameter. */
export function windingWords({ turns, wire }: RowBuild): string {
  const gauge = gaugeOf(wire.conductor);
  return `${turns} turns of ${gauge === null ? formatFigure(wire.conductor, 'wire') : `AWG ${gauge}`}`;
}
