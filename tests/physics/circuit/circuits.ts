/**
 * Named circuits for the checks against outside solvers. Values are of the usual size for such parts (common
 * practice, no source), and uneven on purpose so that two coils never hide an exchange of one for the other.
 */
import type { Coil, Controls, Harness, ResolvedPickup as Pickup } from '../../../src/sheet/sheet.ts';
import type { CoilCore } from '../../../src/physics/circuit/coilCore.ts';
import type { HeardPickup } from '../../../src/physics/heard/resolved.ts';
import { harnessNetwork, type HarnessNetwork } from '../../../src/physics/circuit/harness.ts';

export const coilA: Coil = { resistance: 6200, inductance: 2.4, capacitance: 110e-12, coreLoss: null };
export const coilB: Coil = { resistance: 4100, inductance: 2.1, capacitance: 70e-12, coreLoss: 900e3 };
export const coilC: Coil = { resistance: 3900, inductance: 1.7, capacitance: 85e-12, coreLoss: 650e3 };

export function pickup(coils: readonly Coil[], options: Partial<Pickup> = {}): Pickup {
  return {
    name: 'bridge',
    place: 0.04,
    slant: 0,
    sounds: true,
    join: 'series',
    phase: 'in',
    reversed: false,
    rows: coils.map((coil, i) => ({
      offset: coils.length === 1 ? 0 : i === 0 ? 0.009 : -0.009,
      reach: { width: 0.011, sensitivity: 0.1, fade: null },
      coil,
    })),
    reachBy: 'hand',
    build: null,
    ...options,
  };
}

export function controls(volume: number, tone: number, options: Partial<Controls> = {}): Controls {
  return {
    volume: { resistance: 250e3, taper: 'audio', position: volume },
    tone: { resistance: 250e3, taper: 'audio', position: tone, capacitance: 22e-9 },
    bleed: null,
    ...options,
  };
}

export function harness(sets: readonly Controls[], options: Partial<Harness> = {}): Harness {
  return {
    wiring: 'shared',
    controls: sets,
    cable: { length: 3, capacitancePerMetre: 100e-12 },
    input: { resistance: 1e6, capacitance: 30e-12 },
    ...options,
  };
}

/** Cores of steel and of alnico, of the size that six poles in a usual coil have. */
export const steelCore: CoilCore = {
  air: 1.99,
  fit: { a: 3.4e-9, N: 0.0997, rest: 0 },
  metal: { radius: 2.375e-3, mu: 200, conductivity: 5.8e6 },
  turns: 8000,
  scale: 1,
  share: 0.58,
};
export const alnicoCore: CoilCore = {
  air: 1.4,
  fit: { a: 3.9e-9, N: 0.0935, rest: 2e-10 },
  metal: { radius: 2.425e-3, mu: 4.3, conductivity: 2.1e6 },
  turns: 6500,
  scale: 1.1,
  share: 0.31,
};

/** Under a brass cover; rounded from what the field engine gives for six rods. */
const coveredCore: CoilCore = {
  ...alnicoCore,
  plates: {
    tau: Float64Array.of(8e-5, 5e-5, 3.5e-5, 2e-5, 9e-6),
    air: Float64Array.of(8e-7, 4e-7, -2e-7, 1.5e-7, 5e-8),
    core: Float64Array.of(5e-7, 2e-7, 1.2e-7, -8e-8, 3e-8),
    ownAir: Float64Array.of(8e-7, 4e-7, -2e-7, 1.5e-7, 5e-8),
    ownCore: Float64Array.of(5e-7, 2e-7, 1.2e-7, -8e-8, 3e-8),
    moved: Float64Array.of(30, 12, -9, 7, 2),
  },
};

/** With a core in every coil. */
function cored(plain: Pickup, cores: readonly CoilCore[]): HeardPickup {
  return { ...plain, rows: plain.rows.map((row, i) => ({ ...row, core: cores[i]! })) };
}

const open = harness([controls(1, 1)]);
const two = (options: Partial<Pickup>): HarnessNetwork =>
  harnessNetwork([pickup([coilB, coilC], options)], open, [true]);

export const circuits: Readonly<Record<string, HarnessNetwork>> = {
  'single-coil': harnessNetwork([pickup([coilA])], open, [true]),
  'series-in-phase': two({ join: 'series', phase: 'in' }),
  'series-out-of-phase': two({ join: 'series', phase: 'out' }),
  'parallel-in-phase': two({ join: 'parallel', phase: 'in' }),
  'parallel-out-of-phase': two({ join: 'parallel', phase: 'out' }),
  'two-coils-reversed': two({ join: 'series', phase: 'out', reversed: true }),
  'neck-and-bridge-own-controls': harnessNetwork(
    [pickup([coilA], { name: 'neck' }), pickup([coilB, coilC])],
    harness([controls(0.7, 0.3), controls(0.9, 1)], { wiring: 'own' }),
    [true, true],
  ),
  'volume-7-tone-3-bleed-parallel': harnessNetwork(
    [pickup([coilB, coilC])],
    harness([
      controls(0.7, 0.3, { bleed: { capacitance: 1e-9, resistance: 150e3, arrangement: 'parallel' } }),
    ]),
    [true],
  ),
  'volume-7-tone-3-bleed-series': harnessNetwork(
    [pickup([coilB, coilC])],
    harness([
      controls(0.7, 0.3, { bleed: { capacitance: 680e-12, resistance: 130e3, arrangement: 'series' } }),
    ]),
    [true],
  ),
  'three-in-parallel-bleed-capacitor': harnessNetwork(
    [pickup([coilA], { name: 'neck' }), pickup([coilC], { name: 'middle', reversed: true }), pickup([coilB])],
    harness([
      controls(0.5, 0.6, { bleed: { capacitance: 1e-9, resistance: null, arrangement: 'parallel' } }),
    ]),
    [true, true, true],
  ),
};

/** Coils whose impedance is no fixed one. */
export const coredCircuits: Readonly<Record<string, HarnessNetwork>> = {
  'cored-single-coil': harnessNetwork([cored(pickup([coilA]), [steelCore])], open, [true]),
  'cored-series-and-single': harnessNetwork(
    [
      cored(pickup([coilA], { name: 'neck' }), [alnicoCore]),
      cored(pickup([coilB, coilC]), [steelCore, alnicoCore]),
    ],
    open,
    [true, true],
  ),
  'covered-single-coil': harnessNetwork([cored(pickup([coilA]), [coveredCore])], open, [true]),
};
