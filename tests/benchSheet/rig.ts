/** Pages of the presets. */
import { benchPage } from '../../src/benchSheet/benchPage.ts';
import type { BenchPage, Block, Paper } from '../../src/benchSheet/page.ts';
import { USUAL_WISH } from '../../src/benchSheet/usual.ts';
import { benchFigures } from '../../src/physics/benchFigures.ts';
import { encodeShortLink } from '../../src/sheet/shortLink.ts';
import { wrap } from '../../src/sheet/trials.ts';
import { computedPreset } from '../fixtures/presetFields.ts';

/** As long as a host's may be. */
export const ADDRESS = 'https://workshop.example.org/tools/lodetone/';

export interface Set {
  readonly page: BenchPage;
  readonly link: string;
}

/** @param pickup from 0 */
export async function setPreset(name: string, pickup = 0, paper: Paper = 'A4'): Promise<Set> {
  const { sheet, fields, prediction } = computedPreset(name);
  const link = `${ADDRESS}#${await encodeShortLink(wrap(sheet))}`;
  const figures = benchFigures(sheet, fields, { ...USUAL_WISH, pickup }, prediction);
  return {
    page: benchPage({
      sheet,
      figures,
      poles: { tops: [], up: [] },
      trial: '',
      date: '27 November 2026',
      link,
      paper,
    }),
    link,
  };
}

export const blocksOf = ({ bands }: BenchPage): readonly Block[] => bands.flat(2);

/** The only one of its title and kind. */
export function tableOf(page: BenchPage, title: string): Extract<Block, { kind: 'table' }> {
  const found = blocksOf(page).find((block) => block.title === title);
  if (found?.kind !== 'table') throw new Error(`The page must have a table ${title}; it has none.`);
  return found;
}
