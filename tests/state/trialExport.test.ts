import { describe, expect, it } from 'vitest';
import { render } from '../../src/physics/rendered.ts';
import type { Sheet } from '../../src/sheet/sheet.ts';
import { trialsReport } from '../../src/state/trialExport.svelte.ts';
import { exampleSheet } from '../fixtures/sheet.ts';

const plucked = (level: Sheet['listen']['level'], sensitivity: number): Sheet => {
  const sheet = exampleSheet();
  return {
    ...sheet,
    listen: { ...sheet.listen, play: 'string', seconds: 1, level },
    pickups: sheet.pickups.map((p) => ({
      ...p,
      rows: p.rows.map((r) => ({
        ...r,
        reach: { ...r.reach, sensitivity: sensitivity * r.reach.sensitivity },
      })),
    })),
  };
};

describe('the report of all trials', () => {
  it.each(['matched', 'as it is'] as const)('[exact] half the reach is 6.02 dB softer, %s', (level) => {
    const all = [plucked(level, 1), plucked(level, 0.5)].map((sheet, i) => ({
      sheet,
      name: 'AB'[i]!,
      sound: render(sheet),
    }));
    const report = trialsReport(all);
    // 20 lg 2.
    expect(report).toMatch(/\r\nAs they are, B is 6\.02 dB softer than A\r\n$/);
    expect(report.match(/Loudness: −?[\d.]+ LUFS/g)?.length).toBe(2);
  });

  it('[exact] one trial has nothing to be compared with', () => {
    const sheet = plucked('matched', 1);
    expect(trialsReport([{ sheet, name: 'A', sound: render(sheet) }])).not.toMatch(/As they are/);
  });
});
