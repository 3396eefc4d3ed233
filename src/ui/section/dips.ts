/** Where the computed reach dips over a pole, and where that is written. Pure. */
import { dipAbout } from '../../plot/dip.ts';
import type { Voice } from '../../state/types.ts';
import type { SectionView } from './view.ts';

/** px. */
export interface DipView {
  readonly x: number;
  /** Of the top of the word. */
  readonly y: number;
}

/** A row's humps lie no further from its pole than this, m. */
const FARTHEST = 0.012;
/** Height of the word's line, px. */
const LINE = 24;

/** Of a reach that is computed; one by hand never dips. @param centres of the rows on the string, m */
export function dipViews(
  { x, value }: Voice['reach'],
  centres: readonly number[],
  view: Pick<SectionView, 'x' | 'string' | 'bellHeight' | 'reference'>,
): readonly DipView[] {
  const apart = centres.length > 1 ? Math.abs(centres[0]! - centres[1]!) / 2 : FARTHEST;
  return centres.flatMap((centre) => {
    const dip = dipAbout(x, value, centre, Math.min(FARTHEST, apart));
    if (!dip) return [];
    // Half way up the valley, where it is wide enough for the word; a shallow one has it above.
    const up = (size: number): number => view.string - (size / view.reference) * view.bellHeight;
    const [bottom, brim] = [up(dip.value), up(dip.value / (1 - dip.depth || 1))];
    return [{ x: view.x.to(dip.x), y: Math.min((bottom + brim) / 2, bottom - LINE / 2 - 2) - LINE / 2 }];
  });
}
