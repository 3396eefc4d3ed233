/** A coil that is wound otherwise than planned is found out by what meters read of it. */
import { describe, expect, it } from 'vitest';
import { coilWords, poleWords } from '../../src/benchSheet/sayFollows.ts';
import { USUAL_WISH } from '../../src/benchSheet/usual.ts';
import { Alone, leadResistance, UNLOADED, weightsOf } from '../../src/physics/alone.ts';
import { benchFigures, type BenchFigures, type BenchWish } from '../../src/physics/benchFigures.ts';
import { resolve } from '../../src/physics/heard/resolve.ts';
import type { PickupBuild, Sheet } from '../../src/sheet/sheet.ts';
import { withReadCoils } from '../../src/sheet/readCoils.ts';
import { computedPreset } from '../fixtures/presetFields.ts';
import { exampleSheet } from '../fixtures/sheet.ts';
import { fieldsOf } from '../fixtures/solved.ts';

const ONE = '01-skerry-three-single-coils.json';
const TWO = '09-holm-two-coils-in-series.json';
const PARALLEL = '10-holm-bridge-parallel.json';
const WISH: BenchWish = { ...USUAL_WISH, pickup: 0 };

interface Planted {
  readonly turns?: number;
  readonly wire?: number;
  /** F of every coil. */
  readonly C?: number;
}

/** The sheet's first pickup as somebody wound it, alone. */
function planted(sheet: Sheet, { turns = 1, wire = 1, C }: Planted): Sheet {
  const [pickup] = sheet.pickups;
  const build: PickupBuild = {
    ...pickup!.build!,
    rows: pickup!.build!.rows.map((row) => ({
      ...row,
      turns: Math.round(turns * row.turns),
      wire: { ...row.wire, conductor: wire * row.wire.conductor },
    })),
  };
  const rows = pickup!.rows.map((row) => ({ ...row, coil: { ...row.coil, capacitance: C ?? null } }));
  return { ...sheet, pickups: sheet.pickups.map((one, p) => (p === 0 ? { ...one, build, rows } : one)) };
}

/** What meters read of it, figures that stand for its leads included. */
function readOf(sheet: Sheet, { probe, bridge }: BenchWish): BenchWish['read'] {
  const pickup = resolve(sheet, fieldsOf(sheet)).pickups[0]!;
  const weights = weightsOf(sheet.instrument, pickup, sheet.listen.string);
  return {
    resistance: leadResistance(pickup),
    inductance: new Alone(pickup, UNLOADED, weights).readInductance(bridge),
    capacitance: null,
    peak: new Alone(pickup, probe, weights).features().resonance!.frequency,
  };
}

function found(
  name: string,
  plant: Planted,
  kept: readonly (keyof BenchWish['read'])[],
  wish = WISH,
): BenchFigures {
  const { sheet, fields, prediction } = computedPreset(name);
  // Meters see what was really wound: typed figures are the plant's alone.
  const all = readOf(planted(sheet, plant), wish);
  const read = Object.fromEntries(
    Object.entries(all).map(([key, value]) => [key, kept.includes(key as keyof typeof all) ? value : null]),
  ) as unknown as BenchWish['read'];
  return benchFigures(sheet, fields, { ...wish, read }, prediction);
}

describe('[exact] R, L and peak of a planted coil find its turns and its capacitance within 1 %', () => {
  it.each([
    [ONE, { turns: 0.96, C: 228e-12 }],
    [ONE, { turns: 1.04, C: 90e-12 }],
    [ONE, { turns: 0.85, wire: 1.02, C: 150e-12 }],
    [TWO, { turns: 0.94, C: 180e-12 }],
    [PARALLEL, { turns: 0.95, wire: 0.98, C: 140e-12 }],
  ])('%s, %o', (name, plant: Planted) => {
    const { follows } = found(name, plant, ['resistance', 'inductance', 'peak']);
    expect(follows!.turns!.by).toBe('inductance');
    expect(Math.abs(follows!.turns!.ratio / plant.turns! - 1)).toBeLessThan(0.01);
    expect(Math.abs(follows!.coilCapacitance! / plant.C! - 1)).toBeLessThan(0.01);
    expect(Math.abs(follows!.wire! / (plant.wire ?? 1) - 1)).toBeLessThan(0.01);
  });
});

it('R alone: too few turns, or thicker wire, each of which would do', () => {
  const { follows } = found(ONE, { turns: 0.96 }, ['resistance']);
  expect(follows!.turns!.by).toBe('resistance');
  expect(Math.abs(follows!.turns!.ratio / 0.96 - 1)).toBeLessThan(0.002);
  const { sheet, fields, prediction } = computedPreset(ONE);
  const resistance = benchFigures(sheet, fields, WISH, prediction).resistance!;
  // A wire so much thicker has that resistance [exact: R ∝ 1/d²].
  expect(resistance / follows!.wire! ** 2 / (resistance * follows!.resistance!)).toBeCloseTo(1, 9);
});

it('[paper: NBS100] R that was read warm is led back to 20 °C', () => {
  const { sheet, fields, prediction } = computedPreset(ONE);
  const cold = benchFigures(sheet, fields, WISH, prediction).resistance!;
  const read = { ...USUAL_WISH.read, resistance: cold * (1 + 0.00393 * 15) };
  const warm = benchFigures(sheet, fields, { ...WISH, celsius: 35, read }, prediction);
  expect(warm.resistance! / read.resistance).toBeCloseTo(1, 9);
  expect(warm.follows!.resistance).toBeCloseTo(1, 9);
});

describe('figures that are taken over', () => {
  it('read as they were read, and leave build, harness and load as they are', () => {
    const { sheet } = computedPreset(ONE);
    const figures = found(ONE, { turns: 0.96, C: 228e-12 }, ['resistance', 'inductance', 'peak']);
    const { read } = figures.wish;
    const taken = withReadCoils(sheet, 0, figures.follows!.coils);
    if (!taken.ok) throw new Error(taken.message);
    expect(taken.sheet.harness).toEqual(sheet.harness);
    expect(taken.sheet.pickups[0]!.build).toEqual(sheet.pickups[0]!.build);
    expect(taken.sheet.pickups.slice(1)).toEqual(sheet.pickups.slice(1));
    const { coil } = taken.sheet.pickups[0]!.rows[0]!;
    expect(coil.resistance! / read.resistance!).toBeCloseTo(1, 3);
    expect(coil.capacitance! / 228e-12).toBeCloseTo(1, 2);
    // Taken for a pickup of these figures, it peaks where it was found to.
    const again = benchFigures(taken.sheet, fieldsOf(taken.sheet), { ...WISH, read });
    expect(again.follows!.turns!.ratio).toBeCloseTo(figures.follows!.turns!.ratio, 6);
    expect(again.inGuitar!.frequency).toBeLessThan(figures.inGuitar!.frequency);
  });
});

it('a pickup without a build is told its figures, but no turns', () => {
  const given = exampleSheet();
  const sheet = {
    ...given,
    pickups: given.pickups.map((one) => ({ ...one, build: null, reachBy: 'hand' as const })),
  };
  const read = { ...USUAL_WISH.read, resistance: 6600, peak: 9000 };
  const { follows } = benchFigures(sheet, fieldsOf(sheet), { ...WISH, read });
  expect(follows).toMatchObject({ turns: null, wire: null, beyond: false });
  expect(follows!.coilCapacitance).toBeGreaterThan(1e-12);
});

it('a peak beyond any capacitance is said to be one', () => {
  const { sheet, fields, prediction } = computedPreset(ONE);
  const figures = benchFigures(
    sheet,
    fields,
    { ...WISH, read: { ...USUAL_WISH.read, peak: 90e3 } },
    prediction,
  );
  expect(figures.follows!.beyond).toBe(true);
  expect(coilWords(sheet.pickups[0]!, figures).join(' ')).toMatch(/higher than even a winding without/);
});

describe('in words', () => {
  const { sheet, fields, prediction } = computedPreset(ONE);
  const pickup = sheet.pickups[0]!;
  const reckoned = benchFigures(sheet, fields, WISH, prediction);
  const words = (read: Partial<BenchWish['read']>): string =>
    coilWords(
      pickup,
      benchFigures(sheet, fields, { ...WISH, read: { ...USUAL_WISH.read, ...read } }, prediction),
    ).join(' ');

  it('nothing is said where nothing was read', () => expect(words({})).toBe(''));

  it('of R alone both causes', () => {
    expect(words({ resistance: 0.96 * reckoned.resistance! })).toMatch(
      /^R is 4\.0 % low, within the usual spread: about \d+0 turns too few \(\d+ of 7800\), or wire 2\.1 % thick\.$/,
    );
    expect(words({ resistance: reckoned.resistance })).toBe('R is as reckoned.');
  });

  it('of L the turns, and of R then the wire', () => {
    const both = words({ resistance: reckoned.resistance, inductance: 0.9 * reckoned.inductance! });
    expect(both).toMatch(
      /L is 10 % low: about \d+0 turns too few .* With so many turns R says wire \d\.\d % thin\./,
    );
  });

  it('of poles the mean, the one that stands out, and the polarity', () => {
    const tops = [reckoned.strings!.map(({ tops: [b] }, i) => 0.92 * Math.abs(b!) * (i === 2 ? 0.7 : 1))];
    const said = poleWords(sheet, pickup, reckoned, { tops, up: ['south'] }).join(' ');
    expect(said).toMatch(/The 6 poles read 1\d % low\./);
    expect(said).toMatch(/under string 3 G3 is 30 % low against the others/);
    expect(said).toMatch(/compass finds south up where north is meant/);
    expect(poleWords(sheet, pickup, reckoned, { tops: [], up: ['north'] })).toEqual([
      'The compass agrees: north is up.',
    ]);
  });
});
