/** Listens to what the page plays: what leaves its worklet, and every buffer that is started. */
import type { Page } from 'playwright-core';
import type { LiveStats } from '../../../src/physics/sound/live/types.ts';
import { PATIENCE, soon } from './hands.ts';

export interface Heard {
  readonly sampleRate: number;
  readonly samples: Float32Array;
}

interface Ears {
  readonly contexts: AudioContext[];
  readonly nodes: AudioWorkletNode[];
  readonly buffers: AudioBuffer[];
  /** Times since the page's beginning, ms, at which a changed setup went to the worklet. */
  readonly updates: number[];
  asked: number;
}

type Window_ = { ears: Ears };

/** For what is about the sound alone: who asks for less motion has the pictures of what sounds twice a second, a tenth less work. */
export const STILL = { reducedMotion: 'reduce' } as const;

/** Puts the ears on. To be run in the page by `addInitScript`, so that nothing is missed. */
export function putOn(): void {
  const ears: Ears = { contexts: [], nodes: [], buffers: [], updates: [], asked: 0 };
  Object.assign(window, { ears });
  window.AudioContext = new Proxy(AudioContext, {
    construct(Target, args: [AudioContextOptions?]) {
      const context = new Target(...args);
      ears.contexts.push(context);
      return context;
    },
  });
  window.AudioWorkletNode = new Proxy(AudioWorkletNode, {
    construct(Target, args: [BaseAudioContext, string]) {
      const node = new Target(...args);
      ears.nodes.push(node);
      return node;
    },
  });
  window.Worker = new Proxy(Worker, {
    construct(Target, args: [URL, WorkerOptions?]) {
      const worker = new Target(...args);
      // Setups go to the worklet past the page, which hears of them later.
      worker.addEventListener('message', ({ data }: MessageEvent<{ value?: { fedAt?: number | null } }>) => {
        const { fedAt } = data.value ?? {};
        if (typeof fedAt === 'number') ears.updates.push(fedAt - performance.timeOrigin);
      });
      return worker;
    },
  });
  // eslint-disable-next-line @typescript-eslint/unbound-method -- called with its own `this` below
  const { start } = AudioBufferSourceNode.prototype;
  AudioBufferSourceNode.prototype.start = function (...args): void {
    // The picture of a silent phrase is made in an offline context, which nobody hears.
    if (this.buffer && this.context instanceof AudioContext) ears.buffers.push(this.buffer);
    start.apply(this, args);
  };
}

/** As if nothing had been heard yet: the next test has the page. */
export const takeBack = (page: Page): Promise<void> =>
  page.evaluate(() => {
    const { ears } = window as unknown as Window_;
    for (const heard of [ears.contexts, ears.nodes, ears.buffers, ears.updates]) heard.splice(0);
  });

/** How many outputs have been opened, worklets made and buffers started. */
export const counts = (page: Page): Promise<{ contexts: number; nodes: number; buffers: number }> =>
  page.evaluate(() => {
    const { contexts, nodes, buffers } = (window as unknown as Window_).ears;
    return { contexts: contexts.length, nodes: nodes.length, buffers: buffers.length };
  });

/**
 * The next seconds that leave the worklet of the newest output, before the volume. Waits for it to be there, and asks
 * anew when the output is exchanged for another meanwhile: a closed one never answers.
 */
export async function capture(page: Page, seconds: number): Promise<Heard> {
  let heard: Heard | null = null;
  await soon(
    async () => (heard ??= await captureOnce(page, seconds)),
    'nothing left the worklet',
  ).not.toBeNull();
  return heard!;
}

/** null when there is no worklet yet, when its output has been exchanged, or when it gave nothing for PATIENCE. */
async function captureOnce(page: Page, seconds: number): Promise<Heard | null> {
  const got = await page.evaluate(
    async ([length, patience]) => {
      const { ears } = window as unknown as Window_;
      const node = ears.nodes.at(-1);
      if (!node) return null;
      const { context } = node;
      const { sampleRate } = context;
      // The player counts from 1 upwards.
      const id = --ears.asked;
      const samples = await new Promise<Float32Array | null>((resolve) => {
        const until = performance.now() + patience + 1000 * length;
        const end = (result: Float32Array | null): void => {
          clearInterval(watch);
          node.port.removeEventListener('message', hear);
          resolve(result);
        };
        const hear = ({ data }: MessageEvent<{ id: number; samples: Float32Array }>): void => {
          if (data.id === id) end(data.samples);
        };
        const watch = setInterval(() => {
          const left = context !== ears.contexts.at(-1) || context.state === 'closed';
          if (left || performance.now() > until) end(null);
        }, 50);
        node.port.addEventListener('message', hear);
        node.port.postMessage({ kind: 'capture', id, samples: Math.round(length * sampleRate) });
      });
      return samples && { text: packed(samples), sampleRate };

      // As text: a quarter of a million numbers as JSON take seconds.
      function packed(numbers: Float32Array): string {
        const bytes = new Uint8Array(numbers.buffer, numbers.byteOffset, numbers.byteLength);
        let all = '';
        for (let at = 0; at < bytes.length; at += 8192)
          all += String.fromCharCode(...bytes.subarray(at, at + 8192));
        return btoa(all);
      }
    },
    [seconds, PATIENCE] as const,
  );
  return got && { sampleRate: got.sampleRate, samples: unpacked(got.text) };
}

/** The buffer that was started last. */
export async function newestBuffer(page: Page): Promise<Heard> {
  const { text, sampleRate } = await page.evaluate(() => {
    const buffer = (window as unknown as Window_).ears.buffers.at(-1)!;
    const bytes = new Uint8Array(buffer.getChannelData(0).slice().buffer);
    let all = '';
    for (let at = 0; at < bytes.length; at += 8192)
      all += String.fromCharCode(...bytes.subarray(at, at + 8192));
    return { text: btoa(all), sampleRate: buffer.sampleRate };
  });
  return { sampleRate, samples: unpacked(text) };
}

const unpacked = (text: string): Float32Array =>
  new Float32Array(new Uint8Array(Buffer.from(text, 'base64')).buffer);

/** From inside the newest worklet. */
export const stats = (page: Page): Promise<LiveStats> =>
  page.evaluate(() => {
    const { ears } = window as unknown as Window_;
    const { port } = ears.nodes.at(-1)!;
    const id = --ears.asked;
    return new Promise((resolve) => {
      const hear = ({ data }: MessageEvent<{ id: number; stats: LiveStats }>): void => {
        if (data.id !== id) return;
        port.removeEventListener('message', hear);
        resolve(data.stats);
      };
      port.addEventListener('message', hear);
      port.postMessage({ kind: 'stats', id });
    });
  });

/** Of the newest output: what the browser says about it. */
export const output = (page: Page): Promise<{ state: string; sampleRate: number }> =>
  page.evaluate(() => {
    const { state, sampleRate } = (window as unknown as Window_).ears.contexts.at(-1)!;
    return { state, sampleRate };
  });

/** Takes the newest output away, as some systems do, or gives it back. */
export const suspend = (page: Page, on: boolean): Promise<void> =>
  page.evaluate((off) => {
    const context = (window as unknown as Window_).ears.contexts.at(-1)!;
    return off ? context.suspend() : context.resume();
  }, on);

/** When changed setups went to the worklet, ms since the page's beginning. */
export const updates = (page: Page): Promise<number[]> =>
  page.evaluate(() => (window as unknown as Window_).ears.updates);

/** Largest magnitude. */
export const peak = (samples: Float32Array): number =>
  samples.reduce((most, sample) => Math.max(most, Math.abs(sample)), 0);

/** Root of the mean square. */
export function level(samples: Float32Array): number {
  let sum = 0;
  for (const sample of samples) sum += sample * sample;
  return Math.sqrt(sum / samples.length);
}

/**
 * How bright it is: power of the sample-to-sample difference over power, dB. The difference rises by 6 dB an octave,
 * so it weighs high partials more; for a sine of angular frequency w a sample it is 20 lg(2 sin(w/2)).
 */
export function brightness(samples: Float32Array): number {
  let steps = 0;
  let whole = 0;
  for (let i = 1; i < samples.length; i++) {
    const x = samples[i] ?? 0;
    steps += (x - (samples[i - 1] ?? 0)) ** 2;
    whole += x * x;
  }
  return 10 * Math.log10(steps / whole);
}
