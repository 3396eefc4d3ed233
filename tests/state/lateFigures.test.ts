/** What is shown when answers come out of turn: faults are found before anything is solved, figures take their time. */
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { JobClient, type WorkerLike } from '../../src/jobs/client.ts';
import type { JobRequest } from '../../src/jobs/protocol.ts';
import { predict } from '../../src/physics/predict.ts';
import { STARTING_BUILDS } from '../../src/sheet/builds.ts';
import { newHistory } from '../../src/sheet/history.ts';
import type { Sheet } from '../../src/sheet/sheet.ts';
import { wrap } from '../../src/sheet/trials.ts';
import { Workbench } from '../../src/state/workbench.svelte.ts';
import { builtSheet } from '../fixtures/builtSheet.ts';
import { FakeStorage } from './fakeStorage.ts';
import { fieldsOf } from '../fixtures/solved.ts';

/** A build with this gap has a fault, m. */
const TOO_NEAR = 0.0031;
/** ms until figures are there; fields and faults are at once. */
const LATE = 200;

/** Figures that were asked for and are not there yet. */
let computing = 0;

class SlowFigures implements WorkerLike {
  private hear: (event: Event) => void = () => undefined;

  postMessage(message: unknown): void {
    const { id, kind, sheet } = message as JobRequest;
    const faulty = sheet.pickups[0]?.build?.gapBass === TOO_NEAR;
    if (kind === 'figures') computing++;
    const reply = (): void => {
      if (kind === 'figures') computing--;
      const data = faulty
        ? { id, ok: false, message: 'Too near.', faults: [{ path: [], message: 'Too near.' }] }
        : kind === 'why'
          ? { id, ok: false, message: 'Not asked here.', faults: [] }
          : { id, ok: true, value: kind === 'field' ? fieldsOf(sheet) : predict(sheet) };
      this.hear(new MessageEvent('message', { data }));
    };
    setTimeout(reply, kind === 'figures' ? LATE : 0);
  }

  addEventListener(type: string, listener: (event: Event) => void): void {
    if (type === 'message') this.hear = listener;
  }

  removeEventListener(): void {
    this.hear = () => undefined;
  }

  terminate(): void {
    this.removeEventListener();
  }
}

beforeEach(() => vi.stubGlobal('localStorage', new FakeStorage()));
afterEach(() => vi.unstubAllGlobals());

const sheet = builtSheet(STARTING_BUILDS[0]!.name);
const bench = (): Workbench => {
  const client = (): JobClient => new JobClient({ create: () => new SlowFigures() });
  return new Workbench(newHistory(wrap(sheet)), [], client(), client());
};
const tooNear = (built: Sheet): Sheet => ({
  ...built,
  pickups: built.pickups.map((pickup, i) =>
    i === 0 ? { ...pickup, build: { ...pickup.build!, gapBass: TOO_NEAR } } : pickup,
  ),
});

it('an older sheet’s figures that come late take no fault of the newer one away', async () => {
  const opened = bench();
  // Its field is there, and its figures are being computed.
  await vi.waitFor(() => expect(computing).toBe(1), { interval: 1, timeout: 60_000 });
  expect(opened.prediction).toBe(null);
  opened.set(['pickups', 0, 'build', 'gapBass'], TOO_NEAR);
  await new Promise((resolve) => setTimeout(resolve, 5 * LATE));
  expect([opened.faults.length, opened.broken, opened.message]).toEqual([1, false, 'Too near.']);
});

it('a document that can’t be built shows nothing of the one before it', async () => {
  const opened = bench();
  await vi.waitFor(() => expect(opened.prediction).not.toBe(null), { timeout: 60_000 });
  opened.open({ ...tooNear(sheet), title: 'another' });
  await vi.waitFor(() => expect(opened.faults.length).toBe(1), { timeout: 60_000 });
  expect(opened.prediction).toBe(null);
  opened.undo();
  await vi.waitFor(() => expect(opened.prediction).not.toBe(null), { timeout: 60_000 });
  expect(opened.faults).toEqual([]);
});

it('a gesture that comes back to where it began leaves nothing to wait for [exact]', async () => {
  const opened = bench();
  await vi.waitFor(() => expect(opened.prediction).not.toBe(null), { timeout: 60_000 });
  const { trials } = opened;
  const gap = ['pickups', 0, 'build', 'gapBass'] as const;
  opened.preview(gap, 0.005);
  opened.preview(gap, sheet.pickups[0]!.build!.gapBass);
  opened.commit();
  expect(opened.trials).toBe(trials);
  // Longer than figures may be waited for before they are said to be late.
  await new Promise((resolve) => setTimeout(resolve, 5 * LATE));
  expect(opened.computing).toBe(false);
});
