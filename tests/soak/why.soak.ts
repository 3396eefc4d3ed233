/**
 * Random pairs of versions of a pickup: what is said to have caused most of a change is what takes most of it away when the
 * same changes are made without it and all is predicted anew.
 */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { whyOf } from '../../src/jobs/why.ts';
import { whyAsked } from '../../src/jobs/whyAsked.ts';
import { FieldSolver } from '../../src/physics/field.ts';
import { predict } from '../../src/physics/predict.ts';
import type { Prediction } from '../../src/physics/prediction.ts';
import { checkSheet } from '../../src/sheet/check.ts';
import type { PickupBuild, RowBuild, Sheet } from '../../src/sheet/sheet.ts';
import { effectsOf, type EffectName } from '../../src/state/whyEffects.ts';
import { builtSheet } from '../fixtures/builtSheet.ts';
import { soakPlan } from './tools/plan.ts';

const { count, seed } = soakPlan('why', 6, 200);
const STRING = 2;
/** Answers once what the two ways of coming to a sheet ask alike. */
const solver = new FieldSolver();
const predicted = (sheet: Sheet): Prediction => predict(sheet, solver.fields(sheet));

/** A change that a maker makes as one thing, as it is begun in the sentence. */
interface Edit {
  readonly words: RegExp;
  readonly make: (sheet: Sheet, share: number) => Sheet;
}

const built = (sheet: Sheet, change: (build: PickupBuild) => PickupBuild): Sheet => ({
  ...sheet,
  pickups: sheet.pickups.map((p, i) => (i === 0 && p.build ? { ...p, build: change(p.build) } : p)),
});
const rowed = (sheet: Sheet, change: (row: RowBuild) => RowBuild): Sheet =>
  built(sheet, (build) => ({ ...build, rows: build.rows.map(change) }));
const between = (least: number, most: number, share: number): number => least + (most - least) * share;

const EDITS: readonly Edit[] = [
  {
    words: /^gap /,
    make: (sheet, share) =>
      built(sheet, (build) => ({ ...build, gapTreble: between(1.5e-3, 5e-3, share), gapBass: 3.1e-3 })),
  },
  {
    words: /^(magnet|magnetisation) /,
    make: (sheet, share) =>
      rowed(sheet, (row) => {
        const magnet = { grade: 'alnico 2' as const, charge: between(0.4, 1, share) };
        return { ...row, pole: { ...row.pole, magnet } };
      }),
  },
  {
    words: /^turns /,
    make: (sheet, share) =>
      rowed(sheet, (row) => ({ ...row, turns: Math.round(between(4000, 7900, share)) })),
  },
  {
    words: /^pole length /,
    make: (sheet, share) =>
      rowed(sheet, (row) => ({ ...row, pole: { ...row.pole, length: between(0.014, 0.02, share) } })),
  },
  {
    words: /^tip/,
    make: (sheet, share) =>
      rowed(sheet, (row) => ({
        ...row,
        pole: { ...row.pole, tip: { shape: 'chamfered', size: between(0.3e-3, 1.5e-3, share) } },
      })),
  },
  {
    words: /^place /,
    make: (sheet, share) => ({
      ...sheet,
      pickups: sheet.pickups.map((p, i) => (i === 0 ? { ...p, place: between(0.05, 0.16, share) } : p)),
    }),
  },
  {
    words: /^cable /,
    make: ({ harness, ...sheet }, share) => ({
      ...sheet,
      harness: { ...harness, cable: { ...harness.cable, length: between(0.5, 9, share) } },
    }),
  },
  {
    words: /^volume pot /,
    make: ({ harness, ...sheet }, share) => ({
      ...sheet,
      harness: {
        ...harness,
        controls: harness.controls.map((set) => ({
          ...set,
          volume: { ...set.volume, resistance: between(100e3, 1e6, share) },
        })),
      },
    }),
  },
];

/** The same figures, read off a prediction by hand. */
function read(prediction: Prediction, sheet: Sheet): Record<EffectName, number | undefined> {
  const voice = prediction.voices[sheet.pickups[0]!.sounds ? prediction.sounding : 0]!;
  const over = prediction.pickups[0]!.strings[STRING]!;
  return {
    level: voice.partials[0]!.responseDb,
    resonance: Math.log2(voice.features.resonance?.frequency ?? NaN),
    height: voice.features.resonance?.heightDb,
    pull: over.field!.centsTowards,
    reach: over.widths[0],
  };
}

const base = ((): Sheet => {
  const sheet = builtSheet('six rods');
  const only = sheet.pickups[0]!;
  return {
    ...sheet,
    pickups: [{ ...only, sounds: true }],
    harness: { ...sheet.harness, wiring: 'shared', controls: sheet.harness.controls.slice(0, 1) },
    listen: { ...sheet.listen, string: STRING + 1, fret: 0 },
  };
})();

const apply = (edits: readonly number[], shares: readonly number[], but = -1): Sheet =>
  edits.reduce((sheet, edit) => (edit === but ? sheet : EDITS[edit]!.make(sheet, shares[edit]!)), base);

it(`of ${count} random pairs, the largest cause by prediction [exact]`, () => {
  let named = 0;
  let several = 0;
  fc.assert(
    fc.property(
      fc.uniqueArray(fc.nat(EDITS.length - 1), { minLength: 1, maxLength: 4 }),
      fc.array(
        fc.integer({ min: 0, max: 1000 }).map((n) => n / 1000),
        { minLength: EDITS.length, maxLength: EDITS.length },
      ),
      (edits, shares) => {
        const after = apply(edits, shares);
        expect(checkSheet(after)).toMatchObject({ ok: true });
        const answer = whyOf(
          after,
          { ...whyAsked(after, base), beforeFields: null, pickup: 0, string: STRING },
          null,
          solver,
        );
        expect(answer.causes).toHaveLength(edits.length);
        const [then, now] = [read(predicted(base), base), read(predicted(after), after)];
        const without = edits.map((edit) => {
          const sheet = apply(edits, shares, edit);
          return read(predicted(sheet), sheet);
        });
        for (const { name, cause, share } of effectsOf(answer)) {
          const change = now[name]! - then[name]!;
          // Without the cable there may be no resonance to compare.
          const taken = without.map((one) => (now[name]! - one[name]!) / change || 0);
          const most = Math.max(...taken);
          if (cause === null) expect(most).toBeLessThan(1e-6);
          else {
            const edit = edits.findIndex((one) => EDITS[one]!.words.test(answer.causes[cause]!.words));
            expect(edit).toBeGreaterThanOrEqual(0);
            expect(taken[edit]).toBeCloseTo(most, 6);
            expect(share).toBeCloseTo(Math.min(1, most), 6);
            named++;
            if (edits.length > 1) several++;
          }
        }
      },
    ),
    { seed, numRuns: count, endOnFailure: true },
  );
  expect(several).toBeGreaterThan(count);
  console.log(`${named} causes named, ${several} of them among others`);
}, 600_000);
