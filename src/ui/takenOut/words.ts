/** What a part does to the field, and where the flux goes, in a maker's words. */
import type { TakenOutFigures } from '../../state/takenOut.svelte.ts';

/** «+26.0 %», «−3.1 %», «0.0 %»; more than a thousand per cent as «+13 times». */
function percent(share: number): string {
  if (share >= 10) return `+${Math.round(share)} times`;
  const text = Math.abs(100 * share).toFixed(1);
  return Number(text) === 0 ? `${text} %` : `${share < 0 ? '−' : '+'}${text} %`;
}

function milliteslas(by: number): string {
  const text = Math.abs(1e3 * by).toFixed(2);
  return Number(text) === 0 ? text : `${by < 0 ? '−' : '+'}${text}`;
}

/** Share and mT of one row; without the part nothing may be left. */
export function shareWords({ field, without, share }: TakenOutFigures['rows'][number]): {
  readonly share: string;
  readonly by: string;
} {
  return { share: share === null ? 'all of it' : percent(share), by: milliteslas(field - without) };
}

/** «62 % of the magnets’ flux goes up through the plane of the tops (81.3 µWb of 131); 38 % leaks back below». */
export function fluxWords({ up, own }: NonNullable<TakenOutFigures['flux']>): string {
  if (!(own > 0)) return 'there is no magnet in it';
  const share = Math.round((100 * up) / own);
  const micro = (flux: number): string => (1e6 * flux).toPrecision(3);
  return `${share} % of the magnets’ flux goes up through the plane of the tops (${micro(up)} of ${micro(own)} µWb); ${100 - share} % leaks back below it`;
}
