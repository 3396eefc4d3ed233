/** What is heard at which level when another trial is turned to. */
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { playing, rest, setup, setUp, sheetWith, turn } from './listeningRig.ts';

beforeEach(() => vi.useFakeTimers());
afterEach(() => vi.useRealTimers());

describe('another trial', () => {
  it('whose level is known is matched from its first sample [exact]', async () => {
    const rig = setUp();
    await playing(rig);
    const other = sheetWith({ tempo: 90 });
    const known = rig.listening.loudnessOf(other);
    await turn();
    await rig.answer('level', { gain: 6, loudness: -44.5 });
    expect(await known).toEqual({ gain: 6, loudness: -44.5 });
    rig.change(other);
    expect(rig.asked('live').at(-1)?.input).toEqual({ sampleRate: 48000, gain: 6, feed: false });
  });

  it('whose level is not known is waited for, and heard at no other than its own [exact]', async () => {
    const rig = setUp();
    await playing(rig);
    rig.change(sheetWith({ tempo: 90 }));
    await rest();
    // What sounded before sounds on.
    expect(rig.asked('live')).toHaveLength(1);
    expect(rig.listening.matching).toBe(true);
    await rig.answer('level', { gain: 6, loudness: -44.5 });
    expect(rig.listening.matching).toBe(false);
    expect(rig.asked('live').at(-1)?.sheet.listen.tempo).toBe(90);
    expect(rig.asked('live').map(({ input }) => (input as { gain: number }).gain)).toEqual([4, 6]);
    await rig.answer('live', setup(6));
    await rest();
    expect(rig.player.updated.map(({ gain }) => gain)).toEqual([6]);
    expect(rig.asked('level')).toHaveLength(2);
  });

  it('turned to before the last one was known is the one that is heard [exact]', async () => {
    const rig = setUp();
    await playing(rig);
    for (const tempo of [70, 80, 90]) rig.change(sheetWith({ tempo }));
    await turn();
    expect(rig.asked('level').map(({ sheet }) => sheet.listen.tempo)).toEqual([expect.anything(), 70]);
    await rig.answer('level', { gain: 2, loudness: -30 });
    // The one between is not even asked for.
    expect(rig.asked('level').at(-1)?.sheet.listen.tempo).toBe(90);
    expect(rig.asked('live')).toHaveLength(1);
    await rig.answer('level', { gain: 6, loudness: -44.5 });
    expect(rig.asked('live')).toHaveLength(2);
    expect(rig.asked('live').at(-1)).toMatchObject({ sheet: { listen: { tempo: 90 } }, input: { gain: 6 } });
  });

  it('known is turned to at once while another is waited for, which is then not heard [exact]', async () => {
    const rig = setUp();
    await playing(rig);
    rig.change(sheetWith({ tempo: 90 }));
    await turn();
    rig.change(sheetWith({}));
    expect(rig.asked('live')).toHaveLength(2);
    await rig.answer('live', setup(4));
    await rig.answer('level', { gain: 6, loudness: -44.5 });
    expect(rig.asked('live')).toHaveLength(2);
  });

  it('that is dragged at before its level is known is heard at that level [exact]', async () => {
    const rig = setUp();
    await playing(rig);
    rig.change(sheetWith({ tempo: 90 }));
    await turn();
    rig.drag(sheetWith({ tempo: 91 }));
    expect(rig.asked('live')).toHaveLength(1);
    await rig.answer('level', { gain: 6, loudness: -44.5 });
    expect(rig.asked('live').at(-1)).toMatchObject({ sheet: { listen: { tempo: 91 } }, input: { gain: 6 } });
  });

  it('that can’t be computed says so, and leaves what sounds [exact]', async () => {
    const rig = setUp();
    await playing(rig);
    rig.change(sheetWith({ tempo: 90 }));
    await turn();
    rig.workers.get('level')!.complain('The pole must be shorter.');
    await turn();
    rig.workers.get('live')!.complain('The pole must be shorter.');
    await turn();
    expect(rig.listening.problem).toBe('The pole must be shorter.');
    expect(rig.player.updated).toEqual([]);
  });

  it('that is waited for is not heard after stop [exact]', async () => {
    const rig = setUp();
    await playing(rig);
    rig.change(sheetWith({ tempo: 90 }));
    await turn();
    rig.listening.stop();
    await rig.answer('level', { gain: 6, loudness: -44.5 });
    expect(rig.asked('live')).toHaveLength(1);
    expect(rig.player.updated).toEqual([]);
  });

  it('somebody listens for comes before those that nobody does [exact]', async () => {
    const rig = setUp();
    await playing(rig);
    for (const tempo of [60, 70, 80]) void rig.listening.loudnessOf(sheetWith({ tempo }));
    await turn();
    rig.change(sheetWith({ tempo: 80 }));
    await turn();
    for (const gain of [1, 2, 3]) await rig.answer('level', { gain, loudness: -30 });
    expect(
      rig
        .asked('level')
        .map(({ sheet }) => sheet.listen.tempo)
        .slice(1),
    ).toEqual([60, 80, 70]);
    expect(rig.asked('live').at(-1)?.input).toMatchObject({ gain: 2 });
  });

  it('may be heard without being opened, and nothing says which [exact]', async () => {
    const rig = setUp();
    await playing(rig);
    expect(rig.listening.hidden).toBe(false);
    rig.listening.hearInstead(sheetWith({ tempo: 90 }));
    expect(rig.listening.hidden).toBe(true);
    await rig.answer('level', { gain: 4, loudness: -41 });
    expect(rig.asked('live').at(-1)?.sheet.listen.tempo).toBe(90);
    await rig.answer('live', setup(4));
    rig.listening.hearInstead(null);
    expect(rig.asked('live').at(-1)?.sheet.listen.tempo).toBe(sheetWith({}).listen.tempo);
  });

  it('and others are asked for one after another, each once [exact]', async () => {
    const rig = setUp();
    const sheets = [60, 70, 80].map((tempo) => sheetWith({ tempo }));
    const levels = Promise.all([...sheets, ...sheets].map((sheet) => rig.listening.loudnessOf(sheet)));
    for (const gain of [1, 2, 3]) {
      await turn();
      await rig.answer('level', { gain, loudness: -30 });
    }
    expect((await levels).map((level) => level?.gain)).toEqual([1, 2, 3, 1, 2, 3]);
    expect(rig.asked('level')).toHaveLength(3);
    // What the phrase doesn't depend on leaves its level alone.
    const retitled = { ...sheets[0]!, title: 'another', notes: 'other' };
    expect((await rig.listening.loudnessOf(retitled))?.gain).toBe(1);
    expect((await rig.listening.loudnessOf(sheetWith({ tempo: 60, level: 'as it is' })))?.gain).toBe(1);
  });
});
