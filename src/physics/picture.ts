/** The pictures of a sheet's computed field: the door to the folder of the same name. */
import { rowCrossing } from '../shape/stringCourse.ts';
import type { Sheet } from '../sheet/sheet.ts';
import type { FieldAnswer } from './heard/fieldAnswer.ts';
import { chargedBy } from './charged.ts';
import { fieldQuestion } from './fieldQuestion.ts';
import { planPicture, probeReading, stringSurface } from './picture/plan.ts';
import { sectionPicture, sectionPlane } from './picture/section.ts';
import { sourcesOf } from './picture/sources.ts';
import type { Pictures, PictureWish } from './picture/types.ts';

export type { Pictures, PictureWish, PlanPicture, ProbeReading, SectionPicture } from './picture/types.ts';

/**
 * @param sheet checked; the section lies under its chosen string
 * @param field of that pickup; null has its charges solved here
 * @throws BuildError naming every fault of the build, or RangeError when a magnet has no working point
 * Digits: 2 % of B a millimetre and more from the bodies, 1 % of the largest |B| of a plan; a probe is exact.
 */
export function pictures(
  sheet: Sheet,
  { pickup: index, section, plan, probe }: PictureWish,
  field: FieldAnswer | null = null,
): Pictures {
  const pickup = sheet.pickups[index];
  const question = fieldQuestion(sheet, index);
  if (!pickup || !question) return { section: null, plan: null, probe: null };
  const { build, strings } = question;
  const sources = sourcesOf(chargedBy(build, field));
  const { string } = sheet.listen;
  const surface = stringSurface(build, strings);
  return {
    section: section
      ? sectionPicture(
          sources,
          sectionPlane(build, strings[string - 1]!.y),
          rowCrossing(sheet.instrument, pickup, 0, string),
        )
      : null,
    plan: plan ? planPicture(sources, surface) : null,
    probe: probe && {
      strings: probeReading(sources, probe.x, probe.y, surface(probe.y)),
      height: probeReading(sources, probe.x, probe.y, probe.height),
    },
  };
}
