import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { AS_BEFORE } from '../../src/jobs/protocol.ts';
import { restore, spare } from '../../src/jobs/sparing.ts';
import type { FieldAnswer, Fields } from '../../src/physics/heard/fieldAnswer.ts';

const ANSWERS = [1, 2, 3].map((start) => ({ start }) as FieldAnswer);

describe('fields on their way to a worker', () => {
  it('[exact] arrive as they were sent, whatever was sent before', () => {
    const field = fc.constantFrom(null, ...ANSWERS);
    const fields = fc.array(field, { maxLength: 3 });
    fc.assert(
      fc.property(fc.array(fields, { maxLength: 8 }), (requests) => {
        let last: Fields | null = null;
        let has: Fields | null = null;
        for (const request of requests) {
          const got = restore(spare(request, last), has);
          expect(got).toEqual(request);
          [last, has] = [request, got];
        }
      }),
    );
  });

  it('[exact] are left out only where the same one went under the same number the last time', () => {
    const [a, b] = ANSWERS as [FieldAnswer, FieldAnswer];
    expect(spare([a, b, null], [a, a, null])).toEqual([AS_BEFORE, b, null]);
    expect(spare([{ ...a }], [a])).toEqual([a]);
    expect(spare([a], null)).toEqual([a]);
  });

  it('a field that never came is said', () => {
    expect(() => restore([null, AS_BEFORE], [null])).toThrow(
      'The field of pickup 2 must have come before; it has not. Reload the page.',
    );
  });
});
