/** How loud a sheet's phrase is: for matching trials by ear and for saying by how much they differ. */
import type { HeardSheet as Sheet } from '../../heard/resolved.ts';
import { MATCHED_LOUDNESS, VOLT_GAIN } from '../level.ts';
import { liveGain } from './setup.ts';

/** What it takes to match a phrase, and how loud it is unmatched. */
export interface PhraseLevel {
  /** Digital amplitude for one volt at which the phrase has the matched loudness; the plain gain where there is none. */
  readonly gain: number;
  /** As it is, LUFS (ITU-R BS.1770); null below its gate, where nothing is heard. Two sheets differ by so many dB. */
  readonly loudness: number | null;
}

/** LUFS; the absolute gate of ITU-R BS.1770: what is quieter does not count as programme. A pot turned down leaves as little. */
const GATE = -70;

/** The phrase of a sheet on which nothing is left open, whatever its own level says. */
export function phraseLevel(sheet: Sheet): PhraseLevel {
  const gain = liveGain({ ...sheet, listen: { ...sheet.listen, level: 'matched' } });
  const loudness = MATCHED_LOUDNESS - 20 * Math.log10(gain / VOLT_GAIN);
  // Nothing at all can't be matched and comes back with the plain gain; no phrase has just that to the last digit.
  if (loudness < GATE || gain === VOLT_GAIN) return { gain: VOLT_GAIN, loudness: null };
  return { gain, loudness };
}
