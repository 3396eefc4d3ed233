/** What many makes come to, for the page: sorting and counting that need no worker. */
export {
  gathered,
  lessThanOwn,
  nineInTen,
  quantile,
  USUAL_MAKES,
  USUAL_SEED,
  type Band,
  type SpreadFigures,
} from '../physics/spreadFigures.ts';
