import { describe, expect, it } from 'vitest';
import { harnessTransfer } from '../../../src/physics/circuit/harness.ts';
import { predict } from '../../../src/physics/predict.ts';
import type { Listen, ResolvedPickup as Pickup, ResolvedSheet as Sheet } from '../../../src/sheet/sheet.ts';
import { exampleSheet } from '../../fixtures/sheet.ts';

const SCALE = 0.648;

function withPickups(pickups: readonly Pickup[], listen: Partial<Listen> = {}): Sheet {
  const sheet = exampleSheet();
  return { ...sheet, pickups, listen: { ...sheet.listen, ...listen } };
}

function at(place: number, changes: Partial<Pickup> = {}, width = 10e-3): Pickup {
  const [pickup] = exampleSheet().pickups;
  const rows = pickup!.rows.map((row) => ({ ...row, reach: { ...row.reach, width } }));
  return { ...pickup!, place, rows, ...changes };
}

/** Two equal rows this far apart (m), symmetric about the pickup's place. */
function twoRows(place: number, apart: number, changes: Partial<Pickup> = {}): Pickup {
  const [row] = at(place, {}, 6e-3).rows;
  return at(place, {
    rows: [
      { ...row!, offset: apart / 2 },
      { ...row!, offset: -apart / 2 },
    ],
    ...changes,
  });
}

/** The value of a curve at a frequency, by a cubic through the four nearest points in ln f. */
function readOff(frequencies: Float64Array, curve: Float64Array, frequency: number): number {
  const place =
    ((curve.length - 1) * Math.log(frequency / frequencies[0]!)) /
    Math.log(frequencies.at(-1)! / frequencies[0]!);
  const base = Math.min(Math.max(Math.floor(place) - 1, 0), curve.length - 4);
  let sum = 0;
  for (let i = 0; i < 4; i++) {
    let weight = 1;
    for (let j = 0; j < 4; j++) if (j !== i) weight *= (place - base - j) / (i - j);
    sum += weight * curve[base + i]!;
  }
  return sum;
}

const sheet = exampleSheet();
const prediction = predict(sheet);

describe('a prediction of the example', () => {
  it('samples 20 Hz to 20 kHz logarithmically, 512 points [exact]', () => {
    const { frequencies } = prediction;
    expect(frequencies).toHaveLength(512);
    expect(frequencies[0]).toBe(20);
    expect(frequencies.at(-1)).toBe(20000);
    const ratio = 1000 ** (1 / 511);
    for (let i = 1; i < 512; i++) expect(frequencies[i]! / frequencies[i - 1]!).toBeCloseTo(ratio, 12);
  });

  it('knows the chosen note, the open strings and the frets', () => {
    expect(prediction.note.name).toBe('G3');
    expect(prediction.openStrings.map(({ name }) => name)).toEqual(['E4', 'B3', 'G3', 'D3', 'A2', 'E2']);
    expect(prediction.frets).toHaveLength(23);
    const stopped = predict(withPickups(sheet.pickups, { string: 6, fret: 5 })).note;
    expect(stopped.name).toBe('A2');
    expect(stopped.length).toBeCloseTo(SCALE * 2 ** (-5 / 12), 12);
  });

  it('has a voice a pickup, and their sum last when several sound', () => {
    expect(prediction.voices.map(({ label }) => label)).toEqual(['neck', 'middle', 'bridge']);
    expect(prediction.sounding).toBe(0);
    const [neck, middle, bridge] = sheet.pickups;
    const both = predict(withPickups([neck!, middle!, { ...bridge!, sounds: true }]));
    expect(both.voices.map(({ label }) => label)).toEqual(['neck', 'middle', 'bridge', 'together']);
    expect(both.voices[3]!.pickups).toEqual([0, 2]);
    expect(both.sounding).toBe(3);
  });

  it('is the same twice and leaves the sheet as it was', () => {
    const copy = structuredClone(sheet);
    expect(predict(sheet)).toEqual(prediction);
    expect(sheet).toEqual(copy);
  });

  it('holds figures only, none below −120 dB', () => {
    for (const voice of prediction.voices) {
      for (const curve of [voice.circuitDb, voice.reachDb, voice.placedDb]) {
        expect(curve).toHaveLength(512);
        for (const level of curve) expect(level).toBeGreaterThanOrEqual(-120);
      }
      for (const { responseDb, pluckedDb, t60 } of voice.partials) {
        expect([responseDb, pluckedDb, ...Object.values(t60)].every(Number.isFinite)).toBe(true);
        expect(Math.min(responseDb, pluckedDb)).toBeGreaterThanOrEqual(-120);
        expect(Math.min(...(Object.values(t60) as number[]))).toBeGreaterThan(0);
      }
    }
    expect(prediction.warnings).toEqual([]);
  });
});

describe('curves of a voice', () => {
  it("with a narrow reach, the reach's curve is the circuit's, which is H × sensitivity over 0.1 V [exact]", () => {
    const { frequencies, voices } = predict(withPickups([at(0.16, {}, 0.2e-3)]));
    const [transfer] = harnessTransfer([at(0.16)], sheet.harness, [true], frequencies);
    const { circuitDb, reachDb } = voices[0]!;
    circuitDb.forEach((level, i) => {
      const volts = 0.16 * Math.hypot(transfer!.re[i]!, transfer!.im[i]!);
      expect(level).toBeCloseTo(20 * Math.log10(volts / 0.1), 9);
      // e^(−k²σ²/2) at 20 kHz on this string is 0.008 dB.
      expect(Math.abs(reachDb[i]! - level)).toBeLessThan(0.01);
    });
  });

  it("a wide reach narrows it by the Gaussian's transform [exact: 8.686 · k²σ²/2 dB]", () => {
    const { frequencies, voices, note } = predict(withPickups([at(0.16, {}, 14e-3)]));
    const sigma = 14e-3 / Math.sqrt(8 * Math.log(2));
    frequencies.forEach((f, i) => {
      // k of a stiff string: f = c k/(2π) √(1 + B (kL/π)²), solved by bisection.
      let [low, high] = [0, (2 * Math.PI * f) / note.waveSpeed];
      for (let round = 0; round < 60; round++) {
        const k = (low + high) / 2;
        const n = (k * note.length) / Math.PI;
        if (((note.waveSpeed * k) / (2 * Math.PI)) * Math.sqrt(1 + note.inharmonicity * n * n) < f) low = k;
        else high = k;
      }
      const drop = (20 / Math.LN10) * 0.5 * (low * sigma) ** 2;
      const { circuitDb, reachDb } = voices[0]!;
      if (drop < 60) expect(Math.abs(circuitDb[i]! - reachDb[i]! - drop)).toBeLessThan(0.01);
    });
  });

  it.each([
    ['one coil', [at(0.1615)]],
    ['two rows', [twoRows(0.1, 18e-3)]],
    ['two rows out of phase', [twoRows(0.1, 18e-3, { phase: 'out' })]],
    ['two pickups together', [at(0.16), twoRows(0.045, 18e-3, { reversed: true })]],
  ])('never rise above their envelope: %s [exact]', (_, pickups) => {
    for (const voice of predict(withPickups(pickups)).voices) {
      voice.placedDb.forEach((level, i) => {
        expect(level).toBeLessThanOrEqual(voice.reachDb[i]! + 1e-9);
      });
    }
  });

  it('touch their envelope between the nulls, one coil [exact: |sin| reaches 1]', () => {
    const { reachDb, placedDb } = predict(withPickups([at(0.1615)])).voices[0]!;
    const gap = placedDb.map((level, i) => reachDb[i]! - level);
    expect(Math.min(...gap.subarray(200, 400))).toBeLessThan(0.02);
    expect(Math.max(...gap.subarray(200, 500))).toBeGreaterThan(20);
  });

  it('carry the partials exactly: the dots lie on the placed curve', () => {
    const { frequencies, voices } = predict(withPickups([at(0.02, {}, 6e-3)], { string: 2 }));
    for (const { frequency, responseDb } of voices[0]!.partials) {
      // Close to the saddle the curve is smooth enough to be read between its points up to 5 kHz.
      if (frequency < 5000) {
        expect(Math.abs(readOff(frequencies, voices[0]!.placedDb, frequency) - responseDb)).toBeLessThan(
          1e-3,
        );
      }
    }
  });
});

describe('placement on the sheet [exact]', () => {
  it.each([2, 3, 4, 5])('a pickup under a node at L/%i does not hear those partials', (m) => {
    const { partials } = predict(withPickups([at(SCALE / m)])).voices[0]!;
    for (const { n, responseDb } of partials.slice(0, 40)) {
      if (n % m === 0) expect(responseDb).toBe(-120);
      else expect(responseDb).toBeGreaterThan(-40);
    }
  });

  it('a slanted pickup misses different partials on different strings', () => {
    const slanted = at(SCALE / 4, { slant: 0.4 });
    const low = predict(withPickups([slanted], { string: 6 })).voices[0]!;
    const high = predict(withPickups([slanted], { string: 1 })).voices[0]!;
    expect(high.reach.rows[0]!.centre).toBeLessThan(SCALE / 4);
    expect(low.reach.rows[0]!.centre).toBeGreaterThan(SCALE / 4);
    for (const voice of [low, high]) expect(voice.partials[3]!.responseDb).toBeGreaterThan(-40);
  });

  it('two rows d apart are deaf where half a wave fits between them, out of phase where a whole one does', () => {
    // L/36 apart: partials 36 (half a wave) and 72 (a whole one).
    const d = SCALE / 36;
    const inPhase = predict(withPickups([twoRows(0.1, d)])).voices[0]!;
    const outOfPhase = predict(withPickups([twoRows(0.1, d, { phase: 'out' })])).voices[0]!;
    expect(inPhase.partials[35]!.responseDb).toBe(-120);
    expect(inPhase.partials[71]!.responseDb).toBeGreaterThan(-80);
    expect(outOfPhase.partials[71]!.responseDb).toBe(-120);
    expect(outOfPhase.partials[35]!.responseDb).toBeGreaterThan(-40);
    // Polarity acts only with place: the circuit's own curve is the same.
    outOfPhase.circuitDb.forEach((level, i) => {
      expect(level).toBeCloseTo(inPhase.circuitDb[i]!, 9);
    });
  });

  it('a pluck at L/5 leaves out every fifth partial', () => {
    const { listen } = sheet;
    const pluck = { ...listen.pluck, place: SCALE / 5 };
    const { partials } = predict(withPickups([at(0.16)], { pluck })).voices[0]!;
    for (const { n, pluckedDb } of partials.slice(0, 20)) {
      if (n % 5 === 0) expect(pluckedDb).toBe(-120);
      else expect(pluckedDb).toBeGreaterThan(-60);
    }
  });
});

describe('warnings', () => {
  const warningsOf = (pickups: readonly Pickup[], listen: Partial<Listen>) =>
    predict(withPickups(pickups, listen)).warnings;

  it('a pluck beyond the stopped string', () => {
    const pluck = { ...sheet.listen.pluck, place: 0.25 };
    const warnings = warningsOf([at(0.1)], { play: 'string', fret: 17, pluck });
    expect(warnings).toHaveLength(1);
    expect(warnings[0]).toMatch(
      /^The pluck at 250\.0 mm from the saddle lies beyond the stopped string, 242\.7 mm long/,
    );
  });

  it('a pickup beyond the stopping fret, by name and string, and none when it lies just before', () => {
    const high: Partial<Listen> = { play: 'string', string: 2, fret: 22 };
    expect(warningsOf([at(0.2)], high)[0]).toMatch(
      /^The neck pickup lies beyond the fret at which string 2 is stopped/,
    );
    expect(warningsOf([at(0.18)], high)).toEqual([]);
  });

  it('a pickup behind the saddle', () => {
    expect(warningsOf([at(0.005, { slant: 0.5 })], { string: 1 }).join()).toMatch(
      /behind the saddle on string 1/,
    );
  });

  it('a chord of no strings', () => {
    const warnings = warningsOf(sheet.pickups, { chord: [null, null, null, null, null, null] });
    expect(warnings).toEqual(['The chord plays no string: give at least one string a fret.']);
  });

  it('a string that would break [practice: music wire, from memory]', () => {
    const strings = sheet.instrument.strings.map((s, i) => (i === 0 ? { ...s, midi: 71 } : s));
    const { warnings } = predict({ ...sheet, instrument: { ...sheet.instrument, strings } });
    expect(warnings).toHaveLength(1);
    expect(warnings[0]).toMatch(/^String 1 would need 162 N, 3\.2 GPa in its core/);
  });

  it('a volume pot turned all the way down', () => {
    const controls = sheet.harness.controls.map((set) => ({
      ...set,
      volume: { ...set.volume, position: 0 },
    }));
    const { warnings } = predict({ ...sheet, harness: { ...sheet.harness, controls } });
    expect(warnings.join()).toMatch(/look at the volume pots/);
  });
});

it('refuses a sheet on which nothing sounds, in words', () => {
  expect(() => predict(withPickups([at(0.16, { sounds: false })]))).toThrow(
    'At least one pickup must sound; got none. Select a pickup.',
  );
});
