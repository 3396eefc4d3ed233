import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { JobClient } from '../../src/jobs/client.ts';
import type { Sheet } from '../../src/sheet/sheet.ts';
import { workshop } from './fakeWorker.ts';

/** The client reads builds alone, so without any a title is enough to tell sheets apart. */
const sheet = (title: string): Sheet =>
  ({ title, pickups: [] as Sheet['pickups'], listen: { string: 1 } }) as unknown as Sheet;

beforeEach(() => {
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
});

/** What a promise has come to, or null while it is open. */
function watch<T>(promise: Promise<T>): { value: T | null } {
  const seen: { value: T | null } = { value: null };
  void promise.then((value) => (seen.value = value));
  return seen;
}
const settle = (): Promise<void> => Promise.resolve().then(() => undefined);

describe('newest request wins', () => {
  it('finishes what has begun, keeps only the newest of those that wait', async () => {
    const { create, made } = workshop();
    const client = new JobClient({ create });
    const a = client.figures(sheet('a'));
    const b = client.figures(sheet('b'));
    const c = client.figures(sheet('c'));
    expect(await b).toEqual({ status: 'superseded' });
    const [worker] = made;
    expect(worker!.received.map((r) => r.sheet.title)).toEqual(['a']);
    worker!.answer('A');
    expect(await a).toEqual({ status: 'done', value: 'A' });
    expect(worker!.received.map((r) => r.sheet.title)).toEqual(['a', 'c']);
    worker!.answer('C');
    expect(await c).toEqual({ status: 'done', value: 'C' });
    expect(made).toHaveLength(1);
  });

  it('delivers results in the order of their requests during a drag, and the last one always', async () => {
    const { create, made } = workshop();
    const client = new JobClient({ create });
    const order: unknown[] = [];
    const requests = Array.from({ length: 100 }, (_, i) =>
      client.figures(sheet(String(i))).then((r) => {
        if (r.status === 'done') order.push(r.value);
        return r.status;
      }),
    );
    made[0]!.answer('0');
    await settle();
    made[0]!.answer('99');
    const statuses = await Promise.all(requests);
    expect(order).toEqual(['0', '99']);
    expect(statuses.filter((s) => s === 'superseded')).toHaveLength(98);
  });

  it('figures never wait behind a sound: each kind has its own worker', async () => {
    const { create, made } = workshop();
    const client = new JobClient({ create });
    const sound = watch(client.sound(sheet('long')));
    const figures = client.figures(sheet('short'));
    const worker = made.find((w) => w.kind === 'figures')!;
    expect(worker.received[0]!.kind).toBe('figures');
    worker.answer('F');
    expect(await figures).toEqual({ status: 'done', value: 'F' });
    expect(sound.value).toBeNull();
    expect(made).toHaveLength(2);
  });

  it('what is heard of two pairs is found one after the other: neither takes the other’s place', async () => {
    const { create, made } = workshop();
    const client = new JobClient({ create });
    const pairs = ['a', 'b', 'c'].map((title) => client.heard(sheet(title), sheet('than'), 0));
    for (const [i, pair] of pairs.entries()) {
      await vi.waitFor(() => expect(made[0]?.received).toHaveLength(i + 1));
      made[0]!.answer(`H${i}`);
      expect(await pair).toEqual({ status: 'done', value: `H${i}` });
    }
  });

  it('ignores an answer that nobody waits for', async () => {
    const { create, made } = workshop();
    const client = new JobClient({ create });
    const a = watch(client.figures(sheet('a')));
    made[0]!.answer('stray', 12345);
    await settle();
    expect(a.value).toBeNull();
  });

  it('a cancelled request resolves at once, and the next one waits for the worker only', async () => {
    const { create, made } = workshop();
    const client = new JobClient({ create });
    const a = client.figures(sheet('a'));
    client.cancel('figures');
    expect(await a).toEqual({ status: 'superseded' });
    const b = client.figures(sheet('b'));
    expect(made[0]!.received).toHaveLength(1);
    made[0]!.answer('A');
    expect(made[0]!.received.at(-1)!.sheet.title).toBe('b');
    made[0]!.answer('B');
    expect(await b).toEqual({ status: 'done', value: 'B' });
  });
});

describe('trouble', () => {
  it('what the prediction complains of is handed on, without a second attempt', async () => {
    const { create, made } = workshop();
    const client = new JobClient({ create });
    const a = client.figures(sheet('a'));
    made[0]!.complain('The scale length must be positive; got 0 mm.');
    expect(await a).toEqual({ status: 'failed', message: 'The scale length must be positive; got 0 mm.' });
    expect(made[0]!.received).toHaveLength(1);
    expect(made[0]!.terminated).toBe(false);
  });

  it('a crash is tried once more on a fresh worker', async () => {
    const { create, made } = workshop();
    const client = new JobClient({ create });
    const a = client.figures(sheet('a'));
    made[0]!.crash('boom');
    expect(made[0]!.terminated).toBe(true);
    expect(made).toHaveLength(2);
    expect(made[1]!.received[0]!.sheet.title).toBe('a');
    made[1]!.answer('A');
    expect(await a).toEqual({ status: 'done', value: 'A' });
  });

  it.each(['crash', 'garble'] as const)(
    'a second %s ends in a sentence, and the lane lives on',
    async (how) => {
      const { create, made } = workshop();
      const client = new JobClient({ create });
      const a = client.figures(sheet('a'));
      made[0]![how]('boom');
      made[1]![how]('boom');
      const result = await a;
      expect(result.status).toBe('failed');
      expect(result.status === 'failed' && result.message).toMatch(
        /^The .*Reload the page if it happens again\.$/,
      );
      expect(made).toHaveLength(2);
      const b = client.figures(sheet('b'));
      expect(made).toHaveLength(3);
      made[2]!.answer('B');
      expect(await b).toEqual({ status: 'done', value: 'B' });
    },
  );

  it('a worker that hangs is ended at the time limit, tried once more, then given up', async () => {
    const { create, made } = workshop();
    const client = new JobClient({ create });
    const a = watch(client.sound(sheet('a')));
    await vi.advanceTimersByTimeAsync(29_999);
    expect(made[0]!.terminated).toBe(false);
    await vi.advanceTimersByTimeAsync(1);
    expect(made[0]!.terminated).toBe(true);
    expect(made).toHaveLength(2);
    expect(a.value).toBeNull();
    await vi.advanceTimersByTimeAsync(30_000);
    expect(a.value).toEqual({
      status: 'failed',
      message: 'The calculation took longer than 30 s and was stopped.',
    });
    expect(made[1]!.terminated).toBe(true);
    expect(made).toHaveLength(2);
  });

  it('a worker that has died without a word is replaced within seconds, its job done by the next', async () => {
    const { create, made } = workshop();
    const client = new JobClient({ create });
    const first = client.sound(sheet('a'));
    made[0]!.begin();
    made[0]!.answer('A');
    await first;
    const b = client.sound(sheet('b'));
    await vi.advanceTimersByTimeAsync(3500);
    expect(made[0]!.terminated).toBe(true);
    made[1]!.answer('B');
    expect(await b).toEqual({ status: 'done', value: 'B' });
  });

  it('one that has begun, or is loading still, is left alone for as long as a job may take', async () => {
    const { create, made } = workshop();
    const client = new JobClient({ create });
    const a = client.sound(sheet('a'));
    await vi.advanceTimersByTimeAsync(20_000);
    made[0]!.begin();
    made[0]!.answer('A');
    await a;
    const b = client.sound(sheet('b'));
    made[0]!.begin();
    await vi.advanceTimersByTimeAsync(20_000);
    made[0]!.answer('B');
    expect(await b).toEqual({ status: 'done', value: 'B' });
    expect(made).toHaveLength(1);
  });

  it('when the worker hangs while a newer request waits, the newer one gets the fresh worker', async () => {
    const { create, made } = workshop();
    const client = new JobClient({ create, timeLimit: 500 });
    const a = client.figures(sheet('a'));
    const b = client.figures(sheet('b'));
    await vi.advanceTimersByTimeAsync(500);
    expect(await a).toEqual({ status: 'superseded' });
    expect(made[1]!.received.map((r) => r.sheet.title)).toEqual(['b']);
    made[1]!.answer('B');
    expect(await b).toEqual({ status: 'done', value: 'B' });
  });

  it('an answer in time stops the clock', async () => {
    const { create, made } = workshop();
    const client = new JobClient({ create });
    const a = client.figures(sheet('a'));
    made[0]!.answer('A');
    await a;
    await vi.advanceTimersByTimeAsync(60_000);
    expect(made[0]!.terminated).toBe(false);
    expect(vi.getTimerCount()).toBe(0);
  });

  it('a late message of a worker that was given up is not heard', async () => {
    const { create, made } = workshop();
    const client = new JobClient({ create, timeLimit: 500 });
    const a = watch(client.figures(sheet('a')));
    await vi.advanceTimersByTimeAsync(500);
    made[0]!.answer('late');
    await settle();
    expect(a.value).toBeNull();
  });

  it('a crash between jobs replaces the worker before the next', async () => {
    const { create, made } = workshop();
    const client = new JobClient({ create });
    client.warm();
    expect(made).toHaveLength(3);
    made.find((w) => w.kind === 'figures')!.crash('could not load');
    const a = client.figures(sheet('a'));
    expect(made).toHaveLength(4);
    made[3]!.answer('A');
    expect(await a).toEqual({ status: 'done', value: 'A' });
  });

  it('data that can’t be cloned fails with a sentence and leaves the worker usable', async () => {
    const { create, made } = workshop();
    const client = new JobClient({ create });
    const proxy = { title: 'x', pickups: [], notes: () => 1 } as unknown as Sheet;
    const result = await client.figures(proxy);
    expect(result.status).toBe('failed');
    expect(result.status === 'failed' && result.message).toMatch(/^The sheet could not be handed over: /);
    const b = client.figures(sheet('b'));
    made[0]!.answer('B');
    expect(await b).toEqual({ status: 'done', value: 'B' });
    expect(made).toHaveLength(1);
  });

  it('a browser without module workers fails with a sentence instead of throwing', async () => {
    const client = new JobClient({
      create: () => {
        throw new Error('Worker is not defined');
      },
    });
    client.warm();
    expect(await client.figures(sheet('a'))).toEqual({
      status: 'failed',
      message: 'The calculation could not be started: Worker is not defined',
    });
  });
});

const CLOSE = { pickup: 0, cents: 1, frets: [0], action: 1.8e-3 };

it('lets what goes with the figures wait for the first of them, and only then', async () => {
  const { create, made } = workshop();
  const client = new JobClient({ create });
  client.warm();
  const figures = client.figures(sheet('a'));
  const early = [client.close(sheet('a'), CLOSE), client.close(sheet('b'), CLOSE)];
  expect(made.map(({ kind }) => kind)).toEqual(['field', 'figures', 'picture']);
  made[1]!.answer('A');
  await figures;
  await settle();
  const behind = made.find(({ kind }) => kind === 'close')!;
  behind.answer('old');
  await settle();
  behind.answer('new');
  expect(await Promise.all(early)).toEqual([
    { status: 'done', value: 'old' },
    { status: 'done', value: 'new' },
  ]);
  void client.figures(sheet('c'));
  void client.level(sheet('c'));
  expect(made.map(({ kind }) => kind)).toContain('level');
});

it('hands the live worker the way to what sounds, beside its jobs and without an answer', async () => {
  const { create, made } = workshop();
  const client = new JobClient({ create });
  const { port1, port2 } = new MessageChannel();
  client.feed(port1);
  expect(made.map(({ kind }) => kind)).toEqual(['live']);
  const [worker] = made;
  expect(worker!.received).toEqual([{ kind: 'feed' }]);
  expect(worker!.moved).toEqual([port1]);
  const live = client.live(sheet('a'), { sampleRate: 48000, gain: 1, feed: true });
  worker!.answer('A');
  expect(await live).toEqual({ status: 'done', value: 'A' });
  client.dispose();
  client.feed(port1);
  expect(made).toHaveLength(1);
  port1.close();
  port2.close();
});

it('dispose ends the workers and every request', async () => {
  const { create, made } = workshop();
  const client = new JobClient({ create });
  const open = [client.figures(sheet('a')), client.figures(sheet('b')), client.sound(sheet('c'))];
  client.dispose();
  expect(await Promise.all(open)).toEqual(Array(3).fill({ status: 'superseded' }));
  expect(made.every((w) => w.terminated)).toBe(true);
  expect(await client.figures(sheet('d'))).toEqual({ status: 'superseded' });
  expect(made).toHaveLength(2);
  expect(vi.getTimerCount()).toBe(0);
});
