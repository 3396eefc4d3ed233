/** What all magnets share, in the parts list: their temperature, and the own grade where one is used. */
import { STARTING_GRADE, type OwnGrade } from '../../shape/ownGrade.ts';
import { STARTING_STEEL, type OwnSteel } from '../../shape/ownSteel.ts';
import { toldMagnets, USUAL_MAGNETS } from '../../sheet/checkMagnets.ts';
import { ownSteelWith, ownWith, usesOwn, usesOwnSteel } from '../../sheet/magnets.ts';
import type { FigureKey } from '../../sheet/figures.ts';
import type { Sheet } from '../../sheet/sheet.ts';
import type { Workbench } from '../../state/workbench.svelte.ts';
import { figure, type Cell, type PartsRow } from './cells.ts';

const FIGURES: readonly (readonly [keyof OwnGrade & FigureKey, string])[] = [
  ['remanence', 'Br'],
  ['coercivity', 'Hc'],
  ['energyProduct', '(BH)max'],
  ['recoil', 'recoil'],
];

const STEEL: readonly (readonly [keyof OwnSteel, FigureKey, string])[] = [
  ['permeability', 'steelMu', 'µ'],
  ['conductivity', 'steelConductivity', 'conductivity'],
  ['saturation', 'steelSaturation', 'saturation'],
];

/** The own steel's figures; nothing where none is of it. */
function steelRow(sheet: Sheet): PartsRow[] {
  if (!usesOwnSteel(sheet)) return [];
  const own = sheet.magnets?.ownSteel ?? STARTING_STEEL;
  const cells = STEEL.map(([field, key, word]): Cell => ({
    ...figure(`own steel, ${word}`, word, key, own[field], ['magnets', 'ownSteel', field]),
    commit: (bench, value) => bench.put(['magnets'], ownSteelWith(bench.sheet, field, value)),
  }));
  return [{ key: 'own steel', part: 'own steel', cells }];
}

/** Nothing where no pickup is built. */
export function magnetsRows(sheet: Sheet): PartsRow[] {
  if (!sheet.pickups.some(({ build }) => build)) return [];
  const { magnets = USUAL_MAGNETS } = sheet;
  const temperature: Cell = {
    ...figure('temperature of the magnets', 'at', 'magnetTemperature', magnets.temperature, [
      'magnets',
      'temperature',
    ]),
    commit: (bench, value) => bench.put(['magnets'], toldMagnets({ ...magnets, temperature: value })),
  };
  const row: PartsRow = { key: 'magnets', part: 'magnets', cells: [temperature] };
  if (!usesOwn(sheet)) return [row, ...steelRow(sheet)];
  const own = magnets.own ?? STARTING_GRADE;
  const cells = FIGURES.map(([field, word]): Cell => ({
    ...figure(`own grade, ${word}`, word, field, own[field], ['magnets', 'own', field]),
    ...(field === 'recoil' && {
      optional: true,
      blank: 'derived',
      clear: (bench: Workbench) => bench.set(['magnets'], ownWith(bench.sheet, 'recoil', null)),
    }),
    commit: (bench, value) => bench.put(['magnets'], ownWith(bench.sheet, field, value)),
  }));
  return [row, { key: 'own grade', part: 'own grade', cells }, ...steelRow(sheet)];
}
