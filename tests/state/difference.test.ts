import { describe, expect, it } from 'vitest';
import {
  curveDifference,
  differenceRows,
  differenceWords,
  type Version,
} from '../../src/state/difference.ts';
import type { CoilOutcome, StringOutcome, Voice } from '../../src/state/types.ts';
import { predict } from '../../src/physics/predict.ts';
import { setAt } from '../../src/sheet/edit.ts';
import { turnMagnetOver } from '../fixtures/mods.ts';
import type { Sheet } from '../../src/sheet/sheet.ts';
import { builtSheet } from '../fixtures/builtSheet.ts';
import { exampleSheet } from '../fixtures/sheet.ts';

const sheet = exampleSheet();
const prediction = predict(sheet);
const voice = prediction.voices[prediction.sounding]!;

const coil = (resistance: number, inductance: number): CoilOutcome => ({
  resistance,
  inductance,
  capacitance: 1e-10,
  coreLoss: null,
  computed: null,
});

const string = (level: number, width: number, field: number | null, cents: number): StringOutcome => ({
  level,
  widths: [width],
  field:
    field === null
      ? null
      : {
          fluxDensity: field,
          widths: [width / 2],
          tipWidths: [width / 3],
          saturation: 0.2,
          centsTowards: cents,
          centsAcross: 0,
          beat: 0,
          drawnDown: 0,
        },
});

interface Change {
  readonly coils?: readonly CoilOutcome[];
  readonly over?: StringOutcome;
  readonly peak?: Voice['features']['resonance'];
  readonly curve?: (f: number) => number;
  readonly join?: 'series' | 'parallel';
}

/** The example with some of its results put in by hand; string 3 is looked at. */
function version(change: Change = {}): Version {
  const over = change.over ?? string(40, 0.0112, null, 0);
  return {
    sheet: { ...sheet, pickups: sheet.pickups.map((p) => ({ ...p, join: change.join ?? p.join })) },
    prediction: {
      ...prediction,
      pickups: [{ coils: change.coils ?? [coil(6100, 2.4)], strings: Array.from({ length: 6 }, () => over) }],
    },
    pickup: 0,
    voice: {
      ...voice,
      features: {
        ...voice.features,
        resonance: change.peak === undefined ? { frequency: 4000, heightDb: 5, q: 2 } : change.peak,
      },
      reachDb: prediction.frequencies.map(change.curve ?? (() => 0)),
    },
  };
}

const rowsOf = (a: Version, b: Version): Record<string, string> =>
  Object.fromEntries(differenceRows(a, b, 3).map((r) => [r.name, `${r.from} | ${r.to} | ${r.change}`]));

describe('the figures of two versions', () => {
  it('[exact] each with its unit and its change', () => {
    const a = version({ over: string(40, 0.0112, 0.041, -3.1) });
    const b = version({
      over: string(80, 0.0102, 0.0451, -4.35),
      coils: [coil(6710, 2.64)],
      peak: { frequency: 3900, heightDb: 4, q: 1.6 },
    });
    expect(rowsOf(a, b)).toEqual({
      'field at the string': '41.0 mT | 45.1 mT | +10 %',
      'field, wide at the string': '5.6 mm | 5.1 mm | −0.5 mm',
      'field, wide over the tip': '3.7 mm | 3.4 mm | −0.3 mm',
      reach: '11.2 mm | 10.2 mm | −1.0 mm',
      'level, string moving 1 mm': '40.0 mV | 80.0 mV | +6.0 dB',
      inductance: '2.40 H | 2.64 H | +10 %',
      resistance: '6.10 kΩ | 6.71 kΩ | +10 %',
      resonance: '4.00 kHz | 3.90 kHz | −2.5 %',
      'its Q': '2.00 | 1.60 | −0.40',
      pull: '−3.10 cents | −4.35 cents | −1.25 cents',
    });
  });

  it('[exact] what one of them lacks is a dash, what both lack is left out', () => {
    const rows = rowsOf(version({ peak: null }), version({ over: string(40, 0.0112, 0.04, -1) }));
    expect(rows['resonance']).toBe('— | 4.00 kHz | ');
    expect(rows['field at the string']).toBe('— | 40.0 mT | ');
    expect(Object.keys(rowsOf(version(), version()))).not.toContain('pull');
  });

  it('[exact] two coils add in series; in parallel their inverses add', () => {
    const coils = [coil(3000, 1), coil(6000, 3)];
    const rows = rowsOf(version({ coils, join: 'series' }), version({ coils, join: 'parallel' }));
    expect(rows['resistance']).toMatch(/^9\.00 kΩ \| 2\.00 kΩ \|/);
    expect(rows['inductance']).toMatch(/^4\.00 H \| 750 mH \|/);
  });

  it('[exact] of a sheet and itself nothing changes', () => {
    expect(differenceRows(version(), version(), 3).map((r) => r.change)).toEqual(
      differenceRows(version(), version(), 3).map(() => ''),
    );
  });

  it('[exact] a pickup that the other has not is all dashes', () => {
    const a = { ...version(), pickup: 5 };
    expect(rowsOf(a, version())['resistance']).toBe('— | 6.10 kΩ | ');
  });
});

describe('what is heard of it', () => {
  it('[exact] a curve moved up is louder and otherwise the same', () => {
    const found = curveDifference(version(), version({ curve: () => 1.4 }));
    expect(found.level).toBeCloseTo(1.4, 12);
    expect(Math.abs(found.most)).toBeLessThan(1e-12);
    expect(differenceWords(version(), version({ curve: () => 1.4 }), 'B', 1.4)).toBe(
      'B is 1.4 dB louder. At equal loudness its curve is the same.',
    );
    // Nothing is said about a loudness that is not known.
    expect(differenceWords(version(), version({ curve: () => 1.4 }), 'B', null)).toBe(
      'At equal loudness its curve is the same.',
    );
  });

  it('[exact] a tilt about the middle is largest at the band’s ends, half an octave in', () => {
    const middle = Math.sqrt(80 * 8000);
    const found = curveDifference(version(), version({ curve: (f) => 3 * Math.log2(f / middle) }));
    expect(Math.abs(found.level)).toBeLessThan(0.05);
    // log2(100)/2 − 1/2 octaves from the middle, as far as the curve's points lie there.
    expect(Math.abs(found.most)).toBeCloseTo(3 * (Math.log2(100) / 2 - 0.5), 0);
    expect(found.heard).toBe('plainly audible');
  });

  it('[exact] a narrow dip is averaged over an octave, so that it counts as little as it is heard', () => {
    const dip = (f: number): number => (Math.abs(Math.log2(f / 1000)) < 1 / 24 ? -6 : 0);
    const found = curveDifference(version(), version({ curve: dip }));
    expect(found.heard).toBe('hardly audible');
    expect(found.most).toBeLessThan(0);
    expect(Math.abs(Math.log2(found.at / 1000))).toBeLessThan(0.6);
  });

  it('[practice] 1 dB over an octave is heard side by side, 3 dB by itself', () => {
    const bump = (db: number) => (f: number) => (Math.abs(Math.log2(f / 2000)) < 0.55 ? db : 0);
    const heard = (db: number): string => curveDifference(version(), version({ curve: bump(db) })).heard;
    expect([0.9, 1.4, 2.9, 4].map(heard)).toEqual([
      'hardly audible',
      'audible side by side',
      'audible side by side',
      'plainly audible',
    ]);
  });

  it('[exact] a magnet turned over is told of, with what it is heard by', () => {
    const rods = builtSheet('six rods');
    const results = predict(rods);
    const of = (sheet: Sheet): Version => ({
      sheet,
      prediction: results,
      pickup: 0,
      voice: results.voices[0]!,
    });
    const [before, turned] = [of(rods), of(turnMagnetOver(rods, 0))];
    expect(differenceRows(before, turned, 3).at(-1)).toEqual({
      name: 'pole that is up',
      from: 'north',
      to: 'south',
      change: 'turned',
    });
    expect(differenceWords(before, turned, 'Now it', 0)).toMatch(/beside another pickup, .* out of phase\.$/);
    // With the coil wound the other way as well the signal is what it was, and only hum is not.
    const both = of(setAt(turned.sheet, ['pickups', 0, 'build', 'rows', 0, 'wound'], 'anticlockwise'));
    expect(differenceWords(before, both, 'Now it', 0)).not.toMatch(/phase/);
    expect(differenceRows(before, before, 3).some(({ name }) => name === 'pole that is up')).toBe(false);
    // Another trial may have fewer pickups.
    expect(differenceWords(before, { ...before, pickup: 9 }, 'Now it', 0)).not.toMatch(/phase/);
  });

  it('[exact] at equal loudness the known difference is taken off, not the curves’ level', () => {
    const b = version({ curve: (f) => (f > 2000 ? 5 : 0) });
    expect(curveDifference(version(), b, 4).most).toBeCloseTo(-4, 12);
    expect(differenceWords(version(), b, 'B', 4)).toMatch(
      /^B is 4\.0 dB louder\. At equal loudness it has 4\.0 dB less around \d+ Hz: plainly audible\.$/,
    );
    expect(differenceWords(version(), b, 'B', -2.04)).toMatch(
      /^B is 2\.0 dB softer\. At equal loudness it has 7\.0 dB more/,
    );
    expect(differenceWords(version(), version(), 'B', 0)).toBe(
      'B is as loud. At equal loudness its curve is the same.',
    );
  });
});
