/** The live player on an output that is turned by hand, and on outputs that don't play along. */
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { LivePlayer, type LiveSetup, type LiveState } from '../../src/audio/livePlayer.ts';
import type { LiveReply, LiveRequest } from '../../src/physics/sound/live/types.ts';
import { FakeContext, FakeNode } from './fakeAudio.ts';

class FakePort {
  readonly sent: LiveRequest[] = [];
  onmessage: ((event: { data: LiveReply }) => void) | null = null;

  postMessage(request: LiveRequest): void {
    this.sent.push(request);
  }

  reply(data: LiveReply): void {
    this.onmessage?.({ data });
  }
}

class FakeWorkletNode extends FakeNode {
  readonly port = new FakePort();
}

class LiveContext extends FakeContext {
  modules = 0;
  readonly trouble: string;
  readonly node = new FakeWorkletNode();
  readonly audioWorklet = {
    addModule: (): Promise<void> => {
      this.modules++;
      return this.trouble ? Promise.reject(new Error(this.trouble)) : Promise.resolve();
    },
  };

  constructor(sampleRate: number, trouble = '') {
    super();
    this.sampleRate = sampleRate;
    this.trouble = trouble;
  }
}

interface Rig {
  readonly refuse?: (rate: number | undefined) => boolean;
  readonly trouble?: string;
  readonly state?: string;
  readonly onfeed?: (port: MessagePort) => void;
}

function setUp({ refuse = () => false, trouble = '', state = 'running', onfeed }: Rig = {}) {
  const contexts: LiveContext[] = [];
  const states: LiveState[] = [];
  const page = new EventTarget();
  const devices = new EventTarget();
  const player = new LivePlayer({
    page,
    devices,
    onchange: (now) => states.push(now),
    ...(onfeed && { onfeed }),
    createContext: ({ sampleRate }) => {
      if (refuse(sampleRate)) throw new Error('no');
      const context = new LiveContext(sampleRate ?? 44100, trouble);
      context.state = state;
      contexts.push(context);
      return context as unknown as AudioContext;
    },
    createNode: (context) => (context as unknown as LiveContext).node as unknown as AudioWorkletNode,
  });
  const context = () => contexts.at(-1)!;
  return { player, contexts, states, page, devices, context, sent: () => context().node.port.sent };
}

const setup = (sampleRate = 48000, gain = 1) => ({ sampleRate, gain }) as LiveSetup;
const kinds = (requests: readonly LiveRequest[]) => requests.map(({ kind }) => kind);

beforeEach(() => vi.useFakeTimers());
afterEach(() => vi.useRealTimers());
const settle = () => vi.advanceTimersByTimeAsync(0);

describe('playing', () => {
  it('opens the output at the wanted rate, loads the worklet, and says so', async () => {
    const { player, states, sent, context } = setUp();
    expect(player.sampleRate).toBeNull();
    expect(player.open(96000)).toBe(96000);
    player.play(setup(96000));
    expect(player.state.status).toBe('starting');
    await settle();
    expect(states.at(-1)).toEqual({ status: 'playing', message: '' });
    expect(kinds(sent())).toEqual(['play']);
    expect(context().modules).toBe(1);
    expect(player.tap()).not.toBeNull();
  });

  it('hands over changes while it sounds, and none while it does not', async () => {
    const { player, sent } = setUp();
    player.update(setup());
    player.play(setup());
    await settle();
    player.update(setup(48000, 2));
    // Made for another output: it came too late.
    player.update(setup(44100));
    player.stop();
    player.update(setup());
    expect(kinds(sent())).toEqual(['play', 'update', 'stop']);
    expect(player.state).toEqual({ status: 'stopped', message: '' });
  });

  it('begins with the newest setup when it changes while the worklet loads', async () => {
    const { player, sent } = setUp();
    player.play(setup());
    player.update(setup(48000, 7));
    await settle();
    expect(sent()).toEqual([{ kind: 'play', setup: setup(48000, 7) }]);
  });

  it('does not begin when it was stopped while the worklet loads', async () => {
    const { player, sent } = setUp();
    player.play(setup());
    player.stop();
    await settle();
    expect(kinds(sent())).toEqual([]);
    expect(player.state.status).toBe('stopped');
  });

  it('moves the volume softly and begins at a modest one', async () => {
    const { player, context } = setUp();
    player.play(setup());
    await settle();
    const { gain } = context().gains[0]!;
    expect(gain.events).toEqual([{ kind: 'set', value: 0.25, time: 0 }]);
    player.setVolume(2);
    expect(player.volume).toBe(1);
    expect(gain.events.at(-1)).toMatchObject({ kind: 'target', value: 1, constant: 0.02 });
  });

  it('asks the worklet how it fares', async () => {
    const { player, context } = setUp();
    expect(await player.stats()).toBeNull();
    player.play(setup());
    await settle();
    const asked = player.stats();
    const captured = player.capture(3);
    const stats = { blocks: 5 } as never;
    const samples = Float32Array.of(1, 2, 3);
    context().node.port.reply({ kind: 'capture', id: 2, samples });
    context().node.port.reply({ kind: 'stats', id: 1, stats });
    expect(await asked).toBe(stats);
    expect(await captured).toBe(samples);
    const open = player.stats();
    player.dispose();
    expect(await open).toBeNull();
  });
});

describe('outputs', () => {
  it('that do not take the rate get their own, with a sentence', async () => {
    const { player, contexts } = setUp({ refuse: (rate) => rate === 96000 });
    expect(player.open(96000)).toBe(44100);
    player.play(setup(44100));
    await settle();
    expect(player.state).toEqual({
      status: 'playing',
      message: 'The output does not take 96 kHz; it plays at 44.1 kHz.',
    });
    expect(player.open(96000)).toBe(44100);
    expect(contexts).toHaveLength(1);
  });

  it('are opened anew when another rate is wanted', () => {
    const { player, contexts } = setUp();
    player.open(44100);
    expect(player.open(48000)).toBe(48000);
    expect(contexts.map(({ state }) => state)).toEqual(['closed', 'running']);
  });

  it('that are missing give a sentence', () => {
    const { player } = setUp({ refuse: () => true });
    expect(player.open(48000)).toBeNull();
    expect(player.state).toEqual({
      status: 'failed',
      message: 'No sound output could be opened. Connect one and press play again. (no)',
    });
  });

  it('that get lost give a sentence, and play opens them anew', async () => {
    const { player, contexts, context } = setUp();
    player.play(setup());
    await settle();
    context().dispatchEvent(new Event('error'));
    expect(player.state).toMatchObject({
      status: 'failed',
      message: expect.stringMatching(/^No sound output/) as string,
    });
    player.play(setup());
    await settle();
    expect(contexts).toHaveLength(2);
    expect(player.state.status).toBe('playing');
  });

  it('of a setup for another rate are not played', () => {
    const { player } = setUp();
    player.open(48000);
    player.play(setup(44100));
    expect(player.state.message).toMatch(/must be made for 48000 Hz.*got 44100 Hz/);
  });

  it('that the browser holds back are waited for, with a sentence', async () => {
    const { player, context, page } = setUp({ state: 'suspended' });
    player.play(setup());
    await vi.advanceTimersByTimeAsync(1000);
    expect(player.state.status).toBe('waiting');
    expect(player.state.message).toMatch(/Click on the sheet or press a key/);
    const asked = context().resumed;
    page.dispatchEvent(new Event('visibilitychange'));
    expect(context().resumed).toBe(asked + 1);
    context().become('running');
    expect(player.state.status).toBe('playing');
  });

  it.each(['pointerdown', 'pointerup', 'touchend', 'keydown'])(
    'that the browser holds back begin with a gesture anywhere on the sheet: %s',
    async (gesture) => {
      const { player, context, page } = setUp({ state: 'suspended' });
      player.play(setup());
      await vi.advanceTimersByTimeAsync(1000);
      expect(player.state.status).toBe('waiting');
      context().grants = true;
      page.dispatchEvent(new Event(gesture));
      await settle();
      expect(player.state).toEqual({ status: 'playing', message: '' });
      // No gesture opens or resumes anything once it plays, or is stopped.
      const asked = context().resumed;
      page.dispatchEvent(new Event(gesture));
      player.stop();
      context().become('suspended');
      page.dispatchEvent(new Event(gesture));
      expect(context().resumed).toBe(asked);
    },
  );

  it('that are suspended in between wake up when the page is seen or a device comes', async () => {
    const { player, context, devices } = setUp();
    player.play(setup());
    await settle();
    context().become('suspended');
    expect(player.state.status).toBe('waiting');
    context().grants = true;
    devices.dispatchEvent(new Event('devicechange'));
    await settle();
    expect(player.state.status).toBe('playing');
  });

  it('whose clock stands still give a sentence, and again none when it goes on', async () => {
    const { player, context } = setUp();
    player.play(setup());
    await vi.advanceTimersByTimeAsync(1000);
    await vi.advanceTimersByTimeAsync(1000);
    expect(player.state.message).toMatch(/takes no sound/);
    context().advance(1);
    await vi.advanceTimersByTimeAsync(1000);
    expect(player.state).toEqual({ status: 'playing', message: '' });
  });
});

describe('the worklet', () => {
  it('that can’t be loaded gives a sentence, and play tries anew', async () => {
    const { player, contexts } = setUp({ trouble: '404' });
    player.play(setup());
    await settle();
    expect(player.state.message).toMatch(/could not load the live sound.*\(404\)/);
    player.play(setup());
    await settle();
    expect(contexts).toHaveLength(2);
  });

  it('that breaks off gives a sentence', async () => {
    const { player, context } = setUp();
    player.play(setup());
    await settle();
    context().node.dispatchEvent(new Event('processorerror'));
    expect(player.state.status).toBe('failed');
  });

  it('that mutes itself says why', async () => {
    const { player, context } = setUp();
    player.play(setup());
    await settle();
    context().node.port.reply({ kind: 'fault', message: 'It was muted.' });
    expect(player.state).toEqual({ status: 'failed', message: 'It was muted.' });
  });
});

describe('a feed', () => {
  it('is connected once an output, and heard from play until stop [exact]', async () => {
    const ports: MessagePort[] = [];
    const { player, sent } = setUp({ onfeed: (port) => ports.push(port) });
    player.play(setup());
    expect(player.feeding).toBe(false);
    await settle();
    expect(player.feeding).toBe(true);
    expect(kinds(sent())).toEqual(['feed', 'play']);
    player.stop();
    expect(player.feeding).toBe(false);
    player.play(setup());
    expect(player.feeding).toBe(false);
    await settle();
    expect([player.feeding, ports.length]).toEqual([true, 1]);
    player.open(96000);
    expect(player.feeding).toBe(false);
    player.play(setup(96000));
    await settle();
    expect([player.feeding, ports.length]).toEqual([true, 2]);
    for (const port of ports) port.close();
  });

  it('is not sent a second time what has come by it [exact]', async () => {
    const { player, sent } = setUp({ onfeed: (port) => port.close() });
    player.play(setup(48000, 1));
    await settle();
    player.update(setup(48000, 2), true);
    expect(kinds(sent())).toEqual(['feed', 'play']);
    player.update(setup(48000, 3));
    expect(kinds(sent())).toEqual(['feed', 'play', 'update']);
  });

  it('is none where nobody asks for one [exact]', async () => {
    const { player, sent } = setUp();
    player.play(setup());
    await settle();
    expect([player.feeding, kinds(sent())]).toEqual([false, ['play']]);
  });
});
