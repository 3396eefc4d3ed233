/** WAV files as general-purpose tools write them, and files that are none. */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { encodeWav } from '../../../src/physics/sound/wav.ts';
import { readWav } from '../../../src/physics/sound/wavRead.ts';

const RATE = 44100;
const samples = Float64Array.from({ length: 500 }, (_, n) => 0.7 * Math.sin(n / 7) + 0.2 * Math.cos(n / 3));

/** A file as ffmpeg writes it from ours. */
function byFfmpeg(codec: string, ...options: string[]): Uint8Array {
  const folder = mkdtempSync(join(tmpdir(), 'lodetone-wav-'));
  try {
    const [from, to] = [join(folder, 'in.wav'), join(folder, 'out.wav')];
    writeFileSync(from, encodeWav(samples, RATE, 'float'));
    execFileSync('ffmpeg', ['-v', 'error', '-i', from, '-c:a', codec, ...options, to]);
    return new Uint8Array(readFileSync(to));
  } finally {
    rmSync(folder, { recursive: true });
  }
}

const hasFfmpeg = (() => {
  try {
    execFileSync('ffmpeg', ['-version'], { stdio: 'ignore' });
    return true;
  } catch {
    return false;
  }
})();

function messageOf(bytes: Uint8Array): string {
  const read = readWav(bytes);
  return read.ok ? '' : read.message;
}

describe('files of our own', () => {
  it.each(['float', '24'] as const)('are read back, %s [exact]', (format) => {
    const read = readWav(encodeWav(samples, RATE, format));
    if (!read.ok) throw new Error(read.message);
    expect(read.sound.sampleRate).toBe(RATE);
    expect(read.sound.channels).toBe(1);
    const step = format === '24' ? 2 ** -24 : 2 ** -25;
    read.sound.samples.forEach((v, i) => expect(Math.abs(v - samples[i]!)).toBeLessThanOrEqual(step));
  });
});

describe.runIf(hasFfmpeg)('files written by ffmpeg', () => {
  it.each([
    ['pcm_s16le', 16],
    ['pcm_s24le', 24],
    ['pcm_s32le', 25],
    ['pcm_f32le', 25],
  ])('as %s are read within half a step [tool]', (codec, bits) => {
    const read = readWav(byFfmpeg(codec));
    if (!read.ok) throw new Error(read.message);
    expect(read.sound.samples).toHaveLength(samples.length);
    // ffmpeg may dither or round to either side: one step.
    read.sound.samples.forEach((v, i) =>
      expect(Math.abs(v - samples[i]!)).toBeLessThanOrEqual(2 ** (1 - bits)),
    );
  });

  it('of two channels give the first [tool]', () => {
    const read = readWav(byFfmpeg('pcm_s24le', '-af', 'pan=stereo|c0=0.5*c0|c1=0*c0'));
    if (!read.ok) throw new Error(read.message);
    expect(read.sound.channels).toBe(2);
    read.sound.samples.forEach((v, i) => expect(Math.abs(v - 0.5 * samples[i]!)).toBeLessThan(2 ** -22));
  });

  it.each([
    ['pcm_u8', /got 8-bit PCM \(format 1\)/],
    ['pcm_f64le', /got 64-bit float \(format 3\)/],
    ['pcm_alaw', /got compressed \(format 6\)/],
  ])('as %s are refused in words', (codec, sentence) => {
    expect(messageOf(byFfmpeg(codec))).toMatch(sentence);
  });
});

describe('what is no WAV file', () => {
  const good = encodeWav(samples, RATE, '24');
  const changed = (at: number, ...bytes: number[]) => {
    const copy = good.slice();
    copy.set(bytes, at);
    return copy;
  };

  it.each([
    ['nothing', new Uint8Array(0), /must be a WAV file/],
    ['text', new TextEncoder().encode('a text that is longer than a header'), /must be a WAV file/],
    ['the big-endian kind', changed(0, 0x52, 0x49, 0x46, 0x58), /the variant RIFX/],
    ['no channel', changed(22, 0, 0), /must have a channel/],
    ['a sample rate of 1 Hz', changed(24, 1, 0, 0, 0), /must be 8 to 384 kHz; got 1 Hz/],
    ['only a header', good.slice(0, 36), /must have samples/],
    ['samples without a format', changed(12, 0x6a, 0x75, 0x6e, 0x6b), /must say its format/],
  ])('%s is refused in words', (_, bytes, sentence) => expect(messageOf(bytes)).toMatch(sentence));

  it('a number that is none is refused in words', () => {
    const float = encodeWav(samples, RATE, 'float');
    new DataView(float.buffer).setFloat32(58 + 4 * 7, NaN, true);
    expect(messageOf(float)).toMatch(/sample 7 is not/);
  });

  it('a file that was cut short gives what is there', () => {
    const read = readWav(good.slice(0, 44 + 300));
    expect(read.ok && read.sound.samples.length).toBe(100);
  });

  it('never throws, whatever the bytes [seeded]', () => {
    const bytes = fc.uint8Array({ maxLength: 300 });
    const mutated = fc
      .tuple(fc.array(fc.tuple(fc.nat(good.length - 1), fc.nat(255)), { maxLength: 8 }), fc.nat(good.length))
      .map(([edits, length]) => {
        const copy = good.slice(0, length);
        for (const [at, value] of edits) if (at < length) copy[at] = value;
        return copy;
      });
    fc.assert(
      fc.property(fc.oneof(bytes, mutated), (data) => {
        const read = readWav(data);
        if (read.ok) expect(read.sound.samples.every((v) => Number.isFinite(v))).toBe(true);
        else expect(read.message).toMatch(/^[A-Z].*\.$/);
      }),
      { seed: 20260, numRuns: 2000 },
    );
  });
});
