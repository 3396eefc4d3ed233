/** While it sounds, a gap is heard without waiting for its field. */
import { beforeAll, describe, expect, it } from 'vitest';
import { JobClient } from '../../src/jobs/client.ts';
import { FieldSolver } from '../../src/physics/field.ts';
import { liveSetup } from '../../src/physics/soundingLive.ts';
import { setAt } from '../../src/sheet/edit.ts';
import type { Sheet } from '../../src/sheet/sheet.ts';
import { builtSheet } from '../fixtures/builtSheet.ts';
import { HereWorker } from './hereWorker.ts';

const WISH = { sampleRate: 48000, gain: 1, feed: false };
const gapOf = (sheet: Sheet): number => sheet.pickups[0]!.build!.gapTreble;
const withGap = (sheet: Sheet, gap: number): Sheet => setAt(sheet, ['pickups', 0, 'build', 'gapTreble'], gap);

/** A client whose sheet has sounded for long enough. */
async function sounding(sheet: Sheet): Promise<{ client: JobClient; fields: () => number }> {
  const made: HereWorker[] = [];
  const client = new JobClient({
    create: () => {
      const worker = new HereWorker();
      made.push(worker);
      return worker;
    },
  });
  const fields = (): number => made.flatMap(({ done }) => done).filter((kind) => kind === 'field').length;
  expect((await client.live(sheet, WISH)).status).toBe('done');
  await settled(fields);
  return { client, fields };
}

/** Waits until no field is asked for any more. */
async function settled(fields: () => number): Promise<void> {
  for (let before = 0; before < 8 || before < fields();) {
    before = fields();
    await new Promise((resolve) => setTimeout(resolve, 400));
  }
}

describe.each(['six rods', 'slugs and screws beside an alnico bar'])('%s', (name) => {
  const sheet = builtSheet(name);
  const exactly = new FieldSolver();
  let heard: Awaited<ReturnType<typeof sounding>>;
  beforeAll(async () => void (heard = await sounding(sheet)));

  it('another gap, slope or fretboard is heard at once as it will be, and the exact field follows [exact]', async () => {
    const { client, fields } = heard;
    const changed = [
      withGap(sheet, gapOf(sheet) + 0.3e-3),
      withGap(sheet, gapOf(sheet) - 0.5e-3),
      setAt(sheet, ['instrument', 'radius'], 0.4),
    ];
    for (const next of changed) {
      const before = fields();
      const soon = await client.live(next, WISH, true);
      expect(fields()).toBe(before);
      if (soon.status !== 'done') throw new Error(soon.status);
      expect(soon.value.near).toBe(true);
      const exact = liveSetup(next, 48000, 1, exactly.fields(next));
      const { setup } = soon.value;
      expect(setup.notes.length).toBe(exact.notes.length);
      setup.notes.forEach((note, n) => {
        const size = (all: ArrayLike<number>): number =>
          Math.sqrt(Array.from(all).reduce((sum, value) => sum + value * value, 0));
        note.weights.forEach((weights, e) => {
          const off = 20 * Math.log10(size(weights) / size(exact.notes[n]!.weights[e]!));
          expect(Math.abs(off)).toBeLessThan(0.1);
        });
      });
      const late = await client.live(next, WISH);
      expect(fields()).toBe(before + 1);
      expect(late).toEqual({ status: 'done', value: { setup: exact, fedAt: null } });
    }
  });

  it('another length of the poles waits for its field', async () => {
    const { client, fields } = heard;
    expect((await client.live(sheet, WISH)).status).toBe('done');
    await settled(fields);
    const { length } = sheet.pickups[0]!.build!.rows[0]!.pole;
    const longer = setAt(sheet, ['pickups', 0, 'build', 'rows', 0, 'pole', 'length'], length + 1e-4);
    const before = fields();
    const soon = await client.live(longer, WISH, true);
    expect(soon).toMatchObject({ status: 'done' });
    expect(soon.status === 'done' && soon.value.near).toBeFalsy();
    expect(fields()).toBe(before + 1);
  });
});
