/** What is said of the view of the field in space, and of the field in it. */
import type { SpaceTurn } from '../../plot/space/view.ts';

const DEGREE = Math.PI / 180;

export const degrees = (angle: number): number => Math.round(angle / DEGREE);

/** Views that a draughtsman names, rad. */
export const NAMED_VIEWS: readonly { readonly name: string; readonly turn: SpaceTurn }[] = [
  { name: 'aslant', turn: { azimuth: 35 * DEGREE, elevation: 25 * DEGREE } },
  { name: 'as the section', turn: { azimuth: 0, elevation: 0 } },
  { name: 'along the strings', turn: { azimuth: 90 * DEGREE, elevation: 0 } },
  { name: 'from above', turn: { azimuth: 0, elevation: 90 * DEGREE } },
];

/** In the order of the azimuth, eighths of a turn from the treble side on. */
const SIDES = [
  'the treble side',
  'the treble side and the nut',
  'the nut',
  'the bass side and the nut',
  'the bass side',
  'the bass side and the saddle',
  'the saddle',
  'the treble side and the saddle',
];

/** «from the treble side and the nut, 25° above». */
export function viewWords({ azimuth, elevation }: SpaceTurn): string {
  const up = degrees(elevation);
  if (Math.abs(up) > 80) return up > 0 ? 'from straight above' : 'from straight below';
  const eighth = Math.round(azimuth / (45 * DEGREE));
  const side = SIDES[((eighth % 8) + 8) % 8]!;
  return `from ${side}, ${up === 0 ? 'level' : `${Math.abs(up)}° ${up > 0 ? 'above' : 'below'}`}`;
}

/** «0.5 µWb». */
export const shareWords = (share: number): string => `${Number((share * 1e6).toPrecision(2))} µWb`;
