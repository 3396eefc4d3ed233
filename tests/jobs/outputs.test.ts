/** What the page writes of a sheet is, byte for byte, what the command line writes of it. */
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { main } from '../../src/cli/main.ts';
import { JobClient } from '../../src/jobs/client.ts';
import { outputsOf, type OutputKind } from '../../src/jobs/outputs.ts';
import { checkSheet } from '../../src/sheet/check.ts';
import { setAt } from '../../src/sheet/edit.ts';
import { PRESETS } from '../fixtures/presets.ts';
import { HereWorker } from './hereWorker.ts';

/** Two rows beside a bar under covers; and rods of which one pickup's reach is set by hand. */
const CHOSEN = ['14-', '07-'].map((begin) => PRESETS.find(({ name }) => name.startsWith(begin))!);

describe.each(CHOSEN)('[exact] $name', ({ name, data }) => {
  const checked = checkSheet(data);
  if (!checked.ok) throw new Error(checked.message);
  const { sheet } = checked;
  const stem = name.replace('.json', '');
  let folder = '';
  let written: readonly string[] = [];
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'outputs-'));
    main([`presets/${name}`, '--out', folder], { out: () => {}, err: () => {} });
    written = readdirSync(folder).filter((file) => /\.(csv|json|cir)$/.test(file));
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  it('curve, figures and circuit, all of them', async () => {
    const client = new JobClient({ create: () => new HereWorker() });
    const names: string[] = [];
    for (const kind of ['netlist', 'curve', 'figures'] satisfies OutputKind[]) {
      const answer = await outputsOf(kind, sheet, client);
      if (answer.status !== 'done') throw new Error(answer.status);
      for (const { suffix, text } of answer.value) {
        names.push(`${stem}.${suffix}`);
        expect(text).toBe(readFileSync(join(folder, `${stem}.${suffix}`), 'utf8'));
      }
    }
    expect(names.sort()).toStrictEqual(written.toSorted());
    client.dispose();
  });
});

it('a build that can’t be computed is said, and nothing is written', async () => {
  const [, { data }] = CHOSEN as [unknown, (typeof CHOSEN)[0]];
  const checked = checkSheet(data);
  if (!checked.ok) throw new Error(checked.message);
  const overlap = setAt(checked.sheet, ['pickups', 0, 'build', 'pitch'] as never, 0.007 as never);
  const wide = setAt(
    overlap,
    ['pickups', 0, 'build', 'rows', 0, 'pole', 'diameter'] as never,
    0.008 as never,
  );
  const client = new JobClient({ create: () => new HereWorker() });
  for (const kind of ['netlist', 'curve', 'figures'] satisfies OutputKind[])
    expect(await outputsOf(kind, wide, client)).toMatchObject({
      status: 'failed',
      message: expect.stringMatching(/pole pitch must be more/) as string,
    });
  client.dispose();
});
