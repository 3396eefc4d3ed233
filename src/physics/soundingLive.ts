/** What plays a sheet, and how loud it is: with `predict.ts` the door to the physics, loaded when something is to sound. */
import type { Sheet } from '../sheet/sheet.ts';
import { fieldsOf, type Fields } from './field.ts';
import { resolve } from './heard/resolve.ts';
import { phraseLevel as phraseLevelOf, type PhraseLevel } from './sound/live/phraseLevel.ts';
import { liveSetup as liveSetupOf } from './sound/live/setup.ts';
import type { LiveSetup } from './sound/live/types.ts';

/**
 * As the namesake in sound/live/setup.ts.
 * @param sampleRate Hz; @param gain digital amplitude for one volt, 1/V; null takes the level of the sheet
 */
export const liveSetup = (
  sheet: Sheet,
  sampleRate: number,
  gain: number | null = null,
  fields: Fields = fieldsOf(sheet),
): LiveSetup => liveSetupOf(resolve(sheet, fields), sampleRate, gain);

/** As the namesake in sound/live/phraseLevel.ts. */
export const phraseLevel = (sheet: Sheet, fields: Fields = fieldsOf(sheet)): PhraseLevel =>
  phraseLevelOf(resolve(sheet, fields));
