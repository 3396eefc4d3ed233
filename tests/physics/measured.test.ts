/** Curves of pickups that a circuit simulator measured: read as a file, laid over ours, and what follows from them. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { coilWords } from '../../src/benchSheet/sayFollows.ts';
import { Alone, leadCapacitance, leadResistance, UNLOADED, weightsOf } from '../../src/physics/alone.ts';
import { heardAlone } from '../../src/physics/follow.ts';
import { measuredFigures, type MeasuredFigures, type MeasuredWish } from '../../src/physics/measured.ts';
import { predict } from '../../src/physics/predict.ts';
import { peakOf, widths } from '../../src/physics/measuredShape.ts';
import { curveOf, guessChoice, type MeasuredCurve } from '../../src/sheet/measuredCurve.ts';
import { readTable } from '../../src/sheet/measuredTable.ts';
import type { Sheet } from '../../src/sheet/sheet.ts';
import { DECKS, plantedSheet, PROBE, type MeasuredDeck } from '../fixtures/measuredDecks.ts';
import { computedPreset } from '../fixtures/presetFields.ts';
import { fieldsOf } from '../fixtures/solved.ts';

/** dB; the tolerance of another program's curve (DEVELOPERS). */
const TOOL = 0.05;
const BENCH = { pickup: 0, probe: PROBE, bridge: 1000, celsius: 20 };

const deckNamed = (name: string): MeasuredDeck => DECKS.find((deck) => deck.name === name)!;

function curveFrom(name: string): MeasuredCurve {
  const read = readTable(readFileSync(`tests/reference/ngspice-measured/${name}.txt`, 'utf8'));
  if (!read.ok) throw new Error(read.message);
  const guess = guessChoice(read.table);
  // |Z| is printed as volts for 1 A, which no header can say.
  const curve = curveOf(read.table, { ...guess, unit: guess.unit ?? 'ohm' });
  if (!curve.ok) throw new Error(curve.message);
  return curve.curve;
}

function laidOver(sheet: Sheet, deck: MeasuredDeck, change: Partial<MeasuredWish> = {}): MeasuredFigures {
  const { frequencies, decibels } = curveFrom(deck.name);
  const { fields } = computedPreset(deck.preset);
  return measuredFigures(sheet, fields, { ...BENCH, of: deck.of, frequencies, decibels, ...change });
}

describe('[tool] ngspice’s curve of a pickup lies on ours, read from its own table', () => {
  it.each(DECKS.map((deck) => [deck.name, deck] as const))('%s', (_, deck) => {
    const { largest, rms, peaks, points } = laidOver(plantedSheet(deck), deck);
    expect(points).toBeGreaterThan(130);
    expect(Math.abs(largest.db)).toBeLessThan(TOOL);
    expect(rms).toBeLessThan(TOOL / 2);
    expect(Math.abs(peaks.measured! / peaks.predicted! - 1)).toBeLessThan(0.002);
  });
});

describe('[tool] a coil with 10 % more capacitance than reckoned is named as such', () => {
  it.each([
    ['single-coil-impedance-c-110', 0.01],
    ['two-coils-impedance-c-110', 0.01],
    // Of a level only the peak tells; L is taken as reckoned.
    ['single-coil-level-c-110', 0.01],
  ])('%s', (name, within) => {
    const deck = deckNamed(name);
    const { sheet, fields } = computedPreset(deck.preset);
    const figures = laidOver(plantedSheet({ ...deck, capacitance: 1 }), deck);
    const reckoned = fields[0]!.coils[0]!.capacitance;
    expect(Math.abs(figures.follows!.coilCapacitance! / (1.1 * reckoned) - 1)).toBeLessThan(within);
    expect(figures.peaks.measured!).toBeLessThan(figures.peaks.predicted! * 0.99);
    const coils = sheet.pickups.map((pickup) =>
      pickup.rows.map(() => ({ outcome: { computed: null } as never })),
    );
    const wish = { pickup: 0, read: figures.read! };
    expect(
      coilWords(sheet.pickups[0]!, { follows: figures.follows, wish, coils }, 'The curve says').join(' '),
    ).toMatch(/says C = \d+/);
  });

  it('what is as reckoned is said to be so: R, L and C within half a per cent', () => {
    const deck = deckNamed('single-coil-impedance');
    const { fields } = computedPreset(deck.preset);
    const { follows } = laidOver(plantedSheet(deck), deck);
    expect(Math.abs(follows!.resistance! - 1)).toBeLessThan(0.005);
    expect(Math.abs(follows!.inductance! - 1)).toBeLessThan(0.005);
    expect(Math.abs(follows!.coilCapacitance! / fields[0]!.coils[0]!.capacitance - 1)).toBeLessThan(0.005);
  });
});

/** |Z| of a pickup that was wound otherwise, with some noise. */
function woundOtherwise(
  preset: string,
  turns: number,
  C: number,
  noise: number,
  from = 50,
): [MeasuredWish, Sheet, Sheet] {
  const { sheet } = computedPreset(preset);
  const [first] = sheet.pickups;
  const rows = first!.build!.rows.map((row) => ({ ...row, turns: Math.round(turns * row.turns) }));
  const coils = first!.rows.map((row) => ({ ...row, coil: { ...row.coil, capacitance: C } }));
  const planted = {
    ...sheet,
    pickups: [{ ...first!, build: { ...first!.build!, rows }, rows: coils }, ...sheet.pickups.slice(1)],
  };
  const heard = heardAlone(planted, planted.pickups[0]!, fieldsOf(planted)[0]!);
  const alone = new Alone(heard, PROBE, weightsOf(planted.instrument, heard, 1));
  const frequencies = Float64Array.from({ length: 200 }, (_, i) => from * (40_000 / from) ** (i / 199));
  // A sequence without a pattern, always the same.
  const decibels = frequencies.map(
    (f, i) => alone.impedanceDb(f) + noise * Math.sin(12.9898 * i * i + 78.233 * i),
  );
  return [{ ...BENCH, of: 'impedance', frequencies, decibels }, sheet, planted];
}

describe('[exact] |Z| of a coil wound otherwise finds what meters would read of it', () => {
  it.each([
    ['01-skerry-three-single-coils.json', 0.96, 228e-12, 0],
    ['01-skerry-three-single-coils.json', 1.04, 110e-12, 0.3],
    ['09-holm-two-coils-in-series.json', 0.93, 150e-12, 0.3],
  ])('%s, turns × %f, C %f, noise %f dB', (preset, turns, C, noise) => {
    const [wish, sheet, planted] = woundOtherwise(preset, turns, C, noise);
    const { read, follows, shift } = measuredFigures(sheet, computedPreset(preset).fields, wish);
    const heard = heardAlone(planted, planted.pickups[0]!, fieldsOf(planted)[0]!);
    const bare = new Alone(heard, UNLOADED, weightsOf(planted.instrument, heard, 1));
    expect(shift).toBe(0);
    expect(Math.abs(read!.resistance! / leadResistance(heard) - 1)).toBeLessThan(0.01);
    expect(Math.abs(read!.inductance! / bare.readInductance(1000) - 1)).toBeLessThan(0.01);
    expect(Math.abs(read!.capacitance! / leadCapacitance(heard) - 1)).toBeLessThan(0.01);
    expect(Math.abs(follows!.turns!.ratio / turns - 1)).toBeLessThan(0.01);
    expect(Math.abs(follows!.coilCapacitance! / C - 1)).toBeLessThan(0.01);
  });

  it('what a curve does not tell is not said: R of one that begins at 5 kHz, C of one that ends at 1 kHz', () => {
    const [wish, sheet] = woundOtherwise('01-skerry-three-single-coils.json', 0.96, 228e-12, 0.1, 5000);
    const { fields } = computedPreset('01-skerry-three-single-coils.json');
    expect(measuredFigures(sheet, fields, wish).read).toMatchObject({ resistance: null });
    const [whole, , planted] = woundOtherwise('01-skerry-three-single-coils.json', 0.96, 228e-12, 0.1);
    const n = whole.frequencies.findIndex((f) => f > 1000);
    const low = {
      ...whole,
      frequencies: whole.frequencies.slice(0, n),
      decibels: whole.decibels.slice(0, n),
    };
    const { read, follows } = measuredFigures(sheet, fields, low);
    expect(read).toMatchObject({ capacitance: null, peak: null });
    const heard = heardAlone(planted, planted.pickups[0]!, fieldsOf(planted)[0]!);
    const bare = new Alone(heard, UNLOADED, weightsOf(planted.instrument, heard, 1));
    expect(Math.abs(read!.inductance! / bare.readInductance(1000) - 1)).toBeLessThan(0.02);
    expect(follows!.coilCapacitance).toBeNull();
  });
});

describe('[exact] a level is shifted onto the predicted one', () => {
  const { sheet, fields, prediction } = computedPreset('01-skerry-three-single-coils.json');
  const voice = prediction.voices[prediction.sounding]!;
  it.each(['circuit', 'reach', 'placed'] as const)('%s: our own curve, 23.4 dB up', (of) => {
    const db = { circuit: voice.circuitDb, reach: voice.reachDb, placed: voice.placedDb }[of];
    const wish = { ...BENCH, of, frequencies: prediction.frequencies, decibels: db.map((v) => v + 23.4) };
    const { shift, largest, asIf } = measuredFigures(sheet, fields, wish);
    expect(shift).toBeCloseTo(-23.4, 9);
    expect(Math.abs(largest.db)).toBeLessThan(1e-9);
    if (of === 'circuit') expect(Math.abs(asIf!.inductance! - 1)).toBeLessThan(0.001);
  });

  it('a cable that is longer than it stands on the sheet is found to be so', () => {
    const { cable } = sheet.harness;
    const longer = {
      ...sheet,
      harness: { ...sheet.harness, cable: { ...cable, length: 1.4 * cable.length } },
    };
    const wish = { ...BENCH, of: 'circuit' as const, frequencies: prediction.frequencies };
    const measured = predict(longer, fields);
    const { asIf } = measuredFigures(sheet, fields, {
      ...wish,
      decibels: measured.voices[measured.sounding]!.circuitDb,
    });
    const more = 0.4 * cable.length * cable.capacitancePerMetre;
    expect(Math.abs(asIf!.capacitance! / more - 1)).toBeLessThan(0.02);
    expect(asIf!.inductance!).toBeGreaterThan(1.1);
  });

  it('of too few points in the band nothing is said but that', () => {
    const frequencies = Float64Array.from({ length: 20 }, (_, i) => 19_990 + 2 * i);
    expect(() =>
      measuredFigures(sheet, fields, { ...BENCH, of: 'circuit', frequencies, decibels: frequencies }),
    ).toThrow(/8 points or more between 20 Hz and 20 kHz; got 6\. Look at the unit/);
  });
});

describe('[exact] a peak is found among the points', () => {
  const bump = (f: number): number => 12 - 300 * Math.log(f / 4321) ** 2;
  it.each([
    ['few, in octaves', 24, (i: number) => 1000 * 16 ** (i / 23)],
    ['many, in hertz', 900, (i: number) => 1000 + 16 * i],
  ])('%s', (_, n, at) => {
    const frequencies = Float64Array.from({ length: n }, (_, i) => at(i));
    expect(Math.abs(peakOf(frequencies, frequencies.map(bump))! / 4321 - 1)).toBeLessThan(1e-9);
    expect(widths(frequencies).reduce((a, b) => a + b, 0)).toBeCloseTo(1, 12);
  });

  it('none at an end, and none in noise', () => {
    const frequencies = Float64Array.from({ length: 50 }, (_, i) => 5000 + 100 * i);
    expect(peakOf(frequencies, frequencies.map(bump))).toBeNull();
    expect(
      peakOf(
        frequencies,
        frequencies.map((_, i) => 0.2 * Math.sin(i)),
      ),
    ).toBeNull();
  });
});
