import { describe, expect, it } from 'vitest';
import { differenceRows, differenceWords, heardWord, type Version } from '../../src/state/difference.ts';
import type { Beside } from '../../src/state/louder.svelte.ts';
import type { CoilOutcome, StringOutcome, Voice } from '../../src/state/types.ts';
import { predict } from '../../src/physics/predict.ts';
import type { NotePart } from '../../src/physics/hearing/heardDifference.ts';
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

const beside = (louder: number | null, most: number, part: NotePart = 'attack'): Beside => ({
  louder,
  heard:
    louder === null
      ? null
      : {
          frequencies: new Float64Array(0),
          curve: new Float64Array(0),
          most,
          at: 4100,
          string: 1,
          fret: 0,
          part,
        },
});

describe('what is heard of it', () => {
  const words = (found: Beside | null): string => differenceWords(version(), version(), 'B', found);

  it('[exact] how loud, and at equal loudness where most differs, when, and how that is heard', () => {
    expect(words(beside(1.4, 3.24))).toBe(
      'B is 1.4 dB louder. At equal loudness it has 3.2 dB more around 4.10 kHz, in the attack: plainly audible.',
    );
    expect(words(beside(-2.04, -1.31, 'body'))).toBe(
      'B is 2.0 dB softer. At equal loudness it has 1.3 dB less around 4.10 kHz, while it rings: audible side by side.',
    );
    expect(words(beside(0, 0))).toBe('B is as loud. At equal loudness it is the same to the ear.');
  });

  it('[exact] nothing is said of what is not known, and no tone of what is silent', () => {
    expect(words(null)).toBe('');
    expect(words(beside(null, 0))).toBe('One of the two is silent.');
    expect(words({ louder: 0.7, heard: null })).toBe('B is 0.7 dB louder.');
  });

  it('[practice] 1 dB is heard side by side, 3 dB by itself', () => {
    expect([0.9, 1.4, 2.9, 4].map(heardWord)).toEqual([
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
    expect(differenceWords(before, turned, 'Now it', beside(0, 0))).toMatch(
      /beside another pickup, .* out of phase\.$/,
    );
    // With the coil wound the other way as well the signal is what it was, and only hum is not.
    const both = of(setAt(turned.sheet, ['pickups', 0, 'build', 'rows', 0, 'wound'], 'anticlockwise'));
    expect(differenceWords(before, both, 'Now it', beside(0, 0))).not.toMatch(/phase/);
    expect(differenceRows(before, before, 3).some(({ name }) => name === 'pole that is up')).toBe(false);
    // Another trial may have fewer pickups.
    expect(differenceWords(before, { ...before, pickup: 9 }, 'Now it', beside(0, 0))).not.toMatch(/phase/);
  });
});
