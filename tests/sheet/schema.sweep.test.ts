/**
 * The published schema against a general validator (ajv, JSON Schema draft 2020-12): what the check lets through it lets
 * through, and what the check refuses it refuses, but for the rules that no schema of one field at a time can say (BEYOND).
 */
import { Ajv2020 } from 'ajv/dist/2020.js';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { checkTrials } from '../../src/sheet/checkTrials.ts';
import { designSchema, type Schema } from '../../src/sheet/schema.ts';
import { arbitraryTrials } from '../fixtures/arbitrarySheet.ts';
import { fullestSheet, fullestTrials } from '../fixtures/fullestSheet.ts';
import { mutatedData, type Json } from '../fixtures/mutatedLink.ts';
import { PRESETS } from '../fixtures/presets.ts';
import { soakPlan } from '../soak/tools/plan.ts';

const schema = designSchema();
// Unknown words in it are mistakes; null beside another type is none.
const validate = new Ajv2020({ strict: true, allowUnionTypes: true }).compile(schema);
const why = (): string => JSON.stringify(validate.errors?.slice(0, 3));

/** The check's sentences for what holds several fields together; the schema's own description names them. */
const BEYOND: readonly RegExp[] = [
  /core must be (no thicker than the string|as thick as a plain string)/i,
  // One entry a string, or a set of controls a pickup: a list of a length that a schema lets through.
  /(strings of the chord|pole heights .*|control sets .*) must be \d in number; got [1-8]\./i,
  /string must be one of [\d, ]+; got [1-8]\./i,
  /(open|first|second) trial must be one of [\d, ]+; got [0-5]\./i,
  /fret must be at most \d+, the last on this neck/i,
  /every row must be between saddle and nut/i,
  /pluck place must be on the string/i,
  /outer radius of the coil must be more than the inner/i,
  /bottom of the coil must be below its top/i,
  /must (let|have) at least one/i,
  /build must have as many rows as the pickup, \d; got [12]\./i,
  /reach must be set by hand where there is no build/i,
  /its trials must be two/i,
  /right rounds must be at most all/i,
  /date must be a day as YYYY-MM-DD; got "\d{4}-\d{2}-\d{2}"/i,
  /instrument and way of listening must be those of trial A/i,
];

it.each([...PRESETS, { name: 'the fullest', data: fullestTrials }])('lets $name through', ({ data }) => {
  expect(validate(data), why()).toBe(true);
});

it('[exact] lets through what an older sheet leaves out, and fields that nobody knows', () => {
  const { build: _, reachBy: __, ...pickup } = fullestSheet.pickups[0]!;
  const { radius: ___, ...instrument } = fullestSheet.instrument;
  const { line: ____, tempo: _____, through: ______, ...listen } = fullestSheet.listen;
  const older = { ...fullestSheet, pickups: [pickup], instrument, listen, colour: 'red' };
  older.harness = { ...older.harness, controls: older.harness.controls.slice(0, 1) };
  expect(checkTrials(older).ok).toBe(true);
  expect(validate(older), why()).toBe(true);
});

it('says a type, a list of values or a reference of every field, and null alone of none with a build', () => {
  const bare: string[] = [];
  const visit = (at: Schema, path: string): void => {
    if (!at['type'] && !at['enum'] && !at['$ref']) bare.push(path);
    if (at['type'] === 'null') bare.push(path);
    for (const [name, inner] of Object.entries((at['properties'] ?? {}) as Record<string, Schema>))
      visit(inner, `${path}.${name}`);
    if (at['items']) visit(at['items'] as Schema, `${path}[]`);
  };
  const { design, sheet, pickupWithBuild, pickupByHand } = schema['$defs'] as Record<string, Schema>;
  Object.entries({ design, sheet, pickupWithBuild, pickupByHand }).forEach(([name, at]) => visit(at!, name));
  expect(bare).toStrictEqual(['pickupByHand.build']);
});

it('[exact] lets through every generated document', () => {
  const { count, seed } = soakPlan('schema', 200, 10_000, 71);
  fc.assert(
    fc.property(arbitraryTrials, (trials) => {
      const plain = trials.trials.length === 1 && trials.blind.length === 0;
      expect(validate(JSON.parse(JSON.stringify(plain ? trials.trials[0] : trials))), why()).toBe(true);
    }),
    { seed, numRuns: count },
  );
});

it('[exact] refuses and lets through as the check does, but for rules beyond one field', () => {
  const { count, seed } = soakPlan('schema', 300, 10_000, 72);
  const from = [...PRESETS.map(({ data }) => data as object), fullestSheet, fullestTrials];
  const tally = { refused: 0, beyond: 0, through: 0 };
  // Of what is mutated most passes: so many are refused.
  const source = fc.oneof(fc.constantFrom(...from), arbitraryTrials);
  const wrong: Json[] = [];
  for (let round = 0; tally.refused < count; round++)
    for (const data of fc.sample(mutatedData(source), { seed: seed + round, numRuns: 200 })) {
      const plain = JSON.parse(JSON.stringify(data)) as Json;
      const checked = checkTrials(plain);
      const valid = validate(plain);
      if (checked.ok) {
        tally.through++;
        if (!valid) wrong.push(`refused what passes: ${why()}`);
      } else if (BEYOND.some((sentence) => sentence.test(checked.message))) tally.beyond++;
      else {
        tally.refused++;
        if (valid) wrong.push(`let through: ${checked.message}`);
      }
    }
  console.log(`schema: ${JSON.stringify(tally)}`);
  expect(wrong.slice(0, 5)).toStrictEqual([]);
  expect(tally.through).toBeGreaterThan(count / 20);
});
