/** What the view across the strings has no room for. */
import { blockWords } from '../../sheet/buildWords.ts';
import type { Block, PickupBuild } from '../../sheet/sheet.ts';
import type { AcrossView } from './view.ts';

/** Bars and steel that lie below the break, in words. @param offsets of the rows' centres, m */
export function blocksBelow(
  build: PickupBuild,
  offsets: readonly number[],
  { cut }: Pick<AcrossView, 'cut'>,
): readonly string[] {
  const deep = ({ top }: Block): boolean => top <= cut;
  return blockWords({ ...build, bars: build.bars.filter(deep), steel: build.steel.filter(deep) }, offsets);
}
