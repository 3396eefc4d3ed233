/** Links of any document, and links as accident and malice make them. */
import { isDeepStrictEqual } from 'node:util';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { checkSheet } from '../../src/sheet/check.ts';
import { checkTrials } from '../../src/sheet/checkTrials.ts';
import { decodeLink, encodeLink } from '../../src/sheet/link.ts';
import { arbitraryTrials } from '../fixtures/arbitrarySheet.ts';
import { mutatedLink } from '../fixtures/mutatedLink.ts';
import { PRESETS } from '../fixtures/presets.ts';
import { soakPlan } from '../soak/tools/plan.ts';

const { count, seed } = soakPlan('link', 400, 100_000, 20);

/** Far above what one link takes, far below what a person would call hanging; ms. */
const LONGEST_DECODING = 5000;

const sentence = /^(Link|Sheet|Pickup|String|Controls|Chord|[A-Z]).+ must .+\.$/;

const presets = PRESETS.map(({ name, data }) => {
  const checked = checkSheet(data);
  if (!checked.ok) throw new Error(`${name}: ${checked.message}`);
  return checked.sheet;
});

/** Two trials with builds, small enough to be spoilt often in every part. */
const SOME_TRIALS = fc
  .sample(arbitraryTrials, { seed, numRuns: 40 })
  .filter((t) => t.trials.length === 2)
  .slice(0, 4);

it(`[exact] ${count} generated documents`, async () => {
  await fc.assert(
    fc.asyncProperty(arbitraryTrials, async (trials) => {
      const opened = await decodeLink(await encodeLink(trials));
      // The quick comparison first, the one that explains itself only when they differ.
      if (!isDeepStrictEqual(opened, { ok: true, trials }))
        expect(opened).toStrictEqual({ ok: true, trials });
    }),
    { seed, numRuns: count },
  );
});

it(`${count} mutated links: a sentence or a sound sheet, at once`, async () => {
  const counts = { sheets: 0, sentences: 0 };
  await fc.assert(
    fc.asyncProperty(mutatedLink([...presets, ...SOME_TRIALS]), async (link) => {
      const started = performance.now();
      const decoded = await decodeLink(link);
      expect(performance.now() - started).toBeLessThan(LONGEST_DECODING);
      if (decoded.ok) {
        counts.sheets++;
        if (!isDeepStrictEqual(checkTrials(decoded.trials), decoded))
          expect(checkTrials(decoded.trials)).toStrictEqual(decoded);
      } else {
        counts.sentences++;
        expect(decoded.message).toMatch(sentence);
      }
    }),
    { seed, numRuns: count },
  );
  // Both ways must have been gone often, or the test says little.
  expect(counts.sheets).toBeGreaterThan(count / 100);
  expect(counts.sentences).toBeGreaterThan(count / 2);
  expect(({} as Record<string, unknown>)['polluted']).toBeUndefined();
});
