/** How loud a phrase is said to be, against the loudness of the same phrase rendered whole (checked in meter.test.ts). */
import { describe, expect, it } from 'vitest';
import { phraseLevel } from '../../../../src/physics/sound/live/phraseLevel.ts';
import { liveSetup } from '../../../../src/physics/sound/live/setup.ts';
import { VOLT_GAIN } from '../../../../src/physics/sound/level.ts';
import { render } from '../../../../src/physics/sound/render.ts';
import { decibels, sheetWith } from './sheets.ts';

/** LU; what lies above half of the rate at which the phrase is weighed, see setup.ts. */
const WITHIN = 0.05;

describe.each(['string', 'chord', 'line'] as const)('the level of a %s', (play) => {
  const plain = sheetWith({ listen: { play, level: 'as it is', seconds: 2 } });

  it('is that of the rendered phrase as it is [exact]', () => {
    const { loudness, reducedDb } = render(plain);
    expect(reducedDb).toBe(0);
    expect(Math.abs(phraseLevel(plain).loudness! - loudness)).toBeLessThan(WITHIN);
  });

  it('has the gain of a matched setup, whatever the sheet’s own level is [exact]', () => {
    const matched = { ...plain, listen: { ...plain.listen, level: 'matched' as const } };
    expect(phraseLevel(plain)).toEqual(phraseLevel(matched));
    expect(phraseLevel(plain).gain).toBe(liveSetup(matched, 48000).gain);
  });
});

it('differs between two sheets by the ratio of their gains [exact]', () => {
  const a = phraseLevel(sheetWith({ sounds: [0] }));
  const b = phraseLevel(sheetWith({ sounds: [1] }));
  expect(a.loudness! - b.loudness!).toBeCloseTo(decibels(b.gain / a.gain), 9);
});

it('of silence is none, with the plain gain [exact]', () => {
  const sheet = sheetWith();
  const controls = sheet.harness.controls.map((set) => ({ ...set, volume: { ...set.volume, position: 0 } }));
  const silent = { ...sheet, harness: { ...sheet.harness, controls } };
  expect(phraseLevel(silent)).toEqual({ gain: VOLT_GAIN, loudness: null });
});
