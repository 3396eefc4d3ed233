/** All designs as one file, and whatever else a file may be. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { beginsDesigns, readDesigns, writeDesigns, type WrittenDesign } from '../../src/sheet/designsFile.ts';
import { wrap } from '../../src/sheet/trials.ts';
import { exampleSheet } from '../fixtures/sheet.ts';

const DATE = '2026-11-27T12:00:00.000Z';
const design = (title: string): string => JSON.stringify({ ...exampleSheet(), title });
const one = (id: string, more: Partial<WrittenDesign> = {}): WrittenDesign => ({
  id,
  name: `name of ${id}`,
  named: true,
  date: DATE,
  design: design(id),
  earlier: [{ date: DATE, design: design(`${id} before`) }],
  ...more,
});
const whole = writeDesigns([one('a'), one('b', { named: false, earlier: [] })], DATE);

describe('a file of designs', () => {
  it('[exact] brings back all of them, with what they were', () => {
    const read = readDesigns(whole);
    if (!read.ok) throw new Error(read.message);
    expect(read.faults).toEqual([]);
    expect(read.designs.map(({ trials: _, ...written }) => written)).toEqual([
      one('a'),
      one('b', { named: false, earlier: [] }),
    ]);
    expect(read.designs[0]!.trials).toEqual(wrap({ ...exampleSheet(), title: 'a' }));
    expect(beginsDesigns(whole.slice(0, 64))).toBe(true);
    expect(beginsDesigns(design('a').slice(0, 64))).toBe(false);
  });

  it('has one that can’t be read as it lies there, and says so when it is taken in: the others come', () => {
    const text = writeDesigns([one('spoilt', { design: '{"format": 1, "tit' }), one('a')], DATE);
    const read = readDesigns(text);
    if (!read.ok) throw new Error(read.message);
    expect(read.designs.map(({ id }) => id)).toEqual(['a']);
    expect(read.faults).toHaveLength(1);
    expect(read.faults[0]).toMatch(/^Design 1 «name of spoilt»: Design must be whole JSON/);
  });

  it.each([
    ['', /must be whole JSON/],
    [whole.slice(0, -30), /must be whole JSON; got a text that breaks off/],
    ['[]', /must say "lodetone": "designs"/],
    ['{"lodetone":"designs","format":1}', /list them under "designs"/],
    [whole.replace('"format": 1', '"format": 2'), /of format 1; got 2\. A newer Lodetone made it/],
    [`{"lodetone":"designs","format":1,"designs":[${'0,'.repeat(5000)}0]}`, /at most 5000 designs; got 5001/],
  ])('%.40s is refused with a sentence', (text, sentence) => {
    const read = readDesigns(text);
    expect(read.ok ? '' : read.message).toMatch(sentence);
  });

  it.each([
    [one('a b'), /Its id must be of 1 to 48 letters/],
    [one('a', { date: 'never' }), /Its date must be one of ISO 8601/],
    [one('a', { design: '{}' }), /must/],
    [one('a', { design: design('a').replace('"sampleRate":48000', '"sampleRate":1') }), /must be/],
  ])('with a fault in its design leaves that one out', (written, sentence) => {
    const read = readDesigns(writeDesigns([written], DATE));
    expect(read.ok && read.designs).toEqual([]);
    expect(read.ok && read.faults[0]).toMatch(sentence);
  });

  it('[exact] however it was spoilt, nothing is thrown, and what comes has passed the check', () => {
    fc.assert(
      fc.property(fc.nat(whole.length), fc.nat(40), fc.string({ maxLength: 6 }), (at, cut, put) => {
        const read = readDesigns(whole.slice(0, at) + put + whole.slice(at + cut));
        if (!read.ok) expect(read.message).toMatch(/must/);
        else
          for (const { id, date, trials, earlier } of read.designs) {
            expect(trials.trials.length).toBeGreaterThan(0);
            expect(id).toMatch(/^[\w-]{1,48}$/);
            for (const state of [{ date }, ...earlier])
              expect(new Date(state.date).toISOString()).toBe(state.date);
          }
      }),
      { seed: 3, numRuns: 300 },
    );
  });
});
