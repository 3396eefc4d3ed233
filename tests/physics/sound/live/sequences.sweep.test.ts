/** Random sequences: any sheet the check lets through, any order of play, change and stop, blocks of any length. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { LiveEngine } from '../../../../src/physics/sound/live/engine.ts';
import { LIMIT } from '../../../../src/physics/sound/live/limiter.ts';
import { liveSetup } from '../../../../src/physics/sound/live/setup.ts';
import { truePeak } from '../../../../src/physics/sound/live/truePeak.ts';
import type { LiveSetup } from '../../../../src/physics/sound/live/types.ts';
import { arbitraryHandSheet } from '../../../fixtures/arbitrarySheet.ts';
import { soakPlan } from '../../../soak/tools/plan.ts';

/** How many of each kind at each sample rate. */
const { count: COUNT, seed: SEED } = soakPlan('sequences', 170, 12_000, 20260);
/** Sheets to choose from, other ones at each sample rate: to set one up takes as long as many sequences. */
const SETUPS = Math.max(24, Math.min(150, Math.round(COUNT / 8)));
const RATES = [44100, 48000, 96000];
/** −90 dBFS. */
const DIRECT = 10 ** (-90 / 20);
/** The estimate of a peak between samples may pass the limit by this much, dB. */
const TRUE_PEAK_ROOM = 0.1;

/** A plain generator with a seed: x(n+1) = 1664525 x(n) + 1013904223 modulo 2³². */
function random(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}

interface Heard {
  readonly engine: LiveEngine;
  readonly sound: Float64Array;
}

/** @param gain for an exchanged setup @param restarts whether it is stopped and begun anew in between */
function sequences(
  setups: readonly LiveSetup[],
  count: number,
  seed: number,
  gain: (setup: LiveSetup, next: () => number) => number,
  restarts: boolean,
): Heard {
  const next = random(seed);
  const pick = () => {
    const setup = setups[Math.floor(next() * setups.length)]!;
    return { ...setup, gain: gain(setup, next) };
  };
  const engine = new LiveEngine(setups[0]!.sampleRate);
  const parts: Float64Array[] = [];
  for (let s = 0; s < count; s++) {
    if (s === 0 || (restarts && next() < 0.3)) engine.play(pick());
    for (let step = 0; step < 4; step++) {
      const action = next();
      if (action < 0.6) engine.update(pick());
      else if (restarts && action < 0.63) engine.stop();
      else if (restarts && action < 0.68) engine.play(pick());
      const block = new Float64Array(1 + Math.floor(next() * 500));
      engine.process(block);
      parts.push(block);
    }
  }
  const sound = new Float64Array(parts.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const part of parts) {
    sound.set(part, at);
    at += part.length;
  }
  return { engine, sound };
}

function expectSafe({ engine, sound }: Heard): void {
  const limit = LIMIT * (1 + 1e-12);
  const bad = sound.findIndex((v) => !(Math.abs(v) <= limit));
  expect(bad, `sample ${bad}: ${sound[bad]}`).toBe(-1);
  expect(engine.fault).toBe(false);
  expect(20 * Math.log10(truePeak(sound) / LIMIT)).toBeLessThan(TRUE_PEAK_ROOM);
  // Otherwise the test would have heard nothing.
  expect(sound.filter((v) => v !== 0).length / sound.length).toBeGreaterThan(0.25);
}

describe.each(RATES)('random sequences at %i Hz', (sampleRate) => {
  const setups = fc
    .sample(arbitraryHandSheet, { numRuns: SETUPS, seed: SEED + sampleRate })
    .map((sheet) => liveSetup(sheet, sampleRate));

  const wanted = ({ gain }: LiveSetup) => Math.min(gain, 1);

  it('at the levels of their sheets, begun and stopped, are finite and at or below −1 dBFS', () => {
    expectSafe(sequences(setups, COUNT, SEED + sampleRate, wanted, true));
  });

  it('while it plays on also have no direct voltage', () => {
    const heard = sequences(setups, COUNT, SEED + 2 * sampleRate, wanted, false);
    expectSafe(heard);
    const mean = heard.sound.reduce((sum, v) => sum + v, 0) / heard.sound.length;
    expect(Math.abs(mean)).toBeLessThan(DIRECT);
  });

  it('at any level at all are finite and at or below −1 dBFS', () => {
    const level = (_: LiveSetup, next: () => number) => 10 ** (8 * next() - 4);
    const heard = sequences(setups, COUNT, SEED - sampleRate, level, true);
    expectSafe(heard);
    expect(heard.sound.reduce((most, v) => Math.max(most, Math.abs(v)), 0)).toBeGreaterThan(0.8);
  });
});

describe('what is not a number', () => {
  const setup = liveSetup(fc.sample(arbitraryHandSheet, { numRuns: 1, seed: SEED })[0]!, 48000, 0.5);

  it('mutes the engine, which says so, until play', () => {
    const engine = new LiveEngine(48000);
    const out = new Float64Array(4096);
    engine.play(setup);
    engine.process(out);
    engine.update({ ...setup, gain: NaN });
    engine.process(out);
    engine.process(out);
    expect(engine.fault).toBe(true);
    expect(out.every((v) => v === 0)).toBe(true);
    engine.play(setup);
    engine.process(out);
    expect(engine.fault).toBe(false);
    expect(out.some((v) => v !== 0)).toBe(true);
    expect(out.every((v) => Number.isFinite(v))).toBe(true);
  });

  it('in the weights does no harm either', () => {
    const engine = new LiveEngine(48000);
    const broken = {
      ...setup,
      notes: setup.notes.map((note) => ({ ...note, weights: note.weights.map((w) => w.map(() => NaN)) })),
    };
    engine.play(broken);
    const out = new Float64Array(8192);
    engine.process(out);
    expect(out.every((v) => Number.isFinite(v))).toBe(true);
  });
});

it('a setup for another sample rate is refused in words', () => {
  const engine = new LiveEngine(44100);
  const setup = liveSetup(fc.sample(arbitraryHandSheet, { numRuns: 1, seed: SEED })[0]!, 48000, 0.5);
  expect(() => engine.play(setup)).toThrow(/must be made for 44100 Hz.*got one for 48000 Hz/);
});
