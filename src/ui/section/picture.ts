/** Which picture of the field lies behind the section. */
export type PictureName = 'filings' | 'flux lines' | 'both' | 'no field';

export const PICTURES: Readonly<
  Record<PictureName, { readonly words: string; readonly filings: boolean; readonly lines: boolean }>
> = {
  filings: { words: 'filings lie along B', filings: true, lines: false },
  'flux lines': { words: 'flux lines', filings: false, lines: true },
  both: { words: 'filings lie along B, flux lines', filings: true, lines: true },
  'no field': { words: '', filings: false, lines: false },
};
