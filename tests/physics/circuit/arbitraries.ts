import fc from 'fast-check';
import type { Coil, Controls, Harness, ResolvedPickup as Pickup, Taper } from '../../../src/sheet/sheet.ts';
import { pickup } from './circuits.ts';

/** Log-uniform over the range: parts come in decades. */
const decade = (from: number, to: number): fc.Arbitrary<number> =>
  fc.integer({ min: 0, max: 1000 }).map((step) => from * (to / from) ** (step / 1000));
const unit = fc.integer({ min: 0, max: 1000 }).map((step) => step / 1000);
const taper = fc.constantFrom<Taper>('linear', 'audio');

export const coil: fc.Arbitrary<Coil> = fc.record({
  resistance: decade(50, 100e3),
  inductance: decade(1e-3, 50),
  capacitance: fc.oneof(fc.constant(0), decade(1e-12, 5e-9)),
  coreLoss: fc.option(decade(10e3, 10e6)),
});

const anyPickup: fc.Arbitrary<Pickup> = fc
  .record({
    coils: fc.array(coil, { minLength: 1, maxLength: 2 }),
    join: fc.constantFrom<Pickup['join']>('series', 'parallel'),
    phase: fc.constantFrom<Pickup['phase']>('in', 'out'),
    reversed: fc.boolean(),
  })
  .map(({ coils, ...options }) => pickup(coils, options));

const pot = fc.record({ resistance: decade(1e3, 5e6), taper, position: unit });
const capacitance = fc.oneof(fc.constant(0), decade(10e-12, 1e-6));

const anyControls: fc.Arbitrary<Controls> = fc.record({
  volume: pot,
  bleed: fc.option(
    fc.record({
      capacitance,
      resistance: fc.option(decade(1e3, 5e6)),
      arrangement: fc.constantFrom<'parallel' | 'series'>('parallel', 'series'),
    }),
  ),
  tone: fc.option(fc.record({ resistance: decade(1e3, 5e6), taper, position: unit, capacitance })),
});

export interface Wired {
  readonly pickups: readonly Pickup[];
  readonly harness: Harness;
  readonly sounding: readonly boolean[];
}

/** Any harness that a sheet may describe, with at least one pickup sounding. */
export const wired: fc.Arbitrary<Wired> = fc
  .record({
    pickups: fc.array(anyPickup, { minLength: 1, maxLength: 3 }),
    flags: fc.tuple(fc.boolean(), fc.boolean(), fc.boolean()),
    wiring: fc.constantFrom<Harness['wiring']>('shared', 'own'),
    sets: fc.tuple(anyControls, anyControls, anyControls),
    length: fc.integer({ min: 0, max: 100 }).map((metres) => metres / 2),
    capacitancePerMetre: fc.oneof(fc.constant(0), decade(10e-12, 1e-9)),
    input: fc.record({ resistance: decade(10e3, 100e6), capacitance }),
  })
  .map(({ pickups, flags, wiring, sets, length, capacitancePerMetre, input }) => {
    const sounding = pickups.map((_, i) => flags[i]!);
    if (!sounding.includes(true)) sounding[0] = true;
    const controls = sets.slice(0, wiring === 'shared' ? 1 : pickups.length);
    return {
      pickups,
      sounding,
      harness: { wiring, controls, cable: { length, capacitancePerMetre }, input },
    };
  });

export const frequency = decade(20, 20000);
