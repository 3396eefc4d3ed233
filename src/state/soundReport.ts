/** What a rendered phrase is, in words, as a text beside its file. Pure. */
import type { Sheet } from '../sheet/sheet.ts';
import type { Sound } from './types.ts';

const decibels = (ratio: number): string => signed(20 * Math.log10(ratio), 2);
const signed = (value: number, digits: number): string => value.toFixed(digits).replace('-', '−');

/** One figure a line. */
export function soundReport({ listen, pickups }: Sheet, name: string, sound: Sound): string {
  const sounding = pickups.filter((p) => p.sounds).map((p) => p.name);
  const { samples, sampleRate, gain, loudness, peakVolts, reducedDb } = sound;
  const lines = [
    name,
    '',
    `Played: ${listen.play}, ${sounding.join(' and ')} pickup${sounding.length > 1 ? 's' : ''}, through ${
      listen.through === 'cable' ? 'the cable alone' : 'a plain loudspeaker (illustrative)'
    }`,
    `Length: ${(samples.length / sampleRate).toFixed(3)} s at ${sampleRate} Hz, one channel`,
    `Level: ${listen.level === 'matched' ? 'matched to −23 LUFS' : 'as it is'}`,
    `Loudness: ${signed(loudness, 2)} LUFS (ITU-R BS.1770)`,
    `Highest sample: ${peakVolts > 0 ? decibels(peakVolts * gain) : '−∞'} dBFS`,
    `Highest voltage at the input: ${(1000 * peakVolts).toFixed(2)} mV`,
    `Gain: ${decibels(gain)} dB, ${gain.toPrecision(6)} of full scale for one volt`,
  ];
  if (reducedDb > 0) lines.push(`Taken down ${reducedDb.toFixed(2)} dB to stay at or below −1 dBFS`);
  return `${lines.join('\r\n')}\r\n`;
}
