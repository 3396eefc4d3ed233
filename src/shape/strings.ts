/** How many strings an instrument may have. */
export const FEWEST_STRINGS = 4;
export const MOST_STRINGS = 8;
