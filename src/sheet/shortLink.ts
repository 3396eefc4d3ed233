/** A link half as long, for a code on paper: layout 2 of link.ts. */
import { deflate } from './deflate.ts';
import { fragmentOf, jsonOf, SHORT } from './link.ts';
import { shortened } from './linkWords.ts';
import type { Trials } from './trials.ts';

/** The fragment without its '#'. */
export const encodeShortLink = async (trials: Trials): Promise<string> =>
  fragmentOf(await deflate(shortened(jsonOf(trials))), SHORT);
