/** What every pickup comes to, as figures: coils, and each open string over them. */
import { hasCoil } from '../shape/hasCoil.ts';
import type { Instrument } from '../sheet/sheet.ts';
import { coilImpedance } from './circuit/coreWinding.ts';
import type { CoilOutcome, ComputedCoil, PickupOutcome, StringField, StringOutcome } from './prediction.ts';
import type { WiredRow } from './circuit/harness.ts';
import type { HeardPickup } from './heard/resolved.ts';
import { stopString, type SoundingString } from './string/note.ts';
import { detuning, staticPull } from './magnetics/overPickup/pull.ts';
import { reachOn } from './heard/reachOn.ts';

/** The figures of one pickup, for every open string whether it sounds or not; units stand at the types. */
export function outcomeOf(instrument: Instrument, pickup: HeardPickup): PickupOutcome {
  const strings = instrument.strings.map((_, i) => stopString(instrument, i + 1, 0));
  if (!hasCoil(pickup.build))
    return {
      coils: [],
      strings: strings.map((open, i) => ({ level: 0, widths: [], field: fieldOutcome(pickup, open, i) })),
    };
  return {
    coils: pickup.rows.map((row, r) => coilOutcome(pickup, row, r)),
    strings: strings.map((open, i) => stringOutcome(instrument, pickup, open, i)),
  };
}

/** F; a cable of common length, with which a pickup resonates at about where its core's loss is asked for. */
const CABLE = 500e-12;

function coilOutcome({ field }: HeardPickup, { coil, core }: WiredRow, r: number): CoilOutcome {
  const { resistance, inductance, capacitance } = coil;
  const built = field?.coils[r];
  let { coreLoss } = coil;
  if (core) {
    // The resistance across the inductance that takes as much as the core does, at the resonance on a cable.
    const omega = 1 / Math.sqrt(inductance * (capacitance + CABLE));
    const { re, im } = coilImpedance(core, omega);
    coreLoss = re > 0 ? (re * re + im * im) / re : null;
  }
  const computed: ComputedCoil | null = built
    ? {
        resistance: built.resistance,
        inductance: built.inductance,
        airInductance: built.airInductance,
        capacitance: built.capacitance,
        meanTurn: built.meanTurn,
        turnsThatFit: built.turnsThatFit,
      }
    : null;
  return { resistance, inductance, capacitance, coreLoss, computed };
}

function stringOutcome(
  instrument: Instrument,
  pickup: HeardPickup,
  open: SoundingString,
  index: number,
): StringOutcome {
  const reaches = pickup.rows.map((_, row) => reachOn(instrument, pickup, row, open.string, open.length));
  // In series the voltages add, in parallel equal coils give their mean.
  const parts = pickup.join === 'parallel' ? reaches.length : 1;
  const sum = reaches.reduce((total, { signed }, row) => {
    return total + (row > 0 && pickup.phase === 'out' ? -signed : signed);
  }, 0);
  return {
    level: (2 * Math.PI * open.frequency * Math.abs(sum)) / parts,
    widths: reaches.map(({ bell }) => bell.width),
    field: fieldOutcome(pickup, open, index),
  };
}

function fieldOutcome(
  { field, place }: HeardPickup,
  open: SoundingString,
  index: number,
): StringField | null {
  const string = field?.strings[index];
  if (!field || !string) return null;
  const { rows, saturation, stiffnessZ, stiffnessY, forceZ } = string;
  const middle = place + field.start + 0.5 * field.step * (forceZ.length - 1);
  const stretched = { length: open.length, tension: open.tension, frequency: open.frequency, place: middle };
  const { centsZ, centsY, beat } = detuning({ stiffnessZ, stiffnessY }, field.step, stretched, 1);
  return {
    fluxDensity: Math.max(...rows.map(({ fluxDensity }) => fluxDensity)),
    widths: rows.map(({ fieldWidth }) => fieldWidth),
    tipWidths: rows.map(({ tipWidth }) => tipWidth),
    saturation,
    centsTowards: centsZ,
    centsAcross: centsY,
    beat,
    drawnDown: -staticPull({ forceZ }, field.step, stretched),
  };
}
