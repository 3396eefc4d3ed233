/** A part that is taken out of a pickup, by its number among those of its kind, from 0; or all of a kind. Steel here is not that of poles. */
export type TakenOut =
  | { readonly kind: 'row' | 'bar' | 'steel'; readonly index: number }
  | { readonly kind: 'bars' | 'pieces' };
