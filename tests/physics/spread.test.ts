import { describe, expect, it } from 'vitest';
import { resolve } from '../../src/physics/heard/resolve.ts';
import { heardNotes, notesLoudness } from '../../src/physics/heardNotes.ts';
import { heardBetween } from '../../src/physics/heardBetween.ts';
import { heardDifference } from '../../src/physics/hearing/heardDifference.ts';
import { deviationOf, looseParts, movedFields, movedSheet, type Move } from '../../src/physics/looseParts.ts';
import { deviationAt, evenDraws } from '../../src/physics/numerics/draws.ts';
import { phraseLevel } from '../../src/physics/soundingLive.ts';
import { reachCurve } from '../../src/physics/reachCurve.ts';
import { fieldOff, laddersOf } from '../../src/physics/spreadLadders.ts';
import { Makes, type SpreadWish } from '../../src/physics/spreadOf.ts';
import { setAt } from '../../src/sheet/edit.ts';
import type { Sheet } from '../../src/sheet/sheet.ts';
import { DEFAULT_SPREAD } from '../../src/sheet/spread.ts';
import { builtSheet } from '../fixtures/builtSheet.ts';
import { exampleSheet } from '../fixtures/sheet.ts';
import { solved as solver } from '../fixtures/solved.ts';

/** One note, magnets that may come out stronger, and room for more turns. */
function rods(): Sheet {
  const sheet = builtSheet('six rods');
  const listen = { ...sheet.listen, play: 'string', string: 3, fret: 2 } as const;
  const alone = { ...sheet, listen, pickups: sheet.pickups.map((p, i) => ({ ...p, sounds: i === 0 })) };
  const weak = setAt(alone, ['pickups', 0, 'build', 'rows', 0, 'pole', 'magnet', 'charge'], 0.8);
  return setAt(weak, ['pickups', 0, 'build', 'rows', 0, 'turns'], 7500);
}

const RODS = rods();
const root = (squares: Float64Array): number =>
  Math.sqrt(squares.reduce((sum, x) => sum + x * x, 0) / squares.length);
const deviation = (values: Float64Array): number => {
  const mean = values.reduce((sum, x) => sum + x, 0) / values.length;
  return root(values.map((x) => x - mean));
};
const wish = (change: Partial<SpreadWish> = {}): SpreadWish => ({
  ...{ other: null, otherFields: null, louder: 0, spread: DEFAULT_SPREAD },
  ...{ seed: 1, count: 200, from: 0, to: 2, ...change },
});

describe('draws', () => {
  it('[exact] the same for the same seed, others for another; one in each of as many strips; nothing hangs together', () => {
    const draws = evenDraws(5, 3, 400);
    expect(evenDraws(5, 3, 400)).toEqual(draws);
    expect(evenDraws(6, 3, 400)).not.toEqual(draws);
    const edges = Float64Array.from({ length: 399 }, (_, i) => deviationAt((i + 1) / 400));
    for (const column of draws) {
      const sorted = column.toSorted();
      edges.forEach((edge, i) => {
        expect(sorted[i]).toBeLessThanOrEqual(edge);
        expect(sorted[i + 1]).toBeGreaterThanOrEqual(edge);
      });
    }
    const [a, b] = [draws[0]!, draws[1]!];
    const together = a.reduce((sum, x, i) => sum + x * b[i]!, 0) / 400;
    expect(Math.abs(together)).toBeLessThan(3 / Math.sqrt(400));
  });

  it('[exact] 19 in 20 within two standard deviations: the normal distribution, cut at three', () => {
    // Handbook: Φ(1) = 0.841345, Φ(2) = 0.977250, Φ(3) = 0.998650.
    const cut = (phi: number): number => (phi - 0.00135) / (0.99865 - 0.00135);
    expect(deviationAt(cut(0.841345))).toBeCloseTo(1, 4);
    expect(deviationAt(cut(0.97725))).toBeCloseTo(2, 4);
    expect(deviationAt(0.5)).toBeCloseTo(0, 9);
    expect([0, 1].map(deviationAt)).toEqual([-3, 3]);
  });
});

describe('what is loose', () => {
  it('[exact] of every pickup that sounds, every control, cable and pluck; nothing moved is the very sheet', () => {
    expect(looseParts(RODS).map(({ key }) => key)).toEqual([
      ...['turns', 'wire', 'magnet', 'gap', 'pot', 'pot', 'capacitor', 'cable', 'pluck'],
    ]);
    expect(movedSheet(RODS, [])).toBe(RODS);
    const by = looseParts(RODS).map((one): Move => ({ ...one, by: 0 }));
    expect(movedSheet(RODS, by)).toEqual(RODS);
  });

  it('[exact] all magnets move together, single rods that have a charge of their own as well', () => {
    const own = { grade: null, charge: 0.5, diameter: null, length: null, up: null };
    const strings = RODS.instrument.strings.map((_, k) => (k === 2 ? own : null));
    const single = setAt(RODS, ['pickups', 0, 'build', 'rows', 0, 'pole', 'own'], strings);
    const { pole } = movedSheet(single, [{ key: 'magnet', pickup: 0, by: 0.1 }]).pickups[0]!.build!.rows[0]!;
    expect([pole.magnet.charge, pole.own?.[2]?.charge, pole.own?.[1]]).toEqual([0.8 * 1.1, 0.55, null]);
  });

  it('[exact] typed figures of a coil move with it: inductance as the turns squared', () => {
    const { coil, reach } = exampleSheet().pickups[0]!.rows[0]!;
    const moved = movedSheet(exampleSheet(), [{ key: 'turns', pickup: 0, row: 0, by: 0.02 }]).pickups[0]!
      .rows[0]!;
    expect(moved.coil.inductance! / coil.inductance).toBeCloseTo(1.02 ** 2, 12);
    expect(moved.coil.resistance! / coil.resistance).toBeCloseTo(1.02, 12);
    expect(moved.reach.sensitivity / reach.sensitivity).toBeCloseTo(1.02, 12);
  });
});

describe('a pickup made once more', () => {
  const base = solver.fields(RODS);
  const loose = looseParts(RODS);
  const direct = (moves: readonly Move[]) => {
    const sheet = movedSheet(RODS, moves);
    const fields = movedFields(solver.fields(sheet), moves);
    return { sheet, fields, heard: resolve(sheet, fields) };
  };

  it('[exact] put together from known gaps, magnets and turns is what is solved: pattern within 0.1 dB, level within 0.05, at two deviations of all', () => {
    const ladders = laddersOf(RODS, 0, { gap: 0.45e-3, magnet: 0.15, turns: [0.03] }, solver);
    const off = { gap: -2 * 0.15e-3, magnet: 2 * 0.05, turns: [-2 * 0.01] };
    const { sheet, heard } = direct([
      { key: 'gap', pickup: 0, by: off.gap },
      { key: 'magnet', pickup: 0, by: off.magnet },
      { key: 'turns', pickup: 0, row: 0, by: off.turns[0]! },
    ]);
    const fast = resolve(sheet, [fieldOff(ladders, off), ...base.slice(1)]);
    const [there, here] = [heard, fast].map((one) => heardNotes(one)) as [
      ReturnType<typeof heardNotes>,
      ReturnType<typeof heardNotes>,
    ];
    const louder = notesLoudness(here) - notesLoudness(there);
    expect(Math.abs(louder)).toBeLessThan(0.05);
    expect(Math.abs(heardDifference(there, here, louder).most)).toBeLessThan(0.1);
    // And the notes' loudness is the phrase's.
    const was = notesLoudness(heardNotes(resolve(RODS, base)));
    const phrase = phraseLevel(
      sheet,
      heard.pickups.map(({ field }) => field ?? null),
    ).loudness!;
    const by = phrase - phraseLevel(RODS, base).loudness!;
    expect(Math.abs(notesLoudness(there) - was - by)).toBeLessThan(0.15);
    expect(fieldOff(ladders, { gap: 0, magnet: 0, turns: [0] }).strings[2]!.rows[0]!.area).toBeCloseTo(
      base[0]!.strings[2]!.rows[0]!.area,
      12,
    );
  });

  it('[exact] small spreads come to what their effects, each by itself, come to: within 5 %', () => {
    const small = {
      turns: 4e-3,
      wire: 0.01,
      magnet: 0.02,
      gap: 6e-5,
      pot: 0.04,
      capacitor: 0.02,
      cable: 0.02,
    };
    const spread = { ...small, pluck: 5e-4 };
    const made = new Makes().part(RODS, wish({ spread, to: 200 }), base);
    const points = [40, 68, 76];
    const frequencies = Float64Array.from(points, (i) => made.frequencies[i]!);
    const of = (moves: readonly Move[]): number[] => {
      const { heard } = direct(moves);
      return [notesLoudness(heardNotes(heard)), ...reachCurve(heard, frequencies)];
    };
    const cut = root(Float64Array.from({ length: 1000 }, (_, i) => deviationAt((i + 0.5) / 1000)));
    const squares = [0, 0, 0, 0];
    for (const one of loose) {
      const sigma = cut * deviationOf(spread, one.key);
      const [up, down] = [of([{ ...one, by: sigma }]), of([{ ...one, by: -sigma }])];
      up.forEach((value, i) => (squares[i] = squares[i]! + (0.5 * (value - down[i]!)) ** 2));
    }
    const drawn = [
      deviation(made.sheet.louder),
      ...points.map((i) => deviation(Float64Array.from(made.sheet.curves, (c) => c[i]!))),
    ];
    drawn.forEach((value, i) => {
      const ratio = value / Math.sqrt(squares[i]!);
      expect(ratio).toBeGreaterThan(0.95);
      expect(ratio).toBeLessThan(1.05);
    });
  });

  it('[exact] comes out the same in whatever parts it is asked for, bit for bit; both as said: what is heard of them', () => {
    const sheet = exampleSheet();
    const other = setAt(sheet, ['harness', 'cable', 'length'], 9);
    const ask = { other, louder: -0.7 };
    const whole = new Makes().part(sheet, wish({ ...ask, to: 4 }), null);
    const makes = new Makes();
    const parts = [0, 2].map((from) => makes.part(sheet, wish({ ...ask, from, to: from + 2 }), null));
    expect([...whole.between!]).toEqual(parts.flatMap(({ between }) => [...between!]));
    expect(whole.sheet.curves).toEqual(parts.flatMap((part) => part.sheet.curves));
    expect([...whole.other!.own]).toEqual(parts.flatMap((part) => [...part.other!.own]));
    const { most } = heardBetween(sheet, { than: other, thanFields: null, louder: -0.7 });
    expect(whole.nominal).toBeCloseTo(most, 9);
    // Nothing is loose: every make is the one that was said.
    const none = { turns: 0, wire: 0, magnet: 0, gap: 0, pot: 0, capacitor: 0, cable: 0, pluck: 0 };
    const held = new Makes().part(sheet, wish({ ...ask, spread: none }), null);
    expect(held.between![0]).toBeCloseTo(most, 9);
    expect([...held.sheet.own]).toEqual([0]);
  });

  it('[exact] what no build may be, magnets beyond their grade and turns beyond the bobbin, is led on from below', () => {
    const full = setAt(RODS, ['pickups', 0, 'build', 'rows', 0, 'pole', 'magnet', 'charge'], 1);
    const tight = setAt(full, ['pickups', 0, 'build', 'rows', 0, 'turns'], 8174);
    const ladders = laddersOf(tight, 0, { gap: 0, magnet: 0.15, turns: [0.03] }, solver);
    const [as, more] = [0, 0.02].map((by) => fieldOff(ladders, { gap: 0, magnet: 0, turns: [by] }).coils[0]!);
    // As the turns, and a little more, for the outer ones are longer.
    expect(more!.resistance / as!.resistance).toBeGreaterThan(1.02);
    expect(more!.resistance / as!.resistance).toBeLessThan(1.03);
    const [said, strong] = [0, 0.1].map(
      (magnet) => fieldOff(ladders, { gap: 0, magnet, turns: [0] }).strings[2]!.rows[0]!.fluxDensity,
    );
    expect(strong! / said!).toBeCloseTo(1.1, 2);
  });

  it('[exact] alone it has its own spread, and nothing beside it', () => {
    const { other, between, nominal, sheet } = new Makes().part(exampleSheet(), wish(), null);
    expect([other, between, nominal]).toEqual([null, null, null]);
    expect(sheet.own).toHaveLength(1);
    expect(Math.abs(sheet.own[0]!)).toBeGreaterThan(0);
  });
});
