/** What is asked of the workers and handed to the player while a sheet is played and changed. */
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { builtSheet } from '../fixtures/builtSheet.ts';
import { playing, rest, setup, setUp, sheetWith, turn } from './listeningRig.ts';

beforeEach(() => vi.useFakeTimers());
afterEach(() => vi.useRealTimers());

describe('play', () => {
  it('opens the output within the gesture, finds the level, and begins at it [exact]', async () => {
    const rig = setUp();
    rig.listening.play();
    expect(rig.player.opened).toEqual([48000]);
    expect(rig.listening.playing).toBe(true);
    await turn();
    expect(rig.asked('live')).toEqual([]);
    await rig.answer('level', { gain: 4, loudness: -41 });
    expect(rig.asked('live').at(-1)?.input).toEqual({ sampleRate: 48000, gain: 4, feed: false });
    await rig.answer('live', setup(4));
    expect(rig.player.played.map(({ gain }) => gain)).toEqual([4]);
    expect(rig.listening.gain).toBe(4);
  });

  it('asks for no level where it is as it is [exact]', async () => {
    const rig = setUp(sheetWith({ level: 'as it is' }));
    rig.listening.play();
    await turn();
    expect(rig.asked('live').at(-1)?.input).toEqual({ sampleRate: 48000, gain: null, feed: false });
  });

  it('that was stopped before it began stays silent [exact]', async () => {
    const rig = setUp();
    rig.listening.play();
    await turn();
    rig.listening.stop();
    await rig.answer('level', { gain: 4, loudness: -41 });
    expect(rig.asked('live')).toEqual([]);
    expect(rig.player.played).toEqual([]);
    expect(rig.listening.playing).toBe(false);
  });

  it('without an output says so and asks for nothing [exact]', async () => {
    const rig = setUp();
    rig.player.refuses = true;
    rig.listening.play();
    await turn();
    expect(rig.listening.playing).toBe(false);
    expect(rig.listening.player.message).toBe('No output.');
    expect(rig.asked('live')).toEqual([]);
  });

  it('of what can’t be computed says why [exact]', async () => {
    const rig = setUp(sheetWith({ level: 'as it is' }));
    rig.listening.play();
    await turn();
    rig.workers.get('live')!.complain('The pole must be shorter.');
    await turn();
    expect(rig.listening.problem).toBe('The pole must be shorter.');
    expect(rig.listening.playing).toBe(false);
  });

  it('follows what was changed while it began [exact]', async () => {
    const rig = setUp(sheetWith({ level: 'as it is' }));
    rig.listening.play();
    await turn();
    rig.change(sheetWith({ level: 'as it is', tempo: 77 }));
    await rig.answer('live', setup(0.5));
    expect(rig.player.played).toHaveLength(1);
    expect(rig.asked('live').at(-1)?.sheet.listen.tempo).toBe(77);
  });
});

describe('a drag', () => {
  it('keeps the gain, never has more than one request waiting, and is matched anew when it rests [exact]', async () => {
    const rig = setUp();
    await playing(rig);
    for (let tempo = 100; tempo < 150; tempo++) rig.drag(sheetWith({ tempo }));
    // The first has begun; of the others only the last waits.
    expect(rig.asked('live').map(({ sheet }) => sheet.listen.tempo)).toEqual([expect.anything(), 100]);
    await rig.answer('live', setup(4));
    await rig.answer('live', setup(4));
    expect(
      rig
        .asked('live')
        .map(({ sheet }) => sheet.listen.tempo)
        .slice(1),
    ).toEqual([100, 149]);
    expect(rig.asked('live').map(({ input }) => input)).toEqual(
      Array<unknown>(3).fill({ sampleRate: 48000, gain: 4, feed: false }),
    );
    expect(rig.player.updated).toHaveLength(2);
    expect(rig.asked('level')).toHaveLength(1);
    await rest();
    expect(rig.asked('level')).toHaveLength(2);
    await rig.answer('level', { gain: 8, loudness: -47 });
    expect(rig.asked('live').at(-1)?.input).toEqual({ sampleRate: 48000, gain: 8, feed: false });
    await rig.answer('live', setup(8));
    expect(rig.player.updated.at(-1)?.gain).toBe(8);
    expect(rig.listening.level?.loudness).toBe(-47);
    expect(rig.player.played).toHaveLength(1);
  });

  it('goes from the worker to what sounds by itself where there is a way, and not twice [exact]', async () => {
    const rig = setUp();
    await playing(rig);
    rig.player.feeding = true;
    rig.drag(sheetWith({ tempo: 100 }));
    expect(rig.asked('live').at(-1)?.input).toMatchObject({ feed: true });
    await rig.answer('live', setup(4, 12));
    expect(rig.player.updated).toEqual([]);
    // A fresh worker after a crash doesn't know the way.
    rig.drag(sheetWith({ tempo: 110 }));
    await rig.answer('live', setup(4));
    expect(rig.player.updated).toHaveLength(1);
  });

  it('along the strings is heard at once with the field it had, and then with its own [exact]', async () => {
    const at = (place: number) => {
      const sheet = builtSheet('six rods');
      const [first, ...others] = sheet.pickups;
      const pickups = [{ ...first!, place: first!.place + place }, ...others];
      return { ...sheet, pickups, listen: { ...sheet.listen, level: 'as it is' as const } };
    };
    const rig = setUp(at(0));
    rig.listening.play();
    await turn();
    await rig.answer('field', [{}, null, null]);
    await rig.answer('live', setup(0.5));
    rig.drag(at(0.01));
    await turn();
    expect(rig.asked('field')).toHaveLength(1);
    await rig.answer('live', setup(0.6));
    expect(rig.player.updated.map(({ gain }) => gain)).toEqual([0.6]);
    expect(rig.asked('field')).toHaveLength(2);
    await rig.answer('field', [{}, null, null]);
    await rig.answer('live', setup(0.7));
    expect(rig.player.updated.map(({ gain }) => gain)).toEqual([0.6, 0.7]);
  });

  it('renders nothing while it sounds; the beginning is rendered once it is silent [exact]', async () => {
    const rig = setUp();
    await playing(rig);
    rig.drag(sheetWith({ tempo: 80 }));
    await rig.answer('live', setup(4));
    await rest();
    await rig.answer('level', { gain: 4, loudness: -41 });
    expect(rig.asked('beginning')).toEqual([]);
    rig.listening.stop();
    await turn();
    expect(rig.asked('beginning').map(({ sheet }) => sheet.listen.tempo)).toEqual([80]);
  });

  it('while nothing sounds asks for nothing until it rests [exact]', async () => {
    const rig = setUp();
    rig.listening.beginning = { samples: new Float64Array(1) } as never;
    for (let tempo = 100; tempo < 110; tempo++) {
      rig.drag(sheetWith({ tempo }));
      await vi.advanceTimersByTimeAsync(16);
    }
    expect(rig.asked('beginning')).toEqual([]);
    await rest();
    await rig.answer('level', { gain: 4, loudness: -41 });
    expect(rig.asked('beginning').map(({ sheet }) => sheet.listen.tempo)).toEqual([109]);
  });
});

describe('the output', () => {
  it('is opened anew for another sample rate while it sounds [exact]', async () => {
    const rig = setUp(sheetWith({ level: 'as it is' }));
    rig.listening.play();
    await turn();
    await rig.answer('live', setup(0.5));
    rig.change(sheetWith({ level: 'as it is', sampleRate: 96000 }));
    expect(rig.player.opened).toEqual([48000, 96000]);
    await turn();
    expect(rig.asked('live').at(-1)?.input).toEqual({ sampleRate: 96000, gain: null, feed: false });
    await rig.answer('live', { setup: { gain: 0.5, sampleRate: 96000 }, fedAt: null });
    expect(rig.player.played).toHaveLength(2);
  });

  it('begins at a modest volume and takes what is set [exact]', () => {
    const { listening, player } = setUp();
    // Its square is the amplitude: −12 dB.
    expect(player.volume).toBe(0.5);
    listening.setVolume(0.3);
    expect(player.volume).toBe(0.3);
    listening.setVolume(7);
    expect([player.volume, listening.volume]).toEqual([1, 1]);
  });
});
