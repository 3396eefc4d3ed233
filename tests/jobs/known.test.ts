/** What was answered once is not asked again: by going back, in another trial, for one picture of two. */
import { expect, it } from 'vitest';
import first from '../../presets/01-skerry-three-single-coils.json';
import { JobClient } from '../../src/jobs/client.ts';
import type { JobRequest } from '../../src/jobs/protocol.ts';
import { checkSheet } from '../../src/sheet/check.ts';
import type { Sheet } from '../../src/sheet/sheet.ts';
import { HereWorker } from './hereWorker.ts';

const checked = checkSheet(first);
if (!checked.ok) throw new Error('The first preset must be in order.');
const { sheet } = checked;
/** The same design, read anew. */
const again = structuredClone(sheet);
const CLOSE = { pickup: 0, cents: 2, frets: [0], action: 0.0018 };

function counted(known?: JobClient['known']): { client: JobClient; asked: JobRequest[] } {
  const asked: JobRequest[] = [];
  const create = (): HereWorker => {
    const worker = new HereWorker();
    const post = worker.postMessage.bind(worker);
    worker.postMessage = (request) => {
      asked.push(request as JobRequest);
      post(request);
    };
    return worker;
  };
  return { client: new JobClient({ create, ...(known && { known }) }), asked };
}

/** As measured: its coils are others, its magnets the same. */
const rewound = (s: Sheet): Sheet => ({
  ...s,
  pickups: s.pickups.map((pickup) => ({
    ...pickup,
    rows: pickup.rows.map((row) => ({ ...row, coil: { ...row.coil, resistance: 7100 } })),
  })),
});

it('a design that was answered for is answered for again without a worker, in another client too', async () => {
  const { client, asked } = counted();
  const all = async (by: JobClient, of: Sheet) =>
    Promise.all([by.figures(of), by.level(of), by.beginning(of), by.close(of, CLOSE)]);
  const answers = await all(client, sheet);
  for (const { status } of answers) expect(status).toBe('done');
  const before = asked.length;
  expect(before).toBe(5);
  expect(await all(client, again)).toEqual(answers);
  const other = counted(client.known);
  expect(await all(other.client, again)).toEqual(answers);
  expect(asked).toHaveLength(before);
  expect(other.asked).toEqual([]);
  // Its field is known there as well: only what is heard of it is computed.
  await other.client.figures({ ...again, title: 'another' });
  expect(other.asked.map(({ kind }) => kind)).toEqual(['figures']);
});

it('how close a pickup may sit is not asked anew for another coil, and is for another gap', async () => {
  const { client, asked } = counted();
  const close = await client.close(sheet, CLOSE);
  expect(await client.close(rewound(sheet), CLOSE)).toEqual(close);
  expect(asked.filter(({ kind }) => kind === 'close')).toHaveLength(1);
  const [pickup, ...others] = sheet.pickups;
  const nearer = { ...pickup!, build: { ...pickup!.build!, gapBass: pickup!.build!.gapBass - 1e-3 } };
  expect(await client.close({ ...sheet, pickups: [nearer, ...others] }, CLOSE)).not.toEqual(close);
  expect(asked.filter(({ kind }) => kind === 'close')).toHaveLength(2);
});

it('of two pictures only the one that is not known is drawn', async () => {
  const { client, asked } = counted();
  const wish = { pickup: 0, section: true, plan: false, probe: null };
  const section = await client.pictures(sheet, wish);
  const both = await client.pictures(again, { ...wish, probe: { x: 0, y: 0, height: 1e-3 } });
  if (section.status !== 'done' || both.status !== 'done') throw new Error('There must be pictures.');
  expect(both.value.section).toBe(section.value.section);
  expect(both.value.probe).not.toBeNull();
  const wishes = asked.filter(({ kind }) => kind === 'picture').map(({ input }) => input);
  expect(wishes).toEqual([wish, { ...wish, section: false, probe: { x: 0, y: 0, height: 1e-3 } }]);
});

it('an answer that is there already takes the place of one that is on its way', async () => {
  const { client } = counted();
  const known = await client.figures(sheet);
  const onItsWay = client.figures({ ...sheet, title: 'another' });
  const back = client.figures(again);
  expect(await onItsWay).toEqual({ status: 'superseded' });
  expect(await back).toEqual(known);
});
