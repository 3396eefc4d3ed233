import fc from 'fast-check';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { FADE, LOOKAHEAD } from '../../src/audio/phrase.ts';
import { furthest } from '../fixtures/furthest.ts';
import type { FakeGain } from './fakeAudio.ts';
import { FRAME, setup, sound, total } from './rig.ts';

beforeEach(() => {
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
});

describe('replace', () => {
  it('crossfades over 20 ms with a constant sum of gains, at the same place in the phrase [exact]', () => {
    const { player, context } = setup();
    player.play(sound(4, 0.1));
    context().advance(1.5);
    player.replace(sound(4, 0.2));
    const [old, fresh] = context().sources;
    const { when } = fresh!.started!;
    expect(when - 1.5).toBeGreaterThanOrEqual(LOOKAHEAD - 1e-9);
    expect(when - 1.5).toBeLessThan(LOOKAHEAD + FRAME + 1e-9);
    for (let i = -10; i <= 40; i++) {
      const t = when + (i * FADE) / 20;
      expect(total(context(), t)).toBeCloseTo(1, 9);
      const heard = context().heard(t);
      if (heard.length === 2) expect(heard[0]!.place).toBeCloseTo(heard[1]!.place, 9);
    }
    expect(
      context()
        .heard(when + FADE / 2)
        .map((h) => h.gain),
    ).toEqual([expect.closeTo(0.5), expect.closeTo(0.5)]);
    expect(old!.stopped).toBeCloseTo(when + FADE, 9);
  });

  it('is complete within 30 ms and a block of 128 frames', () => {
    const { player, context } = setup();
    player.play(sound(4, 0.1));
    context().advance(1);
    player.replace(sound(4, 0.2));
    const heard = context().heard(1.03 + 128 * FRAME);
    expect(heard.map((h) => h.data[0]!.toFixed(1))).toEqual(['0.2']);
  });

  it('keeps its place across a different length and rate', () => {
    const { player, context } = setup();
    player.play(sound(4));
    context().advance(3);
    player.replace(sound(1.25, 0.5, 96000));
    context().advance(0.1);
    expect(Math.abs(player.position() - ((3.1 - LOOKAHEAD) % 1.25))).toBeLessThan(3 * FRAME);
  });

  it('any sequence of changes: gains always sum to 1, all voices in step, never more than two, the last one wins [exact]', () => {
    const gaps = fc.array(fc.integer({ min: 0, max: 60 }), { minLength: 1, maxLength: 40 });
    fc.assert(
      fc.property(gaps, (list) => {
        const { player, context } = setup();
        player.play(sound(0.5, 0));
        context().advance(0.1);
        const probe = (from: number, to: number): void => {
          const step = 0.00093;
          const times = Array.from({ length: Math.ceil((to - from) / step) }, (_, i) => from + i * step);
          const all = times.map((t) => context().heard(t));
          expect(Math.max(...all.map(({ length }) => length))).toBeLessThanOrEqual(2);
          const gain = (i: number): number => all[i]!.reduce((sum, h) => sum + h.gain, 0);
          expect(furthest(0, all.length, (i) => gain(i) - 1)).toBeLessThan(1e-9);
          const apart = (i: number): number => {
            const [one, other] = all[i]!;
            const between = one && other ? Math.abs(one.place - other.place) : 0;
            return Math.min(between, 0.5 - between);
          };
          expect(furthest(0, all.length, apart)).toBeLessThan(1e-9);
        };
        list.forEach((gap, i) => {
          player.replace(sound(0.5, (i + 1) / 100));
          const now = context().currentTime;
          // The next change comes after the gap and can't alter what was heard before.
          probe(now, now + gap / 1000);
          context().advance(gap / 1000);
        });
        const now = context().currentTime;
        probe(now, now + 0.1);
        const [last, ...others] = context().heard(now + 2 * FADE + LOOKAHEAD + FADE);
        expect(others).toHaveLength(0);
        expect(last!.data[0]).toBeCloseTo(list.length / 100, 6);
      }),
      { seed: 20240509, numRuns: 100 },
    );
  });

  it('begins on whole frames and is silent before, so that no frame is heard twice [exact]', () => {
    const { player, context } = setup();
    player.play(sound());
    for (const gap of [0.3, 0.005, 0.008, 0.0123, 0.05, 0.001]) {
      context().advance(gap);
      player.replace(sound());
    }
    const [, ...fresh] = context().sources;
    expect(fresh.length).toBeGreaterThan(4);
    for (const source of fresh) {
      const { when } = source.started!;
      expect(when).toBe(Math.round(when * 48000) / 48000);
      const voice = [...source.outputs][0] as FakeGain | undefined;
      if (voice) expect(voice.gain.at(when - FRAME)).toBe(0);
    }
  });

  it('at another rate, begins where whole frames of both rates fall together [exact]', () => {
    // Every 160 frames of 48 kHz are 147 of 44.1 kHz: 300 times a second.
    const { player, context } = setup();
    player.play(sound(4, 0.5, 44100));
    for (const gap of [0.3, 0.007, 0.0123, 0.05]) {
      context().advance(gap);
      player.replace(sound(4, 0.5, 44100));
    }
    for (const source of context().sources) {
      const { when, offset } = source.started!;
      expect(Math.abs(when * 48000 - Math.round(when * 48000))).toBeLessThan(1e-6);
      expect(Math.abs(offset * 44100 - Math.round(offset * 44100))).toBeLessThan(1e-6);
    }
    const last = context().sources.at(-1)!.started!;
    // Two waits for the grid at most: one in the queue, one at its end.
    expect(last.when - context().currentTime).toBeLessThan(LOOKAHEAD + FADE + 2 / 300);
  });

  it('an output that works in longer strides is given more time', () => {
    const { player, context } = setup((c) => (c.baseLatency = 0.025));
    player.play(sound());
    expect(context().sources[0]!.started!.when).toBeCloseTo(0.025, 9);
  });

  it('lets go of everything that has faded', () => {
    const { player, context } = setup();
    player.play(sound(0.5));
    for (let i = 0; i < 50; i++) {
      context().advance(0.05);
      player.replace(sound(0.5));
    }
    context().advance(0.1);
    expect(context().sources.filter((s) => s.outputs.size > 0)).toHaveLength(1);
  });
});

describe('stop', () => {
  it('fades to nothing over 20 ms, then ends and lets go [exact]', () => {
    const { player, context, states } = setup();
    player.play(sound());
    context().advance(1);
    player.stop();
    const begin = 1 + LOOKAHEAD;
    expect(total(context(), begin)).toBe(1);
    expect(total(context(), begin + FADE / 2)).toBeCloseTo(0.5, 9);
    expect(total(context(), begin + FADE - 1e-6)).toBeLessThan(1e-3);
    expect(context().sources[0]!.stopped).toBeCloseTo(begin + FADE, 9);
    context().advance(0.1);
    expect(context().gains[0]!.outputs.size).toBe(1);
    expect(
      context()
        .gains.slice(1)
        .every((g) => g.outputs.size === 0),
    ).toBe(true);
    expect(states.at(-1)).toEqual({ status: 'stopped', message: '' });
    expect(player.position()).toBe(0);
  });

  it('in the middle of a crossfade no voice is left over', () => {
    const { player, context } = setup();
    player.play(sound());
    context().advance(1);
    player.replace(sound());
    context().advance(0.015);
    player.replace(sound());
    player.stop();
    context().advance(0.2);
    expect(context().heard(context().currentTime)).toHaveLength(0);
  });
});
