/** Listens to what the page plays: every buffer that is started, with the time at which it was. */
import type { Page } from 'playwright-core';
import { soon } from './hands.ts';

export interface Heard {
  /** Audio time at which it begins, s. */
  readonly when: number;
  /** Where in the buffer it begins, s. */
  readonly offset: number;
  readonly sampleRate: number;
  readonly samples: Float32Array;
}

interface Ears {
  readonly contexts: number;
  readonly starts: readonly Omit<Heard, 'samples'>[];
  readonly samples: readonly Float32Array[];
}

/**
 * Puts the ears on. To be run in the page: by `addInitScript` when nothing may be missed, by `evaluate` otherwise.
 */
export function putOn(): void {
  const starts: Omit<Heard, 'samples'>[] = [];
  const samples: Float32Array[] = [];
  const ears = { contexts: 0, starts, samples };
  Object.assign(window, { ears });
  // eslint-disable-next-line @typescript-eslint/unbound-method -- called with its own `this` below
  const { start } = AudioBufferSourceNode.prototype;
  AudioBufferSourceNode.prototype.start = function (when = 0, offset = 0, ...rest): void {
    if (this.buffer) {
      starts.push({ when, offset, sampleRate: this.buffer.sampleRate });
      samples.push(this.buffer.getChannelData(0).slice());
    }
    start.call(this, when, offset, ...rest);
  };
  window.AudioContext = new Proxy(AudioContext, {
    construct(Target, args: [AudioContextOptions?]) {
      ears.contexts++;
      return new Target(...args);
    },
  });
}

/** How many outputs have been opened and how many buffers started. */
export const counts = (page: Page): Promise<{ contexts: number; starts: number }> =>
  page.evaluate(() => {
    const { ears } = window as unknown as { ears: Ears };
    return { contexts: ears.contexts, starts: ears.starts.length };
  });

/** Waits until `index + 1` buffers have been started, and returns that one. */
export async function heard(page: Page, index: number): Promise<Heard> {
  await soon(async () => (await counts(page)).starts).toBeGreaterThan(index);
  const { text, ...start } = await page.evaluate((i) => {
    const { ears } = window as unknown as { ears: Ears };
    const bytes = new Uint8Array(ears.samples[i]!.buffer);
    // As text: a quarter of a million numbers as JSON take seconds.
    let packed = '';
    for (let at = 0; at < bytes.length; at += 8192)
      packed += String.fromCharCode(...bytes.subarray(at, at + 8192));
    return { ...ears.starts[i]!, text: btoa(packed) };
  }, index);
  return { ...start, samples: new Float32Array(new Uint8Array(Buffer.from(text, 'base64')).buffer) };
}

/** What was started last. */
export async function newest(page: Page): Promise<Heard> {
  return heard(page, (await counts(page)).starts - 1);
}

/** Largest magnitude. */
export const peak = (samples: Float32Array): number =>
  samples.reduce((most, sample) => Math.max(most, Math.abs(sample)), 0);

/** dB of the difference of two sounds of equal length below the first. */
export function differenceDb(a: Float32Array, b: Float32Array): number {
  let difference = 0;
  let whole = 0;
  for (let i = 0; i < a.length; i++) {
    const x = a[i] ?? 0;
    difference += (x - (b[i] ?? 0)) ** 2;
    whole += x * x;
  }
  return 10 * Math.log10(difference / whole);
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
