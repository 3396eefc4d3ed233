import type { WrapMetal } from './sheet.ts';

/** What strings may be wound of, in the order in which it is offered. */
export const WRAP_METALS: readonly WrapMetal[] = [
  'nickel-plated steel',
  'nickel',
  'ferritic stainless steel',
  'austenitic stainless steel',
  'bronze',
];
