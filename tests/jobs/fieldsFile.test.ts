import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { packFields, unpackFields } from '../../src/jobs/fieldsFile.ts';
import type { Fields } from '../../src/physics/heard/fieldAnswer.ts';
import { computedPreset } from '../fixtures/presetFields.ts';

describe('fields as a file', () => {
  it.each(['01-skerry-three-single-coils.json', '14-holm-nickel-silver-covers.json'])(
    '[exact] %s comes out to the bit as it went in',
    (name) => {
      const { fields } = computedPreset(name);
      expect(unpackFields(packFields(fields).buffer)).toEqual(fields);
    },
  );

  const any = fc.array(
    fc.option(
      fc.record({
        start: fc.double({ noNaN: true, noDefaultInfinity: true }),
        strings: fc.array(fc.float64Array(), { maxLength: 4 }),
      }),
    ),
    { maxLength: 4 },
  );

  it('[exact] arrays of any figures at all do, NaN and none too', () => {
    fc.assert(
      fc.property(any, (made) => {
        // Single figures are finite, as those of every answer; and JSON has one nought.
        const fields = made.map((one) => one && { ...one, start: one.start + 0 });
        expect(unpackFields(packFields(fields as unknown as Fields).buffer)).toEqual(fields);
      }),
    );
  });

  it('one that is not whole is refused', () => {
    const whole = packFields([{ start: 1, step: new Float64Array(3) }] as unknown as Fields);
    for (let length = 0; length < whole.length; length++)
      expect(() => unpackFields(whole.slice(0, length).buffer), `${length} bytes`).toThrow();
  });
});
