/** What a gauss probe shows, in figures and words. */

interface Field {
  readonly bx: number;
  readonly by: number;
  readonly bz: number;
}

/** |B|, T. */
export const strength = ({ bx, by, bz }: Field): number => Math.hypot(bx, by, bz);

/** Three digits, as gauss meters show them. */
export const millitesla = (tesla: number): string => digits(1e3 * tesla);
export const gauss = (tesla: number): string => digits(1e4 * tesla);

function digits(value: number): string {
  if (value === 0) return '0';
  const shown = Number(value.toPrecision(3));
  const decimals = Math.max(0, 2 - Math.floor(Math.log10(Math.abs(shown))));
  return shown.toFixed(Math.min(3, decimals)).replace('-', '−');
}

/** The upright part, mT, with the pole that faces up: «N 41.0». */
export const upward = ({ bz }: Field): string => `${bz < 0 ? 'S' : 'N'} ${millitesla(Math.abs(bz))}`;

export const say = (b: Field): string =>
  `${millitesla(strength(b))} millitesla, ${gauss(strength(b))} gauss at the strings`;
