/** The check of what all magnets and all steel of a sheet share, and what stands in the sheet for it. */
import type { OwnSteel } from '../shape/ownSteel.ts';
import { energyLimits, mostCoercivity, mostRecoil, type OwnGrade } from '../shape/ownGrade.ts';
import type { Magnets } from './build.ts';
import { figure, figureOrNone, group, groupOrNone, orDefault, refuse, type Fields } from './fault.ts';
import { formatFigure } from './format.ts';
import type { Sheet } from './sheet.ts';

/** °C. */
export const USUAL_TEMPERATURE = 20;

/** Of a sheet that says nothing. */
export const USUAL_MAGNETS: Magnets = { temperature: USUAL_TEMPERATURE, own: null };

const WHERE = 'Own grade';

function checkOwnGrade(fields: Fields): OwnGrade {
  const grade: OwnGrade = {
    remanence: figure(fields, 'remanence', 'remanence', WHERE),
    coercivity: figure(fields, 'coercivity', 'coercivity', WHERE),
    energyProduct: figure(fields, 'energyProduct', 'energyProduct', WHERE),
    recoil: figureOrNone(fields, 'recoil', 'recoil', WHERE),
  };
  const most = mostCoercivity(grade.remanence);
  if (grade.coercivity > most)
    refuse(
      WHERE,
      `Coercivity Hc must be at most Br/µ0, ${formatFigure(most, 'coercivity')}; got ${formatFigure(grade.coercivity, 'coercivity')}. Data sheets give a larger one for the magnetisation; that of B is meant.`,
    );
  const [low, high] = energyLimits(grade);
  if (grade.energyProduct < low || grade.energyProduct > high)
    refuse(
      WHERE,
      `Energy product (BH)max must be within what Br and Hc allow, ${formatFigure(low, 'energyProduct')} to ${formatFigure(high, 'energyProduct')}; got ${formatFigure(grade.energyProduct, 'energyProduct')}.`,
    );
  if (grade.recoil !== null && grade.recoil > mostRecoil(grade))
    refuse(
      WHERE,
      `Recoil permeability must be at most Br/µ0 Hc, ${mostRecoil(grade).toFixed(2)}; got ${grade.recoil}.`,
    );
  return grade;
}

function checkOwnSteel(fields: Fields): OwnSteel {
  const where = 'Own steel';
  return {
    permeability: figure(fields, 'permeability', 'steelMu', where),
    conductivity: figure(fields, 'conductivity', 'steelConductivity', where),
    saturation: figure(fields, 'saturation', 'steelSaturation', where),
  };
}

/** Nothing where a sheet says what all older ones mean. */
export function checkMagnets(fields: Fields): Pick<Sheet, 'magnets'> {
  return orDefault(fields, 'magnets', {}, () => {
    const given = group(fields, 'magnets', '', 'Magnets');
    const own = groupOrNone(given, 'own', 'Magnets', WHERE);
    return magnetsOf({
      temperature: figure(given, 'temperature', 'magnetTemperature', 'Magnets'),
      own: own && checkOwnGrade(own),
      ...orDefault<Pick<Magnets, 'ownSteel'>>(given, 'ownSteel', {}, () => ({
        ownSteel: checkOwnSteel(group(given, 'ownSteel', 'Magnets', 'Own steel')),
      })),
    });
  });
}

const magnetsOf = (magnets: Magnets): Pick<Sheet, 'magnets'> =>
  magnets.temperature === USUAL_TEMPERATURE && magnets.own === null && !magnets.ownSteel ? {} : { magnets };

/** What stands in the sheet for these; undefined for nothing. */
export const toldMagnets = (magnets: Magnets): Magnets | undefined => magnetsOf(magnets).magnets;
