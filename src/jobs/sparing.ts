/**
 * Fields are the bulk of a request and the same in most of them: to copy them to a worker and read them there takes about
 * as long as what a drag then has it compute. A worker is sent only those that it doesn't have.
 */
import type { Fields } from '../physics/heard/fieldAnswer.ts';
import { AS_BEFORE, type Sent } from './protocol.ts';

/** @param last what the worker has of before; null when it is a fresh one */
export const spare = (fields: Fields, last: Fields | null): Sent =>
  fields.map((field, i) => (field && field === last?.[i] ? AS_BEFORE : field));

/**
 * The worker's side of it.
 * @throws RangeError when something was left out that is not there
 */
export const restore = (sent: Sent, last: Fields | null): Fields =>
  sent.map((field, i) => {
    if (field !== AS_BEFORE) return field;
    const known = last?.[i];
    if (!known) {
      throw new RangeError(
        `The field of pickup ${i + 1} must have come before; it has not. Reload the page.`,
      );
    }
    return known;
  });
