import { describe, expect, it, vi } from 'vitest';
import { JobClient, type JobResult } from '../../src/jobs/client.ts';
import { AS_BEFORE } from '../../src/jobs/protocol.ts';
import type { FieldAnswer, Fields } from '../../src/physics/heard/fieldAnswer.ts';
import type { Sheet } from '../../src/sheet/sheet.ts';
import { builtSheet } from '../fixtures/builtSheet.ts';
import { exampleSheet } from '../fixtures/sheet.ts';
import { workshop, type FakeWorker } from './fakeWorker.ts';

/** The example with six rods in its first pickup, so many tenths of a millimetre lower. */
function lowered(tenths: number, title = `${tenths}`): Sheet {
  const sheet = builtSheet('six rods');
  const [first, ...others] = sheet.pickups;
  const { build } = first!;
  const gapBass = build!.gapBass + tenths * 1e-4;
  return { ...sheet, title, pickups: [{ ...first!, build: { ...build!, gapBass } }, ...others] };
}

/** A field that can be told from others; the client hands it on unread. */
const answer = (start: number) => [{ start } as FieldAnswer, null, null];

function rig(): { client: JobClient; of: (kind: string) => FakeWorker; titles: (kind: string) => string[] } {
  const { create, made } = workshop();
  const client = new JobClient({ create });
  const of = (kind: string) => made.find((worker) => worker.kind === kind)!;
  return { client, of, titles: (kind) => of(kind).received.map(({ sheet }) => sheet.title) };
}

/** Until everything that follows from an answer has run. */
const settle = () => new Promise((resolve) => setTimeout(resolve, 0));

const statusOf = async (promise: Promise<JobResult<unknown>>): Promise<string> => (await promise).status;

describe('fields before everything else', () => {
  it('[exact] a sheet without builds goes to its worker at once', () => {
    const { client, of } = rig();
    void client.figures(exampleSheet());
    expect(of('figures').received[0]!.fields).toEqual([null, null, null]);
    expect(of('field')).toBeUndefined();
  });

  it('figures, sound and live of one sheet share one field, and get it along', async () => {
    const { client, of } = rig();
    void client.figures(lowered(0));
    void client.live(lowered(0), { sampleRate: 48000, gain: null, feed: false });
    void client.sound(lowered(0));
    expect(of('field').received).toHaveLength(1);
    expect(of('field').received[0]!.input).toEqual({ wanted: [true, false, false] });
    expect(of('figures')).toBeUndefined();
    of('field').answer(answer(1));
    await settle();
    expect(of('field').received).toHaveLength(1);
    for (const kind of ['figures', 'live', 'sound'])
      expect(of(kind).received.map(({ fields }) => fields)).toEqual([answer(1)]);
  });

  describe('that come from elsewhere', () => {
    const warmed = (load: () => Promise<Fields | null>) => {
      const made = rig();
      made.client.warm({ sheet: lowered(0), load });
      void made.client.figures(lowered(0));
      return made;
    };

    it('are what the figures are made of, and nothing is solved', async () => {
      const { of } = warmed(() => Promise.resolve(answer(7)));
      expect(of('figures').received).toEqual([]);
      await settle();
      expect(of('figures').received.map(({ fields }) => fields)).toEqual([answer(7)]);
      expect(of('field')).toBeUndefined();
    });

    it.each([
      ['can’t be had', () => Promise.reject(new Error('no network'))],
      ['are none', () => Promise.resolve(null)],
    ])('are computed where they %s', async (_, load) => {
      const { of } = warmed(load);
      await settle();
      expect(of('field').received).toHaveLength(1);
    });

    it('are not waited for longer than 300 ms', async () => {
      vi.useFakeTimers();
      try {
        const { of } = warmed(() => new Promise(() => undefined));
        await vi.advanceTimersByTimeAsync(299);
        expect(of('field')).toBeUndefined();
        await vi.advanceTimersByTimeAsync(1);
        expect(of('field').received).toHaveLength(1);
      } finally {
        vi.useRealTimers();
      }
    });

    it('hold up no other sheet for longer than that, and are of no use to it', async () => {
      const { client, of, titles } = rig();
      client.warm({ sheet: lowered(0), load: () => Promise.resolve(answer(7)) });
      void client.figures(lowered(3));
      await settle();
      expect(titles('field')).toEqual(['3']);
      of('field').answer(answer(3));
      await settle();
      expect(of('figures').received.map(({ fields }) => fields)).toEqual([answer(3)]);
    });
  });

  it('a change that leaves the geometry alone does not wait for a field, also while another is computed', async () => {
    const { client, of, titles } = rig();
    void client.figures(lowered(0));
    of('field').answer(answer(1));
    await settle();
    void client.sound(lowered(1));
    const sheet = lowered(0, 'quieter');
    const [controls] = sheet.harness.controls;
    const quieter = { ...controls!, volume: { ...controls!.volume, position: 0.5 } };
    void client.figures({ ...sheet, harness: { ...sheet.harness, controls: [quieter] } });
    expect(titles('field')).toEqual(['0', '1']);
    // The first one still runs; the worker's answer lets the newest through.
    of('figures').answer('A');
    await settle();
    expect(titles('figures')).toEqual(['0', 'quieter']);
    // The worker has it from the first time.
    expect(of('figures').received[1]!.fields).toEqual([AS_BEFORE, null, null]);
  });

  it('a worker is sent a field once, and a fresh one after a crash again', async () => {
    const { create, made } = workshop();
    const client = new JobClient({ create });
    const figures = (): FakeWorker => made.filter(({ kind }) => kind === 'figures').at(-1)!;
    void client.figures(lowered(0));
    made[0]!.answer(answer(1));
    await settle();
    figures().answer('A');
    void client.figures(lowered(0, 'again'));
    figures().crash('out of memory');
    expect(figures().received.map(({ sheet, fields }) => [sheet.title, fields])).toEqual([
      ['again', answer(1)],
    ]);
    figures().answer('B');
    void client.figures(lowered(1));
    made[0]!.answer(answer(2));
    await settle();
    expect(figures().received[1]!.fields).toEqual(answer(2));
  });

  it('during a drag what has begun is delivered, and of those that wait the newest', async () => {
    const { client, of, titles } = rig();
    const asked = [0, 1, 2, 3].map((tenths) => client.figures(lowered(tenths)));
    expect(titles('field')).toEqual(['0']);
    expect(await statusOf(asked[1]!)).toBe('superseded');
    expect(await statusOf(asked[2]!)).toBe('superseded');
    of('field').answer(answer(0));
    await settle();
    expect(titles('figures')).toEqual(['0']);
    expect(titles('field')).toEqual(['0', '3']);
    of('figures').answer('zero');
    of('field').answer(answer(3));
    await settle();
    of('figures').answer('three');
    expect(await asked[0]).toEqual({ status: 'done', value: 'zero' });
    expect(await asked[3]).toEqual({ status: 'done', value: 'three' });
  });

  it('back where it was, the known field is taken and the one under way comes too late', async () => {
    const { client, of, titles } = rig();
    void client.figures(lowered(0));
    of('field').answer(answer(0));
    await settle();
    of('figures').answer('zero');
    const there = client.figures(lowered(1));
    const back = client.figures(lowered(0, 'back'));
    expect(await statusOf(there)).toBe('superseded');
    of('field').answer(answer(1));
    of('figures').answer('back');
    expect(await back).toEqual({ status: 'done', value: 'back' });
    expect(titles('figures')).toEqual(['0', 'back']);
    // What had begun was kept.
    void client.figures(lowered(1));
    await settle();
    expect(titles('field')).toEqual(['0', '1']);
  });

  it('one kind of job does not take the place of another', async () => {
    const { client, of, titles } = rig();
    void client.figures(lowered(0));
    const open = client.figures(lowered(1));
    const other = client.level(lowered(2));
    of('field').answer(answer(0));
    await settle();
    of('field').answer(answer(1));
    await settle();
    of('field').answer(answer(2));
    await settle();
    expect(titles('field')).toEqual(['0', '1', '2']);
    of('figures').answer('zero');
    await settle();
    of('figures').answer('one');
    of('level').answer('two');
    expect(await open).toEqual({ status: 'done', value: 'one' });
    expect(await other).toEqual({ status: 'done', value: 'two' });
  });

  it('a build that can’t be computed is said with its faults, and the next request is computed anew', async () => {
    const { client, of } = rig();
    const bad = client.figures(lowered(0));
    of('field').complain('The pole pitch must be more than the poles are wide.');
    expect(await bad).toMatchObject({
      status: 'failed',
      message: expect.stringContaining('pole pitch') as string,
    });
    void client.figures(lowered(0));
    expect(of('field').received).toHaveLength(2);
  });

  it('a recording through one sheet that was made through another gets both fields', async () => {
    const { client, of } = rig();
    const recording = { samples: new Float64Array(4), sampleRate: 48000 };
    void client.through(lowered(1), { recording, from: lowered(0) });
    of('field').answer(answer(0));
    await settle();
    of('field').answer(answer(1));
    await settle();
    expect(of('through').received[0]).toMatchObject({
      fields: answer(1),
      input: { fromFields: answer(0), recording },
    });
  });

  it('cancelling and disposing let go of those that wait for a field', async () => {
    const { client } = rig();
    const figures = client.figures(lowered(0));
    const sound = client.sound(lowered(1));
    client.cancel('figures');
    expect(await figures).toEqual({ status: 'superseded' });
    client.dispose();
    expect(await sound).toEqual({ status: 'superseded' });
    expect(await client.figures(lowered(2))).toEqual({ status: 'superseded' });
  });
});

describe('an ear that waits', () => {
  const WISH = { sampleRate: 48000, gain: 1, feed: true };
  /** So many millimetres nearer to the nut. */
  const shifted = (mm: number, sheet = lowered(0, `${mm}`)): Sheet => {
    const [first, ...others] = sheet.pickups;
    return { ...sheet, title: `${mm}`, pickups: [{ ...first!, place: first!.place + mm / 1000 }, ...others] };
  };
  const begun = async () => {
    const it = rig();
    void it.client.live(shifted(0), WISH);
    it.of('field').answer(answer(0));
    await settle();
    it.of('live').answer({ fedAt: 0 });
    return it;
  };

  it('hears a pickup dragged along its strings with the field it had, and then with its own', async () => {
    const { client, of, titles } = await begun();
    const soon = client.live(shifted(10), WISH, true);
    expect(titles('live')).toEqual(['0', '10']);
    expect(of('live').received[1]!.fields).toEqual([AS_BEFORE, null, null]);
    expect(titles('field')).toEqual(['0']);
    of('live').answer({ fedAt: 1 });
    expect(await soon).toEqual({ status: 'done', value: { fedAt: 1, near: true } });
    const late = client.live(shifted(10), WISH);
    expect(titles('field')).toEqual(['0', '10']);
    of('field').answer(answer(10));
    await settle();
    expect(of('live').received[2]!.fields).toEqual(answer(10));
    of('live').answer({ fedAt: 2 });
    expect(await late).toEqual({ status: 'done', value: { fedAt: 2 } });
    // Known by now.
    void client.live(shifted(0), WISH, true);
    await settle();
    expect(titles('live')).toEqual(['0', '10', '10', '0']);
    expect(of('live').received[3]!.fields).toEqual(answer(0));
  });

  it('never hears an older place after a newer one', async () => {
    const { client, of, titles } = await begun();
    void client.live(shifted(10), WISH, true);
    of('live').answer({ fedAt: 1 });
    const old = client.live(shifted(10), WISH);
    void client.live(shifted(9), WISH, true);
    expect(await statusOf(old)).toBe('superseded');
    of('field').answer(answer(10));
    of('live').answer({ fedAt: 2 });
    await settle();
    expect(titles('live')).toEqual(['0', '10', '9']);
  });

  it('waits where more has changed', async () => {
    const { client, of, titles } = await begun();
    void client.live(lowered(1), WISH, true);
    void client.live(shifted(60), WISH, true);
    await settle();
    expect(titles('live')).toEqual(['0']);
    of('field').answer(answer(1));
    await settle();
    of('field').answer(answer(60));
    of('live').answer({ fedAt: 1 });
    await settle();
    expect(titles('live')).toEqual(['0', '1', '60']);
  });
});

it('a rehearsal of the live worker takes nobody’s place', async () => {
  vi.useFakeTimers();
  try {
    const { client, of, titles } = rig();
    const turn = () => vi.advanceTimersByTimeAsync(0);
    client.warm();
    void client.figures(lowered(0));
    of('field').answer(answer(0));
    await turn();
    of('figures').answer('zero');
    await turn();
    const heard = client.live(lowered(1), { sampleRate: 48000, gain: 1, feed: true });
    await vi.advanceTimersByTimeAsync(1000);
    expect(titles('live')).toEqual(['0']);
    of('field').answer(answer(1));
    await turn();
    of('live').answer('rehearsed');
    await turn();
    expect(titles('live')).toEqual(['0', '1']);
    of('live').answer('heard');
    expect(await heard).toEqual({ status: 'done', value: 'heard' });
    await vi.advanceTimersByTimeAsync(5000);
    expect(titles('live')).toEqual(['0', '1']);
  } finally {
    vi.useRealTimers();
  }
});
