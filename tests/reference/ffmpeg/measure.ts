import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { encodeWav } from '../../../src/physics/sound/wav.ts';

/** The first line that it prints about itself, or null when it isn't there. */
export function versionOfFfmpeg(): string | null {
  try {
    const [line] = execFileSync('ffmpeg', ['-version'], { encoding: 'utf8' }).split('\n');
    return /^ffmpeg version (\S+)/.exec(line ?? '')?.[1] ?? null;
  } catch {
    return null;
  }
}

/** Integrated loudness (LUFS) and true peak (dBFS), to a tenth as printed. */
export function measureByFfmpeg(
  samples: Float64Array,
  sampleRate: number,
): { loudness: number; truePeak: number } {
  const folder = mkdtempSync(join(tmpdir(), 'lodetone-loudness-'));
  try {
    const file = join(folder, 'signal.wav');
    writeFileSync(file, encodeWav(samples, sampleRate, 'float'));
    const options = ['-hide_banner', '-nostats', '-i', file, '-af', 'ebur128=peak=true', '-f', 'null', '-'];
    const { stderr } = spawnSync('ffmpeg', options, { encoding: 'utf8' });
    const summary = stderr.slice(stderr.lastIndexOf('Summary:'));
    const loudness = /I:\s+(-?[\d.]+) LUFS/.exec(summary)?.[1];
    const truePeak = /Peak:\s+(-?[\d.]+) dBFS/.exec(summary)?.[1];
    if (loudness === undefined || truePeak === undefined) throw new Error(`No summary in:\n${stderr}`);
    return { loudness: Number(loudness), truePeak: Number(truePeak) };
  } finally {
    rmSync(folder, { recursive: true });
  }
}
