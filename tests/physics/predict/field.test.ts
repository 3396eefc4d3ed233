/**
 * Pickups with a build, from the sheet to what is heard. What the trade says without a figure is marked [practice]; [exact]
 * are identities that hold whatever the numbers are.
 */
import { describe, expect, it, vi } from 'vitest';
import { close } from '../../../src/physics/close.ts';
import * as door from '../../../src/physics/predict.ts';
import type { Prediction } from '../../../src/physics/prediction.ts';
import { resolve } from '../../../src/physics/heard/resolve.ts';
import { coilImpedance } from '../../../src/physics/circuit/coreWinding.ts';
import { harnessTransfer } from '../../../src/physics/circuit/harness.ts';
import { rowCrossing } from '../../../src/shape/stringCourse.ts';
import {
  bevelPoles,
  raise,
  removeTurns,
  swapGrade,
  trimScrews,
  turnMagnetOver,
} from '../../fixtures/mods.ts';
import type { CoilFigures, Pickup, PickupBuild, RowBuild, Sheet } from '../../../src/sheet/sheet.ts';
import { builtSheet } from '../../fixtures/builtSheet.ts';
import { solved as solver } from '../../fixtures/solved.ts';

const fieldsOf = (sheet: Sheet) => solver.fields(sheet);
const predict = (sheet: Sheet) => door.predict(sheet, fieldsOf(sheet));

// Fields take seconds when the machine is busy.
vi.setConfig({ testTimeout: 60_000 });

const RODS = builtSheet('six rods');
const TWO = builtSheet('slugs and screws beside an alnico bar');

function with0(sheet: Sheet, change: (pickup: Pickup) => Partial<Pickup>): Sheet {
  return { ...sheet, pickups: sheet.pickups.map((p, i) => (i === 0 ? { ...p, ...change(p) } : p)) };
}

const withBuild = (sheet: Sheet, change: (build: PickupBuild) => Partial<PickupBuild>): Sheet =>
  with0(sheet, ({ build }) => ({ build: { ...build!, ...change(build!) } }));

/** Changes one row of the build, or all of them. */
const withRow = (sheet: Sheet, change: (row: RowBuild) => Partial<RowBuild>, only?: number): Sheet =>
  withBuild(sheet, ({ rows }) => ({
    rows: rows.map((row, r) => (only === undefined || only === r ? { ...row, ...change(row) } : row)),
  }));

const withCoil = (sheet: Sheet, coil: Partial<CoilFigures>): Sheet =>
  with0(sheet, ({ rows }) => ({ rows: rows.map((row) => ({ ...row, coil: { ...row.coil, ...coil } })) }));

const other = (up: RowBuild['up']): RowBuild['up'] => (up === 'north' ? 'south' : 'north');
const against = (wound: RowBuild['wound']): RowBuild['wound'] =>
  wound === 'clockwise' ? 'anticlockwise' : 'clockwise';

/** Level of the first pickup on string 3, V for 1 m. */
const level = (prediction: Prediction): number => prediction.pickups[0]!.strings[2]!.level;

/** ∫ of every row's reach on string 3, its sign included. */
const areas = (sheet: Sheet): readonly number[] =>
  fieldsOf(sheet)[0]!.strings[2]!.rows.map(({ area }) => area);

describe('polarity', () => {
  it('[exact] a coil turns its voltage with its magnet and with its winding; north under clockwise is positive', () => {
    const [plain] = areas(RODS);
    expect(plain).toBeGreaterThan(0);
    const south = withRow(RODS, ({ up }) => ({ up: other(up) }));
    const wound = withRow(RODS, (row) => ({ wound: against(row.wound) }));
    expect(areas(south)[0]! / plain!).toBeCloseTo(-1, 6);
    expect(areas(wound)[0]! / plain!).toBeCloseTo(-1, 9);
    // Steel poles have what the bar gives them.
    const turned = areas(turnMagnetOver(TWO, 0));
    areas(TWO).forEach((area, r) => expect(turned[r]! / area).toBeCloseTo(-1, 6));
  });

  it('[practice] two coils, opposite in magnet and winding, add the string and cancel the hum', () => {
    const parts = areas(TWO);
    expect(parts[0]! * parts[1]!).toBeGreaterThan(0);
    const frequency = TWO.instrument.strings[2]!.midi;
    const omega = 2 * Math.PI * 440 * 2 ** ((frequency - 69) / 12);
    expect(level(predict(TWO))).toBeCloseTo(omega * (parts[0]! + parts[1]!), 9);
    // Hum: a field that is the same everywhere induces turns × area × sense of the winding in each coil.
    const heard = resolve(TWO, fieldsOf(TWO));
    const through = harnessTransfer(heard.pickups, heard.harness, [true, false, false], Float64Array.of(100));
    const senses = TWO.pickups[0]!.build!.rows.map(({ wound }) => (wound === 'clockwise' ? 1 : -1));
    const hum = through.map(({ re }, r) => senses[r]! * re[0]!);
    expect(Math.abs(hum[0]! + hum[1]!)).toBeLessThan(0.02 * Math.abs(hum[0]!));
  });

  it('[practice] joined out of phase the two thin out, as do two alike', () => {
    const whole = level(predict(TWO));
    expect(level(predict(with0(TWO, () => ({ phase: 'out' }))))).toBeLessThan(0.1 * whole);
    const alike = withRow(TWO, (row) => ({ wound: against(row.wound) }), 1);
    expect(level(predict(alike))).toBeLessThan(0.1 * whole);
    // In the curve, where the string is placed, the lows go.
    const [lows, thin] = [TWO, with0(TWO, () => ({ phase: 'out' }))].map((sheet) => {
      const { placedDb } = predict(sheet).voices[0]!;
      return placedDb[Math.floor((511 * Math.log(200 / 20)) / Math.log(1000))]!;
    });
    expect(thin!).toBeLessThan(lows! - 12);
  });

  it('[practice] coils in parallel give about half the voltage of the same in series', () => {
    expect(level(predict(with0(TWO, () => ({ join: 'parallel' })))) / level(predict(TWO))).toBeCloseTo(
      0.5,
      9,
    );
  });
});

describe('the reach on the string', () => {
  it('lies where the rows cross it, also slanted, and is as wide as is said', () => {
    const sheet = with0(TWO, () => ({ slant: 0.15 }));
    const { reach } = predict(sheet).voices[0]!;
    const [pickup] = sheet.pickups;
    // Between two rows of opposite poles the field runs along the string: each one's reach leans inwards, a few millimetres.
    pickup!.rows.forEach(({ offset }, r) => {
      const crossing = rowCrossing(sheet.instrument, pickup!, offset, sheet.listen.string);
      const inwards = -Math.sign(offset) * (reach.rows[r]!.centre - crossing);
      expect(inwards).toBeGreaterThan(0);
      expect(inwards).toBeLessThan(4e-3);
    });
    // A single row's stays where it is.
    const single = with0(RODS, () => ({ slant: 0.15 }));
    const crossing = rowCrossing(single.instrument, single.pickups[0]!, 0, single.listen.string);
    const [row] = predict(single).voices[0]!.reach.rows;
    expect(Math.abs(row!.centre - crossing)).toBeLessThan(3e-4);
    // The samples' own middle.
    let sum = 0;
    let moment = 0;
    reach.value.forEach((value, i) => {
      sum += value;
      moment += value * reach.x[i]!;
    });
    const middle = (reach.rows[0]!.centre + reach.rows[1]!.centre) / 2;
    expect(Math.abs(moment / sum - middle)).toBeLessThan(0.6e-3);
  });

  it('[exact] set by hand it is the bell, whatever the build; the field is still told', () => {
    const byHand = predict(with0(RODS, () => ({ reachBy: 'hand' })));
    const [row] = RODS.pickups[0]!.rows;
    expect(byHand.voices[0]!.reach.rows[0]!.width).toBe(row!.reach.width);
    expect(byHand.pickups[0]!.strings[2]!.field).toEqual(predict(RODS).pickups[0]!.strings[2]!.field);
    expect(byHand.pickups[0]!.coils[0]!.computed).not.toBeNull();
  });

  it('[exact] without a build there is nothing computed', () => {
    const { coils, strings } = predict(RODS).pickups[1]!;
    expect(coils[0]!.computed).toBeNull();
    expect(strings.every(({ field }) => field === null)).toBe(true);
  });
});

describe('coil figures', () => {
  const computed = predict(RODS).pickups[0]!.coils[0]!;

  it('[exact] what is typed wins, what is not is the build’s, and the computed one is still told', () => {
    const typed = predict(withCoil(RODS, { resistance: 7000, capacitance: 2e-10 })).pickups[0]!.coils[0]!;
    expect(typed).toMatchObject({ resistance: 7000, capacitance: 2e-10, inductance: computed.inductance });
    expect(typed.computed).toEqual(computed.computed);
    expect(computed.inductance).toBe(computed.computed!.inductance);
  });

  it('[exact] a typed inductance is that at low frequency, and falls with the poles as the computed one does', () => {
    const half = withCoil(RODS, { inductance: computed.inductance / 2 });
    expect(predict(half).pickups[0]!.coils[0]!.inductance).toBe(computed.inductance / 2);
    const [whole, other] = [RODS, half].map(
      (sheet) => resolve(sheet, fieldsOf(sheet)).pickups[0]!.rows[0]!.core!,
    );
    for (const omega of [1, 1e3, 1e5]) {
      const a = coilImpedance(whole!, omega);
      const b = coilImpedance(other!, omega);
      expect(b.im / a.im).toBeCloseTo(0.5, 12);
      expect(b.re / a.re).toBeCloseTo(0.5, 12);
    }
    expect(coilImpedance(whole!, 1e-3).im / 1e-3).toBeCloseTo(computed.inductance, 9);
  });

  it('[exact] a typed loss lies across one fixed inductance', () => {
    const typed = withCoil(RODS, { coreLoss: 200e3 });
    const { pickups } = resolve(typed, fieldsOf(typed));
    expect(pickups[0]!.rows[0]!.core).toBeUndefined();
    expect(pickups[0]!.rows[0]!.coil.coreLoss).toBe(200e3);
  });

  it('the loss that is told for a computed core gives nearly the same resonance when it is typed', () => {
    for (const sheet of [RODS, builtSheet('steel poles over a ceramic bar')]) {
      const told = predict(sheet);
      const { coreLoss } = told.pickups[0]!.coils[0]!;
      const typed = predict(withCoil(sheet, { coreLoss }));
      const [a, b] = [told, typed].map(({ voices }) => voices[0]!.features.resonance!);
      // The inductance, too, has fallen at the resonance; the poles' share of the sensitivity has.
      expect(Math.abs(b!.frequency / a!.frequency - 1)).toBeLessThan(0.1);
      expect(Math.abs(b!.q / a!.q - 1)).toBeLessThan(0.25);
    }
  });

  it('[practice] two coils help each other in phase and hinder each other out of phase', () => {
    const sum = (sheet: Sheet) =>
      predict(sheet).pickups[0]!.coils.reduce((total, { inductance }) => total + inductance, 0);
    const apart = predict(TWO).pickups[0]!.coils.reduce(
      (total, coil) => total + coil.computed!.inductance,
      0,
    );
    expect(sum(TWO)).toBeGreaterThan(1.02 * apart);
    expect(sum(with0(TWO, () => ({ phase: 'out' })))).toBeLessThan(0.98 * apart);
  });
});

describe('[practice] orders and signs that players and makers report', () => {
  const fieldOf = (sheet: Sheet) => fieldsOf(sheet)[0]!.strings[2]!;

  it('alnico 5 is stronger than alnico 2, and louder', () => {
    const weaker = swapGrade(RODS, 0, 'alnico 2');
    expect(fieldOf(RODS).rows[0]!.fluxDensity).toBeGreaterThan(fieldOf(weaker).rows[0]!.fluxDensity);
    expect(level(predict(RODS))).toBeGreaterThan(level(predict(weaker)));
  });

  it('few turns over a strong magnet are bright, and not silent for it', () => {
    const bright = predict(builtSheet('short steel poles over a small neodymium bar'));
    const usual = predict(builtSheet('steel poles over a ceramic bar'));
    const resonance = (prediction: Prediction) => prediction.voices[0]!.features.resonance!.frequency;
    expect(resonance(bright)).toBeGreaterThan(1.5 * resonance(usual));
    expect(level(bright)).toBeGreaterThan(0.2 * level(usual));
    const strong = predict(swapGrade(removeTurns(RODS, 0, 0.5), 0, 'neodymium'));
    expect(resonance(strong)).toBeGreaterThan(1.5 * resonance(predict(RODS)));
    expect(level(strong)).toBeGreaterThan(0.4 * level(predict(RODS)));
  });

  it('fewer turns: brighter and quieter, in proportion', () => {
    const fewer = removeTurns(RODS, 0, 0.25);
    const [before, after] = [predict(RODS), predict(fewer)];
    expect(after.voices[0]!.features.resonance!.frequency).toBeGreaterThan(
      1.15 * before.voices[0]!.features.resonance!.frequency,
    );
    expect(level(after) / level(before)).toBeGreaterThan(0.7);
    expect(level(after) / level(before)).toBeLessThan(0.8);
  });

  it('trimming the screws flush changes the field a little, and mostly over the screws', () => {
    const trimmed = trimScrews(TWO, 0, 0.0085);
    const change = (r: number) =>
      fieldOf(trimmed).rows[r]!.fluxDensity / fieldOf(TWO).rows[r]!.fluxDensity - 1;
    expect(change(0)).toBeGreaterThan(0.02);
    expect(change(0)).toBeLessThan(0.3);
    expect(Math.abs(change(1))).toBeLessThan(0.3 * change(0));
  });

  it('the pickup that pulls less can sit closer before intonation suffers', () => {
    const closest = (sheet: Sheet) => close(sheet, 0, 3)!.gapTreble;
    expect(closest(swapGrade(RODS, 0, 'alnico 2'))).toBeLessThan(closest(RODS));
    // A tighter pattern: the rods bevelled, with the same magnet in them.
    expect(closest(bevelPoles(RODS, 0, 0.0014))).toBeLessThan(closest(RODS));
    expect(closest(builtSheet('slugs and screws beside an alnico bar'))).toBeLessThan(closest(RODS));
  });

  it('nearer: louder, narrower, flatter', () => {
    const near = predict(raise(RODS, 0, 0.8e-3)).pickups[0]!.strings[2]!;
    const far = predict(RODS).pickups[0]!.strings[2]!;
    expect(near.level).toBeGreaterThan(far.level);
    expect(near.widths[0]).toBeLessThan(far.widths[0]!);
    expect(near.field!.centsTowards).toBeLessThan(far.field!.centsTowards);
    expect(near.field!.drawnDown).toBeGreaterThan(far.field!.drawnDown);
  });

  it('a slack string that the magnets hold fast is told of, and nothing else is without a figure', () => {
    const strong = withRow(swapGrade(RODS, 0, 'neodymium N52'), ({ pole }) => ({
      pole: { ...pole, magnet: { ...pole.magnet, charge: 1 } },
    }));
    const slack = strong.instrument.strings.map((string, i) => ({
      ...string,
      midi: string.midi - (i === 5 ? 24 : 0),
    }));
    const { pickups, warnings } = predict({
      ...strong,
      instrument: { ...strong.instrument, strings: slack },
    });
    const { field } = pickups[0]!.strings[5]!;
    expect(field!.centsTowards).toBe(-Infinity);
    expect(Number.isNaN(field!.centsAcross)).toBe(false);
    expect(warnings.join(' ')).toMatch(/magnets hold string 6 fast/);
    expect(pickups[0]!.strings[0]!.field!.centsTowards).toBeGreaterThan(-1200);
  });

  it('steel cores cost treble: the resonance is lower and blunter than over rods with the same turns', () => {
    const resonance = (sheet: Sheet) => predict(sheet).voices[0]!.features.resonance!;
    const steel = resonance(builtSheet('steel poles over a ceramic bar'));
    expect(steel.frequency).toBeLessThan(0.9 * resonance(RODS).frequency);
  });
});

describe('speaking up', () => {
  it('a magnet that another one overdrives is told of, with the pickup’s name', () => {
    // Hardly charged rods beside a strong bar that is turned against them.
    const weak = withRow(
      turnMagnetOver(
        withRow(TWO, ({ up }) => ({ up: other(up) })),
        0,
      ),
      ({ pole }) => ({
        pole: {
          ...pole,
          kind: 'rod',
          length: 0.008,
          diameter: 0.003,
          magnet: { grade: 'alnico 5', charge: 0.05 },
        },
      }),
    );
    const { warnings } = predict(weak);
    expect(warnings.join()).toMatch(/neck: .*driven past its coercivity/);
  });

  it('[exact] nothing that is not a number leaves', () => {
    const seen = (value: unknown): void => {
      if (typeof value === 'number') expect(Number.isFinite(value)).toBe(true);
      else if (value instanceof Float64Array) expect(value.every(Number.isFinite)).toBe(true);
      else if (typeof value === 'object' && value !== null) Object.values(value).forEach(seen);
    };
    seen(predict(TWO).pickups);
    seen(predict(TWO).voices);
  });
});
