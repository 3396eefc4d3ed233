/** One geometry is solved once, whoever asks for it: every kind of job with a worker of its own, as on the page. */
import { beforeAll, beforeEach, describe, expect, it, vi } from 'vitest';
import { JobClient, type JobResult } from '../../src/jobs/client.ts';
import { close } from '../../src/physics/close.ts';
import { pictures } from '../../src/physics/picture.ts';
import type * as Assemble from '../../src/physics/magnetics/charges/assemble.ts';
import { assemble } from '../../src/physics/magnetics/charges/assemble.ts';
import { solvePickup } from '../../src/physics/magnetics/pickup/solvePickup.ts';
import { fieldQuestion } from '../../src/physics/fieldQuestion.ts';
import type { Sheet } from '../../src/sheet/sheet.ts';
import { setAt } from '../../src/sheet/edit.ts';
import { builtSheet } from '../fixtures/builtSheet.ts';
import { HereWorker } from './hereWorker.ts';

// Counted, not replaced: nothing is solved without it.
vi.mock('../../src/physics/magnetics/charges/assemble.ts', async (original) => {
  const real = await original<typeof Assemble>();
  return { ...real, assemble: vi.fn(real.assemble) };
});

/** A hair longer each time, so that no other test has met its geometry. */
let run = 0;
const unmet = (name: string): Sheet => {
  const sheet = builtSheet(name);
  const { length } = sheet.pickups[0]!.build!.rows[0]!.pole;
  return setAt(sheet, ['pickups', 0, 'build', 'rows', 0, 'pole', 'length'], length + 1e-6 * ++run);
};
const lowered = (sheet: Sheet, by: number): Sheet =>
  setAt(sheet, ['pickups', 0, 'build', 'gapTreble'], sheet.pickups[0]!.build!.gapTreble + by);

const WISH = { pickup: 0, section: true, plan: true, probe: { x: 0, y: 0, height: 1e-3 } };
const CLOSE = { pickup: 0, cents: 2, frets: [0], action: 1.8e-3 };
const BUILDS = ['six rods', 'steel poles over a ceramic bar', 'slugs and screws beside an alnico bar'];

/** How often one solution assembles. */
function once(sheet: Sheet): number {
  vi.mocked(assemble).mockClear();
  solvePickup(fieldQuestion(sheet, 0)!.build);
  return vi.mocked(assemble).mock.calls.length;
}

const done = async (asked: Promise<JobResult<unknown>>): Promise<unknown> => {
  const result = await asked;
  if (result.status !== 'done') throw new Error(`It must be done; it is ${result.status}.`);
  return result.value;
};

describe.each(BUILDS)('%s', (name) => {
  let sheet: Sheet;
  let client: JobClient;
  let least: number;
  beforeAll(() => void (least = once(unmet(name))));
  beforeEach(() => {
    sheet = unmet(name);
    client = new JobClient({ create: () => new HereWorker() });
    vi.mocked(assemble).mockClear();
  });

  it('figures, sound, pictures and closeness solve it once, and say what they say when each solves it [exact]', async () => {
    const asked = [
      client.figures(sheet),
      client.live(sheet, { sampleRate: 48000, gain: 1, feed: false }),
      client.pictures(sheet, WISH),
      client.close(sheet, CLOSE),
    ];
    const [, , seen, closest] = await Promise.all(asked.map(done));
    expect(assemble).toHaveBeenCalledTimes(least);
    expect(seen).toEqual(pictures(sheet, WISH));
    expect(closest).toEqual(close(sheet, 0, 2));
  });

  it('a gap alone solves nothing, for pictures not even when its field is waited for [exact]', async () => {
    await done(client.figures(sheet));
    const lower = lowered(sheet, 2e-4);
    const [figures, seen, closest] = [
      client.figures(lower),
      client.pictures(lower, WISH),
      client.close(lower, CLOSE),
    ];
    await Promise.all([done(figures), done(seen), done(closest)]);
    expect(assemble).toHaveBeenCalledTimes(least);
    expect(await seen).toEqual({ status: 'done', value: pictures(lower, WISH) });
  });

  it('with a pole at a string there is no field, but pictures and closeness [exact]', async () => {
    const under = sheet.pickups[0]!.build!.gapTreble;
    const high = setAt(sheet, ['pickups', 0, 'build', 'rows', 0, 'pole', 'heights', 2], under + 3e-3);
    expect((await client.figures(high)).status).toBe('failed');
    const seen = await done(client.pictures(high, WISH));
    const closest = await done(client.close(high, CLOSE));
    expect(seen).toEqual(pictures(high, WISH));
    expect(closest).toEqual(close(high, 0, 2));
  });
});
