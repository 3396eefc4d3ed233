/** Listening with workers and a player that do as a test says. Wants fake timers. */
import { vi } from 'vitest';
import type { LivePlayerOptions, LiveSetup, LiveState } from '../../src/audio/livePlayer.ts';
import { JobClient, type JobKind } from '../../src/jobs/client.ts';
import type { Listen, Sheet } from '../../src/sheet/sheet.ts';
import { Listening } from '../../src/state/listening.svelte.ts';
import { exampleSheet } from '../fixtures/sheet.ts';
import { FakeWorker } from '../jobs/fakeWorker.ts';

class FakePlayer {
  sampleRate: number | null = null;
  feeding = false;
  readonly opened: number[] = [];
  readonly played: LiveSetup[] = [];
  readonly updated: LiveSetup[] = [];
  volume = NaN;
  refuses = false;
  private readonly options: LivePlayerOptions;

  constructor(options: LivePlayerOptions) {
    this.options = options;
    this.volume = options.volume ?? NaN;
  }

  open(rate: number): number | null {
    this.opened.push(rate);
    if (this.refuses) {
      this.say({ status: 'failed', message: 'No output.' });
      return null;
    }
    this.sampleRate = rate;
    return rate;
  }
  play(setup: LiveSetup): void {
    this.played.push(setup);
    this.say({ status: 'playing', message: '' });
  }
  update(setup: LiveSetup, fed: boolean): void {
    if (!fed) this.updated.push(setup);
  }
  stop(): void {
    this.say({ status: 'stopped', message: '' });
  }
  setVolume(volume: number): void {
    this.volume = volume;
  }
  dispose(): void {}
  tap = () => null;
  position = () => Promise.resolve(null);
  say(state: LiveState): void {
    this.options.onchange?.(state);
  }
}

export const sheetWith = (listen: Partial<Listen>, title = ''): Sheet => {
  const sheet = exampleSheet();
  return { ...sheet, title, listen: { ...sheet.listen, level: 'matched', ...listen } };
};

export function setUp(first: Sheet = sheetWith({})) {
  const workers = new Map<string, FakeWorker>();
  const jobs = new JobClient({
    create: (kind) => {
      const worker = new FakeWorker(kind);
      workers.set(kind, worker);
      return worker;
    },
  });
  let open = first;
  let player!: FakePlayer;
  const listening = new Listening(
    () => open,
    jobs,
    (options) => (player = new FakePlayer(options)),
  );
  const asked = (kind: JobKind) => workers.get(kind)?.received ?? [];
  const answer = async (kind: JobKind, value: unknown) => {
    workers.get(kind)!.answer(value);
    await turn();
  };
  const change = (sheet: Sheet, gesture = false) => {
    open = sheet;
    listening.changed(gesture);
  };
  /** While a handle is held. */
  const drag = (sheet: Sheet) => change(sheet, true);
  return { listening, player, workers, asked, answer, change, drag };
}

/** Lets what waits for a promise go on. */
export const turn = () => vi.advanceTimersByTimeAsync(0);
export const rest = () => vi.advanceTimersByTimeAsync(250);
export const setup = (gain: number, fedAt: number | null = null) => ({
  setup: { gain, sampleRate: 48000 },
  fedAt,
});

/** Playing, with a level of gain 4. */
export async function playing(rig: ReturnType<typeof setUp>): Promise<void> {
  rig.listening.play();
  await turn();
  await rig.answer('level', { gain: 4, loudness: -41 });
  await rig.answer('live', setup(4));
}
