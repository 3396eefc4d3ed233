/** The flux lines around a sheet's pickup in space: the door to picture/space.ts. */
import type { Sheet } from '../sheet/sheet.ts';
import { chargedBy } from './charged.ts';
import { fieldQuestion } from './fieldQuestion.ts';
import type { FieldAnswer } from './heard/fieldAnswer.ts';
import { sectionPlane } from './picture/section.ts';
import { sourcesOf } from './picture/sources.ts';
import { spacePicture } from './picture/space.ts';
import type { SpacePicture, SpaceWish } from './picture/spaceTypes.ts';

/**
 * @param sheet checked; the section lies under its chosen string
 * @param field of that pickup; null has its charges solved here
 * @returns null for a pickup without a build
 * @throws BuildError naming every fault of the build, or RangeError when a magnet has no working point
 */
export function space(
  sheet: Sheet,
  { pickup }: SpaceWish,
  field: FieldAnswer | null = null,
): SpacePicture | null {
  const question = fieldQuestion(sheet, pickup);
  if (!question) return null;
  const { build, strings } = question;
  return spacePicture(
    sourcesOf(chargedBy(build, field)),
    sectionPlane(build, strings[sheet.listen.string - 1]!.y),
  );
}
