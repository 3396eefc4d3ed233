/** What is said of a change has the room that it has on the page: as much as fits, the largest first. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { effectsOf, type WhyAnswer, type WhyFigures } from '../../src/state/whyEffects.ts';
import { MOST_LETTERS, whyWords } from '../../src/state/whyWords.ts';

const FIGURES: WhyFigures = {
  ...{ level: -7.2, resonance: 11_200, height: 2.3, pull: -3.49, reach: 0.0172 },
  ...{ fieldWidth: 0.0092, tipWidth: 0.006, field: 0.0281, inductance: 2.5, coreLoss: 1.3e6 },
};
/** Each cause takes most of one figure away; what a bevel does to the widths goes opposite ways. */
const LONGEST: WhyAnswer = {
  ...{ pickup: 0, string: 2 },
  before: FIGURES,
  after: {
    ...{ level: -10.4, resonance: 10_810, height: 5.5, pull: -11.24, reach: 0.0196 },
    ...{ fieldWidth: 0.0099, tipWidth: 0.0052, field: 0.0167, inductance: 3.1, coreLoss: 0.9e6 },
  },
  causes: [
    { words: 'magnet alnico 5 → alnico 2 and magnetisation 100 → 65 %', without: { level: -8.4 } },
    { words: 'gap 4.20 → 5.30 mm and 2.60 → 3.70 mm', without: { pull: -8 } },
    { words: 'volume pot 250 → 500 kΩ', without: { height: 3.9 } },
    { words: 'typed inductance 2.50 → 3.10 H', without: { resonance: 11_000 } },
    { words: 'tip flat → chamfered and tip 0.00 → 1.20 mm', without: { reach: 0.0179 } },
  ].map(({ words, without }) => ({
    words,
    without: {
      ...{ level: -10.4, resonance: 10_810, height: 5.5, pull: -11.24, reach: 0.0196 },
      ...{ fieldWidth: 0.0099, tipWidth: 0.0052, field: 0.0281, inductance: 2.5, coreLoss: 1.3e6 },
      ...without,
    },
  })),
};

describe('what is said of a change', () => {
  it('is never longer than its room [exact]', () => {
    const figure = (least: number, most: number) => fc.double({ min: least, max: most, noNaN: true });
    const figures = fc.record({
      level: figure(-60, 20),
      resonance: figure(500, 20_000),
      height: figure(-5, 20),
      pull: figure(-80, 20),
      reach: figure(2e-3, 0.06),
      fieldWidth: figure(2e-3, 0.06),
      tipWidth: figure(2e-3, 0.06),
      field: figure(1e-4, 0.2),
      inductance: figure(0.1, 20),
      coreLoss: figure(1e4, 1e7),
    });
    // As long as what a group of two figures is called.
    const cause = fc.record({ words: fc.string({ minLength: 5, maxLength: 70 }), without: figures });
    fc.assert(
      fc.property(
        fc.record({
          pickup: fc.constant(0),
          string: fc.constant(2),
          before: figures,
          after: figures,
          causes: fc.array(cause, { minLength: 1, maxLength: 12 }),
        }),
        fc.string({ maxLength: 24 }),
        (answer, of) => {
          expect(whyWords(answer, of).length).toBeLessThanOrEqual(MOST_LETTERS);
        },
      ),
      { seed: 1, numRuns: 400 },
    );
    expect(whyWords(LONGEST, 'neck').length).toBeLessThanOrEqual(MOST_LETTERS);
  });

  it('begins with the largest, and says where field and reach go opposite ways however much there is to say [exact]', () => {
    const words = whyWords(LONGEST, 'neck');
    const [largest] = effectsOf(LONGEST);
    expect(largest!.name).toBe('pull');
    expect(words).toMatch(/^Neck: gap 4\.20 → 5\.30 mm.*: pull −3\.5 → −11\.2 cents/);
    expect(words).toMatch(/[Ff]ield over the tip (grows )?tighter.*reach wider/);
    expect(words).toMatch(/\.$/);
  });

  it('of many causes of which none does it by itself names three, and how many more there are [exact]', () => {
    const same = LONGEST.causes.map(({ words }) => ({ words, without: LONGEST.after }));
    expect(whyWords({ ...LONGEST, causes: same })).toMatch(
      /^Magnet .*, gap .*, volume pot .* and 2 more together: /,
    );
  });
});
