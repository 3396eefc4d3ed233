/**
 * A document in which every part of a sheet comes up, with its figures: what the schema is found by. Its types see to it that
 * nothing new is left out. Nobody is shown it.
 */
import { STARTING_BUILDS } from './builds.ts';
import { DEFAULT_LINE, DEFAULT_RADIUS, DEFAULT_TEMPO } from './defaults.ts';
import {
  SHEET_FORMAT,
  type Coil,
  type Controls,
  type Pickup,
  type PickupBuild,
  type Reach,
  type Sheet,
  type StringSpec,
} from './sheet.ts';
import { DEFAULT_SPREAD } from './spread.ts';
import { STRING_SETS } from './strings.ts';
import { STARTING_GRADE } from '../shape/ownGrade.ts';
import { STARTING_STEEL } from '../shape/ownSteel.ts';
import type { Trials } from './trials.ts';

const STRINGS: readonly StringSpec[] = STRING_SETS.find(({ strings }) => strings.length === 6)!.strings;

const START = STARTING_BUILDS.find(({ build }) => build.bars.length > 0 && build.rows.length === 2)!.build;

const BUILD: PickupBuild = {
  ...START,
  rows: START.rows.map((row) => ({
    ...row,
    pole: {
      ...row.pole,
      steel: 'low-carbon, annealed',
      own: STRINGS.map(() => ({
        grade: 'alnico 2',
        charge: 1,
        diameter: 0.005,
        length: 0.017,
        up: 'south',
        fitted: false,
      })),
    },
  })),
  steel: [
    {
      steel: 'low-carbon, annealed',
      width: 0.02,
      length: 0.062,
      thickness: 0.001,
      offset: 0,
      across: 0,
      top: -0.017,
    },
  ],
  coilSteel: { mu: 280, relaxation: 5000 },
  cover: {
    metal: 'nickel silver',
    thickness: 0.0004,
    clearance: 0.001,
    holes: 'row 1',
  },
  basePlate: { metal: 'nickel silver', thickness: 0.0008 },
  coils: 'on',
};

const REACH: Reach = { width: 0.015, sensitivity: 0.05, fade: 0.005 };
const COIL: Coil = { resistance: 4000, inductance: 2, capacitance: 50e-12, coreLoss: 1e6 };

const pickup = (build: PickupBuild | null): Pickup => ({
  name: 'middle',
  place: 0.1,
  slant: 0,
  sounds: true,
  join: 'series',
  phase: 'in',
  reversed: false,
  rows: [0.0095, -0.0095].map((offset) => ({ offset, reach: REACH, coil: COIL })),
  reachBy: build ? 'build' : 'hand',
  build,
});

const CONTROLS: Controls = {
  volume: { resistance: 500e3, taper: 'audio', position: 1 },
  bleed: { capacitance: 1e-9, resistance: 100e3, arrangement: 'parallel' },
  tone: { resistance: 500e3, taper: 'audio', position: 1, capacitance: 22e-9 },
};

const sheet = (build: PickupBuild | null): Sheet => ({
  format: SHEET_FORMAT,
  title: '',
  notes: '',
  instrument: {
    scaleLength: 0.648,
    frets: 22,
    spreadSaddle: 0.0525,
    spreadNut: 0.0355,
    radius: DEFAULT_RADIUS,
    strings: STRINGS,
  },
  pickups: [pickup(build)],
  magnets: { temperature: 40, own: STARTING_GRADE, ownSteel: STARTING_STEEL },
  harness: {
    wiring: 'own',
    controls: [CONTROLS],
    cable: { length: 3, capacitancePerMetre: 100e-12 },
    input: { resistance: 1e6, capacitance: 20e-12 },
  },
  listen: {
    play: 'chord',
    tempo: DEFAULT_TEMPO,
    line: DEFAULT_LINE,
    through: 'cable',
    string: 6,
    fret: 0,
    chord: STRINGS.map(() => 0),
    strum: 0.03,
    pluck: { place: 0.1, width: 0.001, depth: 0.001, angle: 0 },
    seconds: 4,
    sampleRate: 48000,
    level: 'as it is',
    partial: 1,
  },
});

/** @param built whether its pickups have a build */
export const everything = (built: boolean): Trials => {
  const one = sheet(built ? BUILD : null);
  return {
    format: 1,
    open: 0,
    trials: [one, one],
    spread: { ...DEFAULT_SPREAD, gap: 0.2e-3 },
    search: '{"wants":{"resonance":5000},"stock":{}}',
    blind: [{ a: 0, b: 1, rounds: 10, right: 5, date: '2025-11-27' }],
  };
};
