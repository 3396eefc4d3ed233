import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { LOOKAHEAD } from '../../src/audio/phrase.ts';
import { Player, type PlayerState } from '../../src/audio/player.ts';
import type { Sound } from '../../src/physics/prediction.ts';
import { FakeContext } from './fakeAudio.ts';
import { FRAME, setup, sound, total } from './rig.ts';

beforeEach(() => {
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
});

describe('play', () => {
  it('opens no output before it is asked to play', () => {
    const { player, contexts } = setup();
    player.setVolume(0.3);
    player.stop();
    player.replace(sound());
    expect(player.position()).toBe(0);
    expect(player.tap()).toBeNull();
    expect(contexts).toHaveLength(0);
  });

  it('repeats the phrase at the sound’s own rate, from its beginning', () => {
    const { player, context, states } = setup();
    player.play(sound(2, 0.5, 44100));
    const [source] = context().sources;
    expect(source!.loop).toBe(true);
    expect(source!.buffer!.sampleRate).toBe(44100);
    expect(source!.buffer!.data).toHaveLength(88200);
    expect(source!.started!.offset).toBe(0);
    expect(states).toEqual([{ status: 'playing', message: '' }]);
    context().advance(LOOKAHEAD + 5.25);
    expect(Math.abs(player.position() - 1.25)).toBeLessThan(2 * FRAME);
  });

  it('played again it starts anew, while the old one fades out', () => {
    const { player, context, contexts } = setup();
    player.play(sound(4, 0.1));
    context().advance(1);
    player.play(sound(4, 0.2));
    expect(contexts).toHaveLength(1);
    context().advance(0.1);
    const heard = context().heard(context().currentTime);
    expect(heard.map((h) => h.data[0]!.toFixed(1))).toEqual(['0.2']);
    expect(player.position()).toBeLessThan(0.1);
  });
});

describe('volume', () => {
  it('starts at −12 dB and changes gradually; the amplitude is the square of the figure [exact]', () => {
    const { player, context } = setup();
    player.play(sound());
    const [master] = context().gains;
    expect(master!.gain.events).toEqual([{ kind: 'set', value: 0.25, time: 0 }]);
    context().advance(1);
    player.setVolume(0.8);
    const change = master!.gain.events.at(-1)!;
    expect(change).toMatchObject({ kind: 'target', time: 1, constant: 0.02 });
    expect(change.value).toBeCloseTo(0.64, 12);
  });

  it.each([
    [2, 1],
    [-1, 0],
    [NaN, 0],
  ])('%d is held at %d', (asked, held) => {
    const { player } = setup();
    player.setVolume(asked);
    expect(player.volume).toBe(held);
  });
});

describe('guard', () => {
  const loud = 10 ** (-1 / 20);
  const withSample = (value: number): Sound => {
    const s = sound(0.1);
    s.samples[100] = value;
    return s;
  };

  it.each([
    ['NaN', withSample(NaN), /finite number; sample 100 is not/],
    ['infinity', withSample(-Infinity), /finite number; sample 100 is not/],
    ['a peak above −1 dBFS', withSample(-0.9), /at or below −1 dBFS; got −0\.9 dBFS/],
    ['no samples', sound(0), /must have samples/],
    ['no rate', { ...sound(), sampleRate: 0 }, /sample rate of a sound must be positive; got 0 Hz/],
  ])('refuses %s with a sentence and stays silent', (_, bad, sentence) => {
    const { player, contexts, states } = setup();
    player.play(bad);
    expect(contexts).toHaveLength(0);
    expect(states).toHaveLength(1);
    expect(states[0]!.status).toBe('failed');
    expect(states[0]!.message).toMatch(sentence);
  });

  it('takes a peak of exactly −1 dBFS', () => {
    const { player } = setup();
    player.play(withSample(loud));
    expect(player.state.status).toBe('playing');
  });

  it('a bad sound in mid-phrase mutes, since the old one no longer is what the sheet says', () => {
    const { player, context } = setup();
    player.play(sound());
    context().advance(1);
    player.replace(withSample(NaN));
    expect(player.state.status).toBe('failed');
    expect(total(context(), 1.5)).toBe(0);
    player.play(sound());
    expect(player.state).toEqual({ status: 'playing', message: '' });
  });
});

describe('outputs that do not play along', () => {
  it('a held-back output is resumed; the state says so only when it stays held back', () => {
    const { player, context, states } = setup((c) => (c.state = 'suspended'));
    player.play(sound());
    expect(context().resumed).toBe(1);
    expect(states).toEqual([]);
    vi.advanceTimersByTime(1000);
    expect(states).toEqual([
      { status: 'waiting', message: expect.stringMatching(/holds the sound back\. Click/) },
    ]);
    context().become('running');
    expect(states.at(-1)).toEqual({ status: 'playing', message: '' });
  });

  it('one that lets go at once plays without a word', async () => {
    const { player, states } = setup((c) => {
      c.state = 'suspended';
      c.grants = true;
    });
    player.play(sound());
    await Promise.resolve();
    expect(states).toEqual([{ status: 'playing', message: '' }]);
  });

  it('an interruption while playing is shown, and ends by itself or when the page is seen again', () => {
    const { player, context, states, page } = setup();
    player.play(sound());
    context().become('interrupted');
    expect(states.at(-1)!.status).toBe('waiting');
    context().grants = true;
    page.dispatchEvent(new Event('visibilitychange'));
    expect(states.at(-1)!.status).toBe('playing');
  });

  it.each(['pointerdown', 'pointerup', 'touchend', 'keydown'])(
    'a held-back output begins with a gesture anywhere on the sheet: %s',
    async (gesture) => {
      const { player, context, states, page } = setup((c) => (c.state = 'suspended'));
      player.play(sound());
      vi.advanceTimersByTime(1000);
      context().grants = true;
      page.dispatchEvent(new Event(gesture));
      await Promise.resolve();
      expect(states.at(-1)).toEqual({ status: 'playing', message: '' });
    },
  );

  it('after stop, nothing that the output does is reported', () => {
    const { player, context, states, page } = setup();
    player.play(sound());
    player.stop();
    const count = states.length;
    context().become('suspended');
    page.dispatchEvent(new Event('visibilitychange'));
    vi.advanceTimersByTime(5000);
    expect(states).toHaveLength(count);
    expect(context().resumed).toBe(0);
  });

  it('an output whose clock stands still is reported', () => {
    const { player, states } = setup();
    player.play(sound());
    vi.advanceTimersByTime(1000);
    expect(states.at(-1)).toEqual({
      status: 'waiting',
      message: expect.stringMatching(/^The sound output takes no sound/),
    });
  });

  it('no output at all is a sentence, not an exception, and may be tried again', () => {
    let missing = true;
    const states: PlayerState[] = [];
    const player = new Player({
      page: null,
      onchange: (s) => states.push(s),
      createContext: () => {
        if (missing) throw new Error('no device');
        return new FakeContext() as unknown as AudioContext;
      },
    });
    player.play(sound());
    expect(states.at(-1)).toEqual({
      status: 'failed',
      message: 'No sound output could be opened. Connect one and press play again. (no device)',
    });
    missing = false;
    player.play(sound());
    expect(player.state.status).toBe('playing');
  });

  it('a lost output is reported, and play opens a new one', () => {
    const { player, context, contexts, states } = setup();
    player.play(sound());
    context().dispatchEvent(new Event('error'));
    expect(states.at(-1)!.status).toBe('failed');
    player.play(sound());
    expect(contexts).toHaveLength(2);
    expect(player.state.status).toBe('playing');
  });

  it('a rate that the browser does not take is a sentence', () => {
    const { player } = setup();
    player.play(sound(0.1, 0.5, 1000));
    expect(player.state.message).toMatch(
      /^This browser can't play a sound of 1000 Hz\. Choose another sample rate\./,
    );
  });
});

it('the tap hears what the volume lets through', () => {
  const { player, context } = setup();
  player.play(sound());
  const tap = player.tap();
  expect(player.tap()).toBe(tap);
  expect([...context().gains[0]!.outputs]).toEqual([context().destination, tap]);
});

it('dispose fades out, then closes the output', () => {
  const { player, context } = setup();
  player.play(sound());
  player.dispose();
  expect(context().state).toBe('running');
  vi.advanceTimersByTime(100);
  expect(context().state).toBe('closed');
});
