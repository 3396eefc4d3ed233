/** What was found to be just heard, for the page: a few closed formulas that need no worker. */
export { heardWord, justHeard, LISTENED_AT, type JustHeard } from '../physics/hearing/justHeard.ts';
