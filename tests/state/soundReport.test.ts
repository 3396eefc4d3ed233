import { expect, it } from 'vitest';
import { render } from '../../src/physics/rendered.ts';
import { soundReport } from '../../src/state/soundReport.ts';
import { exampleSheet } from '../fixtures/sheet.ts';

it('says what the file is, in figures of the rendered sound [exact]', () => {
  const sheet = exampleSheet();
  const sound = render(sheet);
  const text = soundReport(sheet, 'A, bevelled', sound);
  const figure = (name: string): number => {
    const found = new RegExp(`^${name}: ([−+]?[0-9.]+)`, 'm').exec(text);
    return Number(found?.[1]?.replace('−', '-'));
  };
  expect(text.split('\r\n')[0]).toBe('A, bevelled');
  const peak = sound.samples.reduce((most, sample) => Math.max(most, Math.abs(sample)), 0);
  expect(figure('Loudness')).toBeCloseTo(sound.loudness, 2);
  expect(figure('Highest sample')).toBeCloseTo(20 * Math.log10(peak), 2);
  expect(figure('Gain')).toBeCloseTo(20 * Math.log10(sound.gain), 2);
  expect(figure('Length')).toBeCloseTo(sound.samples.length / sound.sampleRate, 3);
  expect(text).toMatch(sheet.listen.level === 'matched' ? /matched to −23 LUFS/ : /Level: as it is/);
});
