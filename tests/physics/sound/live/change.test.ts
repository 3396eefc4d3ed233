/**
 * What a control does to a note that sounds. The engine's output is compared with the plain crossfade of two engines that
 * have played the one and the other setup from the start [exact]: everything else would be a click.
 *
 * | what | within |
 * | --- | --- |
 * | deviation from the plain crossfade, any control | −70 dB of the peak |
 * | largest step from sample to sample | that of the unchanged signals, + 1 % |
 * | latency, one change | 15 ms; during a drag 30 ms and a block |
 */
import { describe, expect, it } from 'vitest';
import { COUPLING } from '../../../../src/physics/sound/level.ts';
import { CROSSFADE, LiveEngine } from '../../../../src/physics/sound/live/engine.ts';
import { LIMITER_DELAY } from '../../../../src/physics/sound/live/limiter.ts';
import { liveSetup } from '../../../../src/physics/sound/live/setup.ts';
import { LIVE_BLOCK, type LiveSetup } from '../../../../src/physics/sound/live/types.ts';
import type { Controls, ResolvedSheet as Sheet } from '../../../../src/sheet/sheet.ts';
import { decibels, sheetWith, withRow } from './sheets.ts';

const SPLASH_DB = -70;
const RATES = [44100, 48000, 96000];

const before = sheetWith({ fade: 5e-3 });

function withControls(change: (controls: Controls) => Controls): Sheet {
  return { ...before, harness: { ...before.harness, controls: before.harness.controls.map(change) } };
}

function withPickup(change: Partial<Sheet['pickups'][number]>): Sheet {
  return {
    ...before,
    pickups: before.pickups.map((pickup, i) => (i === 0 ? { ...pickup, ...change } : pickup)),
  };
}

const changes: [string, Sheet][] = [
  ['focus', withRow(before, (row) => ({ ...row, reach: { ...row.reach, width: 4e-3 } }))],
  ['sensitivity', withRow(before, (row) => ({ ...row, reach: { ...row.reach, sensitivity: 0.4 } }))],
  ['fade', withRow(before, (row) => ({ ...row, reach: { ...row.reach, fade: 2e-3 } }))],
  ['fade to none', sheetWith({ fade: null })],
  ['place', withPickup({ place: 0.1 })],
  ['slant', withPickup({ slant: 0.3 })],
  ['inductance', withRow(before, (row) => ({ ...row, coil: { ...row.coil, inductance: 5 } }))],
  ['self-capacitance', withRow(before, (row) => ({ ...row, coil: { ...row.coil, capacitance: 400e-12 } }))],
  ['volume', withControls((set) => ({ ...set, volume: { ...set.volume, position: 0.3 } }))],
  ['volume to nothing', withControls((set) => ({ ...set, volume: { ...set.volume, position: 0 } }))],
  ['tone', withControls((set) => ({ ...set, tone: set.tone && { ...set.tone, position: 0 } }))],
  ['cable', { ...before, harness: { ...before.harness, cable: { length: 20, capacitancePerMetre: 1e-10 } } }],
  ['neck to bridge', sheetWith({ fade: 5e-3, sounds: [2] })],
  ['neck to both', sheetWith({ fade: 5e-3, sounds: [0, 2] })],
  ['phase', withPickup({ reversed: true })],
  ['loudspeaker', sheetWith({ fade: 5e-3, listen: { through: 'loudspeaker' } })],
  ['level', sheetWith({ fade: 5e-3, listen: { level: 'matched' } })],
  ['pluck', sheetWith({ fade: 5e-3, listen: { pluck: { ...before.listen.pluck, place: 0.05 } } })],
];

const BLOCKS = 120;
const CHANGED = 60;

/** Without anything that the limiter would do. */
const quiet = (sheet: Sheet, sampleRate: number): LiveSetup => {
  const setup = liveSetup(sheet, sampleRate);
  return { ...setup, gain: 0.3 * setup.gain };
};

function play(setup: LiveSetup, change: LiveSetup | null): Float64Array {
  const engine = new LiveEngine(setup.sampleRate);
  engine.play(setup);
  const out = new Float64Array(BLOCKS * LIVE_BLOCK);
  for (let block = 0; block < BLOCKS; block++) {
    if (change && block === CHANGED) engine.update(change);
    engine.process(out.subarray(block * LIVE_BLOCK, (block + 1) * LIVE_BLOCK));
  }
  return out;
}

/** The coupling's high-pass, y from x, and the way back, which is exact. */
function coupling(sampleRate: number) {
  const k = Math.tan((Math.PI * COUPLING) / sampleRate);
  const pole = (1 - k) / (1 + k);
  const scale = 1 / (1 + k);
  return {
    forward: (x: Float64Array) => {
      const y = new Float64Array(x.length);
      x.forEach((v, i) => (y[i] = pole * (y[i - 1] ?? 0) + scale * (v - (x[i - 1] ?? 0))));
      return y;
    },
    back: (y: Float64Array) => {
      const x = new Float64Array(y.length);
      y.forEach((v, i) => (x[i] = (x[i - 1] ?? 0) + (v - pole * (y[i - 1] ?? 0)) / scale));
      return x;
    },
  };
}

/** The plain crossfade that begins `start` samples after the change has arrived. */
function crossfade(a: Float64Array, b: Float64Array, start: number, sampleRate: number): Float64Array {
  const { forward, back } = coupling(sampleRate);
  const [from, to] = [back(a), back(b)];
  const begin = CHANGED * LIVE_BLOCK + start;
  const fade = Math.round(CROSSFADE * sampleRate);
  return forward(
    from.map((v, i) => {
      const x = Math.min(1, Math.max(0, (i - begin + 1) / fade));
      const share = 0.5 - 0.5 * Math.cos(Math.PI * x);
      return (1 - share) * v + share * to[i]!;
    }),
  );
}

const largest = (signal: Float64Array) => signal.reduce((most, v) => Math.max(most, Math.abs(v)), 0);
const largestStep = (signal: Float64Array) => largest(signal.map((v, i) => v - (signal[i - 1] ?? 0)));

describe.each(RATES)('a change at %i Hz', (sampleRate) => {
  const a = quiet(before, sampleRate);
  const unchanged = play(a, null);

  it.each(changes.filter(([name]) => name !== 'pluck'))('of %s is a plain crossfade', (_, sheet) => {
    const b = quiet(sheet, sampleRate);
    const engine = new LiveEngine(sampleRate);
    engine.play(a);
    engine.process(new Float64Array(LIVE_BLOCK));
    engine.update(b);
    const start = engine.latency;
    expect(start / sampleRate).toBeLessThan(15e-3);
    const other = play(b, null);
    const changed = play(a, b);
    const plain = crossfade(unchanged, other, start, sampleRate);
    const peak = Math.max(largest(unchanged), largest(other));
    const deviation = largest(changed.map((v, i) => v - plain[i]!));
    expect(decibels(deviation / peak)).toBeLessThan(SPLASH_DB);
    expect(largestStep(changed)).toBeLessThan(1.01 * Math.max(largestStep(unchanged), largestStep(other)));
  });

  it('of the pluck is not heard before the next note', () => {
    const changed = play(a, quiet(changes.at(-1)![1], sampleRate));
    expect(largest(changed.map((v, i) => v - unchanged[i]!))).toBeLessThan(1e-7);
  });

  it('is heard when the engine says so, and not before', () => {
    const b = { ...a, gain: 2 * a.gain };
    const engine = new LiveEngine(sampleRate);
    engine.play(a);
    const out = new Float64Array(BLOCKS * LIVE_BLOCK);
    engine.process(out.subarray(0, CHANGED * LIVE_BLOCK));
    engine.update(b);
    engine.process(out.subarray(CHANGED * LIVE_BLOCK));
    const from = CHANGED * LIVE_BLOCK + engine.latency;
    const first = out.findIndex((v, i) => Math.abs(v - unchanged[i]!) > 1e-12);
    expect(first).toBeGreaterThanOrEqual(from);
    expect(first).toBeLessThan(from + 8);
    expect(engine.latency).toBeGreaterThan(LIMITER_DELAY);
  });

  it('during a drag comes within 30 ms and a block', () => {
    const engine = new LiveEngine(sampleRate);
    engine.play(a);
    const out = new Float64Array(LIVE_BLOCK);
    const steps = [a, { ...a, gain: 0.9 * a.gain }];
    for (let block = 0; block < 600; block++) {
      engine.process(out);
      // Every frame of a screen at 60 Hz, and a little off the blocks.
      if (block % Math.round(sampleRate / 60 / LIVE_BLOCK) === 0) engine.update(steps[block % 2]!);
      expect(engine.latency / sampleRate).toBeLessThan(30e-3 + LIVE_BLOCK / sampleRate);
    }
  });
});

describe('a setup that knows nothing of the note that rings', () => {
  it('lets it ring on as it was heard before', () => {
    const other = sheetWith({ fade: 5e-3, listen: { play: 'string', string: 1, fret: 7, seconds: 8 } });
    const a = quiet(
      sheetWith({ fade: 5e-3, listen: { play: 'string', string: 3, fret: 0, seconds: 8 } }),
      48000,
    );
    const unchanged = play(a, null);
    const changed = play(a, { ...quiet(other, 48000), gain: a.gain });
    expect(largest(changed.map((v, i) => v - unchanged[i]!))).toBeLessThan(1e-5);
  });
});
