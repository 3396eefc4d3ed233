/** What is dropped on the page, before anything is made of it. */
import { expect, it } from 'vitest';
import { LARGEST_DESIGN, writeDesign } from '../../src/sheet/designFile.ts';
import { writeDesigns } from '../../src/sheet/designsFile.ts';
import { wrap } from '../../src/sheet/trials.ts';
import { take } from '../../src/state/dropped.ts';
import { exampleSheet } from '../fixtures/sheet.ts';

const trials = wrap(exampleSheet());
const design = writeDesign(trials);
const nothing = { files: [], folder: false, text: '' };

it('[exact] a design, by file or as text, is one', async () => {
  const file = new File([design], 'bench.json');
  expect(await take({ ...nothing, files: [file] })).toStrictEqual({
    kind: 'design',
    trials,
    name: 'bench.json',
  });
  expect(await take({ ...nothing, text: design })).toMatchObject({ kind: 'design', trials });
});

it('a file of all designs is one, however large; a cut or empty one is refused', async () => {
  const date = '2026-11-27T12:00:00.000Z';
  const many = Array.from({ length: 300 }, (_, i) => ({
    id: `d${i}`,
    name: 'name',
    named: true,
    date,
    design,
    earlier: [],
  }));
  const text = writeDesigns(many, date);
  expect(text.length).toBeGreaterThan(LARGEST_DESIGN);
  const taken = await take({ ...nothing, files: [new File([text], 'all.json')] });
  expect(taken.kind === 'designs' && taken.designs).toHaveLength(300);
  expect(await take({ ...nothing, text })).toMatchObject({ kind: 'designs' });
  for (const [spoilt, sentence] of [
    [text.slice(0, -9), /must be whole JSON; got a text that breaks off/],
    [writeDesigns([], date), /must hold one at least; got none/],
    [writeDesigns([{ ...many[0]!, id: '' }], date), /Its id must be of/],
  ] as const) {
    const refused = await take({ ...nothing, files: [new File([spoilt], 'all.json')] });
    expect(refused.kind === 'refused' && refused.message).toMatch(sentence);
  }
});

it('a link is one by its fragment, a recording by how it begins, whatever its name and size', async () => {
  expect(await take({ ...nothing, text: ' https://example.org/a#xyz\n' })).toStrictEqual({
    kind: 'link',
    fragment: 'xyz',
  });
  const file = new File(['RIFF\x24\0\0\0WAVEfmt ', new Uint8Array(2 * LARGEST_DESIGN)], 'a.json');
  expect(await take({ ...nothing, files: [file] })).toStrictEqual({ kind: 'recording', file });
});

it('a folder, several files, a file that is gone and one that is too large are refused without being read', async () => {
  const said = async (dropped: Parameters<typeof take>[0]): Promise<string> => {
    const taken = await take(dropped);
    return taken.kind === 'refused' ? taken.message : taken.kind;
  };
  const file = new File([design], 'bench.json');
  expect(await said({ ...nothing, files: [file], folder: true })).toMatch(/got a folder: open it/);
  expect(await said({ ...nothing, files: [file, file] })).toMatch(/got 2 files/);
  const gone = {
    size: 3,
    slice: () => ({ arrayBuffer: () => Promise.reject(new Error('gone')) }),
  } as unknown as File;
  expect(await said({ ...nothing, files: [gone] })).toMatch(
    /could not be read\. Check that it is still there/,
  );
  const large = {
    size: 200e6,
    slice: (from: number, to: number) => new Blob([' '.repeat(to - from)]),
    arrayBuffer: () => Promise.reject(new Error('It must not be read.')),
  } as unknown as File;
  expect(await said({ ...nothing, files: [large] })).toMatch(
    /got 200\.0 MB, and no design is larger than 1 MB/,
  );
  expect(await said(nothing)).toMatch(/got an empty file/);
});
