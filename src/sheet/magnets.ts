/** Changes to what all magnets of a sheet share, and words for it. Pure. */
import { OWN_GRADE, OWN_STEEL } from '../shape/materials.ts';
import {
  energyLimits,
  mostCoercivity,
  mostRecoil,
  STARTING_GRADE,
  type OwnGrade,
} from '../shape/ownGrade.ts';
import { STARTING_STEEL, type OwnSteel } from '../shape/ownSteel.ts';
import type { Magnets } from './build.ts';
import { USUAL_MAGNETS, USUAL_TEMPERATURE } from './checkMagnets.ts';
import { formatFigure } from './format.ts';
import type { Sheet } from './sheet.ts';

/** Digits that are left of a figure that follows. */
const DIGITS = 4;

/** With Hc and (BH)max brought to where a changed Br or Hc allows them, their product's share of Br Hc kept where it can be. */
function fittingGrade(grade: OwnGrade, before: OwnGrade): OwnGrade {
  const round = (value: number): number => Number(value.toPrecision(DIGITS));
  const most = mostCoercivity(grade.remanence);
  // One that has just been typed is for its check to refuse.
  const follows = grade.coercivity > most && grade.coercivity === before.coercivity;
  const coercivity = follows ? Number((0.999 * most).toPrecision(DIGITS)) : grade.coercivity;
  const next = { ...grade, coercivity };
  const [low, high] = energyLimits(next);
  const full = before.energyProduct / (before.remanence * before.coercivity);
  const wanted = full * next.remanence * coercivity;
  // A little within, so that rounding keeps it there.
  const energyProduct = round(
    Math.min(low + 0.98 * (high - low), Math.max(low + 0.02 * (high - low), wanted)),
  );
  const recoil = next.recoil !== null && next.recoil > mostRecoil(next) ? null : next.recoil;
  return { ...next, energyProduct, recoil };
}

/** The own grade with one figure changed; (BH)max, and Hc where Br falls below it, follow Br and Hc. */
export function ownWith(sheet: Sheet, field: keyof OwnGrade, value: number | null): Magnets {
  const { own, ...others } = sheet.magnets ?? USUAL_MAGNETS;
  const before = own ?? STARTING_GRADE;
  const next = { ...before, [field]: value } as OwnGrade;
  return {
    ...others,
    own: field === 'remanence' || field === 'coercivity' ? fittingGrade(next, before) : next,
  };
}

/** Whether any magnet is of the own grade. */
export const usesOwn = ({ pickups }: Sheet): boolean =>
  pickups.some(
    ({ build }) =>
      build &&
      (build.bars.some(({ magnet }) => magnet.grade === OWN_GRADE) ||
        build.rows.some(
          ({ pole }) =>
            pole.kind === 'rod' &&
            (pole.magnet.grade === OWN_GRADE || pole.own?.some((single) => single?.grade === OWN_GRADE)),
        )),
  );

/** The own steel with one figure changed. */
export function ownSteelWith(sheet: Sheet, field: keyof OwnSteel, value: number): Magnets {
  const magnets = sheet.magnets ?? USUAL_MAGNETS;
  return { ...magnets, ownSteel: { ...(magnets.ownSteel ?? STARTING_STEEL), [field]: value } };
}

/** Whether any steel is the maker's own. */
export const usesOwnSteel = ({ pickups }: Sheet): boolean =>
  pickups.some(
    ({ build }) =>
      build &&
      (build.steel.some(({ steel }) => steel === OWN_STEEL) ||
        build.rows.some(
          ({ pole }) => (pole.kind === 'slug' || pole.kind === 'screw') && pole.steel === OWN_STEEL,
        )),
  );

/** «at 60 °C; own grade: Br 1.2 T, …»; nothing where a sheet says what all older ones mean. */
export function magnetsWords(sheet: Sheet): string {
  const { temperature, own, ownSteel = STARTING_STEEL } = sheet.magnets ?? USUAL_MAGNETS;
  const grade = usesOwn(sheet) ? (own ?? STARTING_GRADE) : null;
  const words = [
    ...(temperature === USUAL_TEMPERATURE ? [] : [`at ${formatFigure(temperature, 'magnetTemperature')}`]),
    ...(grade
      ? [
          `own grade: Br ${formatFigure(grade.remanence, 'remanence')}, Hc ${formatFigure(grade.coercivity, 'coercivity')}, (BH)max ${formatFigure(grade.energyProduct, 'energyProduct')}${grade.recoil === null ? '' : `, recoil ${grade.recoil}`}`,
        ]
      : []),
    ...(usesOwnSteel(sheet)
      ? [
          `own steel: µ ${formatFigure(ownSteel.permeability, 'steelMu')}, ${formatFigure(ownSteel.conductivity, 'steelConductivity')}, saturation ${formatFigure(ownSteel.saturation, 'steelSaturation')}`,
        ]
      : []),
  ];
  return words.join('; ');
}
