/** [tool] Files are read back by a general-purpose program: ffmpeg or sox, whichever is installed, or both. */
import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { encodeWav } from '../../../src/physics/sound/wav.ts';

const works = (program: string, flag: string) => spawnSync(program, [flag]).status === 0;
const ffmpeg = works('ffmpeg', '-version');
const sox = works('sox', '--version');

let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'wav-'));
});
afterAll(() => {
  rmSync(folder, { recursive: true });
});

/** A signal with every kind of value: tiny, full scale, both signs, halves of a 24-bit step. */
function signal(): Float64Array {
  const samples = Float64Array.from(
    { length: 4001 },
    (_, i) => 0.9 * Math.sin(0.013 * i * i) * Math.exp(-i / 900),
  );
  samples.set([0, -0, 1e-7, -1e-7, 0.5 / 2 ** 23, -0.5 / 2 ** 23, 1.5 / 2 ** 23, -1, 1 - 2 ** -23, 1]);
  return samples;
}

function save(bytes: Uint8Array): string {
  const path = join(folder, `${Math.random().toString(36).slice(2)}.wav`);
  writeFileSync(path, bytes);
  return path;
}

/** Standard output as an exact little-endian array. */
function output(program: string, args: readonly string[]): DataView {
  const { buffer, byteOffset, byteLength } = execFileSync(program, args, { maxBuffer: 2 ** 28 });
  return new DataView(buffer, byteOffset, byteLength);
}

/** The stated rounding of a 24-bit sample: to the nearest, halves up, held in range. */
const rounded = (x: number) => Math.min(2 ** 23 - 1, Math.max(-(2 ** 23), Math.floor(x * 2 ** 23 + 0.5)));

it('there is a program to read WAV files back with', () => {
  if (!ffmpeg && !sox) throw new Error('WAV files must be read back with ffmpeg or sox; install either.');
});

describe.runIf(ffmpeg)('read by ffmpeg', () => {
  it.each([44100, 48000, 96000])('32-bit float at %i Hz is identical', (rate) => {
    const samples = signal();
    const path = save(encodeWav(samples, rate, 'float'));
    const raw = output('ffmpeg', ['-v', 'error', '-i', path, '-f', 'f32le', '-c:a', 'pcm_f32le', '-']);
    expect(raw.byteLength).toBe(4 * samples.length);
    samples.forEach((sample, i) => {
      expect(raw.getFloat32(4 * i, true)).toBe(Math.fround(sample));
    });
    const said = spawnSync('ffmpeg', ['-i', path], { encoding: 'utf8' }).stderr;
    expect(said).toMatch(new RegExp(`pcm_f32le.*${rate} Hz, (1 channels|mono)`));
  });

  it('24 bits are identical to the stated rounding', () => {
    const samples = signal();
    const path = save(encodeWav(samples, 48000, '24'));
    const raw = output('ffmpeg', ['-v', 'error', '-i', path, '-f', 's32le', '-c:a', 'pcm_s32le', '-']);
    expect(raw.byteLength).toBe(4 * samples.length);
    samples.forEach((sample, i) => {
      expect(raw.getInt32(4 * i, true)).toBe(rounded(sample) * 256);
    });
    const said = spawnSync('ffmpeg', ['-i', path], { encoding: 'utf8' }).stderr;
    expect(said).toMatch(/pcm_s24le.*48000 Hz, (1 channels|mono)/);
  });
});

describe.runIf(sox)('read by sox', () => {
  it('32-bit float is identical', () => {
    // sox works in 32-bit integers, so the signal is put on a grid that they hold exactly.
    const samples = signal()
      .map((sample) => Math.round(sample * 2 ** 24) / 2 ** 24)
      .slice(0, 4000)
      .filter((sample) => Math.abs(sample) < 1);
    const path = save(encodeWav(samples, 96000, 'float'));
    const raw = output('sox', [path, '-t', 'raw', '-e', 'floating-point', '-b', '32', '-L', '-']);
    expect(raw.byteLength).toBe(4 * samples.length);
    samples.forEach((sample, i) => {
      expect(Math.abs(raw.getFloat32(4 * i, true) - sample)).toBe(0);
    });
    expect(execFileSync('sox', ['--i', '-r', path], { encoding: 'utf8' }).trim()).toBe('96000');
  });

  it('24 bits are identical to the stated rounding', () => {
    const samples = signal();
    const path = save(encodeWav(samples, 44100, '24'));
    const raw = output('sox', [path, '-t', 'raw', '-e', 'signed-integer', '-b', '32', '-L', '-']);
    expect(raw.byteLength).toBe(4 * samples.length);
    samples.forEach((sample, i) => {
      expect(raw.getInt32(4 * i, true)).toBe(rounded(sample) * 256);
    });
    expect(execFileSync('sox', ['--i', '-b', path], { encoding: 'utf8' }).trim()).toBe('24');
  });
});

it('refuses what is not a number, in words', () => {
  expect(() => encodeWav(Float64Array.of(0, NaN), 48000, '24')).toThrow(
    'Every sample must be a finite number; got NaN at 1.',
  );
});

it('pads an odd number of bytes as RIFF asks', () => {
  const bytes = encodeWav(new Float64Array(3), 48000, '24');
  expect(bytes.length % 2).toBe(0);
  expect(new DataView(bytes.buffer).getUint32(4, true)).toBe(bytes.length - 8);
  expect(new DataView(bytes.buffer).getUint32(40, true)).toBe(9);
});
