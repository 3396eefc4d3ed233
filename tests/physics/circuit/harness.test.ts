import { describe, expect, it } from 'vitest';
import { harnessNetwork, harnessTransfer, type CoilTransfer } from '../../../src/physics/circuit/harness.ts';
import { decibels } from '../../../src/physics/numerics/complex.ts';
import type { Coil } from '../../../src/sheet/sheet.ts';
import { coilA, coilB, coilC, controls, harness, pickup } from './circuits.ts';

const frequencies = Float64Array.from({ length: 31 }, (_, i) => 20 * 10 ** (i / 10));

/**
 * Rounding: a volume at its stop puts 0.1 S beside a track of some µS, which costs a double five of its sixteen digits.
 */
const ROUNDING = 1e-10;

/** Response to equal EMFs in all coils. */
function total(transfers: readonly CoilTransfer[]): { re: number[]; im: number[] } {
  const sum = (part: 're' | 'im'): number[] =>
    [...frequencies].map((_, i) => transfers.reduce((all, transfer) => all + transfer[part][i]!, 0));
  return { re: sum('re'), im: sum('im') };
}

function expectEqual(a: { re: ArrayLike<number>; im: ArrayLike<number> }, b: typeof a, factor = 1): void {
  for (let i = 0; i < frequencies.length; i++) {
    const size = Math.hypot(b.re[i]!, b.im[i]!) * Math.abs(factor);
    expect(Math.hypot(a.re[i]! - factor * b.re[i]!, a.im[i]! - factor * b.im[i]!)).toBeLessThan(
      ROUNDING * size,
    );
  }
}

const open = harness([controls(1, 1)]);
const worn = harness([
  controls(0.6, 0.4, { bleed: { capacitance: 1e-9, resistance: 150e3, arrangement: 'series' } }),
]);

describe('two equal coils', () => {
  const equal = [coilB, coilB];
  for (const set of [open, worn]) {
    it('[exact] in series are one coil of twice R, L and loss and half the capacitance, with twice the EMF', () => {
      const twice: Coil = {
        resistance: 2 * coilB.resistance,
        inductance: 2 * coilB.inductance,
        capacitance: coilB.capacitance / 2,
        coreLoss: 2 * coilB.coreLoss!,
      };
      const pair = harnessTransfer([pickup(equal)], set, [true], frequencies);
      const single = harnessTransfer([pickup([twice])], set, [true], frequencies);
      expectEqual(total(pair), single[0]!, 2);
    });
    it('[exact] in parallel are one coil of half R, L and loss and twice the capacitance, with the same EMF', () => {
      const half: Coil = {
        resistance: coilB.resistance / 2,
        inductance: coilB.inductance / 2,
        capacitance: 2 * coilB.capacitance,
        coreLoss: coilB.coreLoss! / 2,
      };
      const pair = harnessTransfer([pickup(equal, { join: 'parallel' })], set, [true], frequencies);
      const single = harnessTransfer([pickup([half])], set, [true], frequencies);
      expectEqual(total(pair), single[0]!);
    });
    for (const join of ['series', 'parallel'] as const) {
      it(`[exact] out of phase in ${join} cancel`, () => {
        const transfers = harnessTransfer([pickup(equal, { join, phase: 'out' })], set, [true], frequencies);
        const { re, im } = total(transfers);
        for (let i = 0; i < frequencies.length; i++) {
          const one = Math.hypot(transfers[0]!.re[i]!, transfers[0]!.im[i]!);
          expect(Math.hypot(re[i]!, im[i]!)).toBeLessThan(ROUNDING * one);
        }
      });
    }
  }
});

describe('polarity', () => {
  it('[exact] a lone reversed pickup differs by its sign alone', () => {
    const coils = [coilB, coilC];
    const plain = harnessTransfer([pickup(coils)], worn, [true], frequencies);
    const reversed = harnessTransfer([pickup(coils, { reversed: true })], worn, [true], frequencies);
    plain.forEach((transfer, k) => expectEqual(reversed[k]!, transfer, -1));
  });
  it('[exact] out of phase turns the sign of the second coil alone', () => {
    for (const join of ['series', 'parallel'] as const) {
      const within = harnessTransfer([pickup([coilB, coilC], { join })], open, [true], frequencies);
      const out = harnessTransfer(
        [pickup([coilB, coilC], { join, phase: 'out' })],
        open,
        [true],
        frequencies,
      );
      expectEqual(out[0]!, within[0]!);
      expectEqual(out[1]!, within[1]!, -1);
    }
  });
  it('[exact] at the lowest frequencies an unreversed coil counts positive', () => {
    for (const transfer of harnessTransfer([pickup([coilB, coilC])], open, [true], frequencies)) {
      expect(transfer.re[0]).toBeGreaterThan(0.9);
    }
  });
});

describe('the selector', () => {
  const neck = pickup([coilA], { name: 'neck' });
  const bridge = pickup([coilB, coilC]);
  const first = controls(0.7, 0.3);
  const second = controls(0.9, 0.8);

  it('[exact] wired shared: a pickup left out is as good as not there', () => {
    const both = harnessTransfer([neck, bridge], open, [false, true], frequencies);
    const alone = harnessTransfer([bridge], open, [true], frequencies);
    expect(both.map(({ pickup, row }) => [pickup, row])).toEqual([
      [1, 0],
      [1, 1],
    ]);
    both.forEach((transfer, k) => expectEqual(transfer, alone[k]!));
  });
  it('[exact] wired own: its controls go with it', () => {
    const own = harness([first, second], { wiring: 'own' });
    const one = harnessTransfer([neck, bridge], own, [true, false], frequencies);
    const alone = harnessTransfer([neck], harness([first]), [true], frequencies);
    expect(one).toHaveLength(1);
    expectEqual(one[0]!, alone[0]!);
  });
  it('[exact] wired own: a pickup turned down to zero takes the other with it', () => {
    const muted = harness([controls(0, 1), controls(1, 1)], { wiring: 'own' });
    const transfers = harnessTransfer([neck, bridge], muted, [true, true], frequencies);
    for (const { re, im } of transfers) expect(decibels(re[0]!, im[0]!)).toBeLessThan(-50);
  });
  it('nothing selected gives nothing', () => {
    expect(harnessTransfer([neck], open, [false], frequencies)).toEqual([]);
  });
  it('refuses flags and sets that do not fit', () => {
    expect(() => harnessNetwork([neck, bridge], open, [true])).toThrow(/as many as the pickups \(2\); got 1/);
    expect(() => harnessNetwork([neck, bridge], harness([first], { wiring: 'own' }), [true, true])).toThrow(
      /must have 2 set\(s\) .* got 1/,
    );
  });
});

describe('controls', () => {
  it('[exact] a volume at zero leaves the divider of coil and track over the end resistance', () => {
    const plain = harness([controls(0, 1, { tone: null })]);
    const [transfer] = harnessTransfer([pickup([coilA])], plain, [true], Float64Array.of(20));
    // 10 Ω at the stop, beside 1 MΩ of input; 250 kΩ of track and the coil's 6200 Ω and 302 Ω (2π·20 Hz·2.4 H) above.
    const lower = 1 / (1 / 10 + 1 / 1e6);
    const expected = lower / Math.hypot(6200 + 249990 + lower, 2 * Math.PI * 20 * 2.4);
    expect(Math.hypot(transfer!.re[0]!, transfer!.im[0]!) / expected).toBeCloseTo(1, 4);
    expect(decibels(transfer!.re[0]!, transfer!.im[0]!)).toBeLessThan(-80);
  });
  it('[exact] a linear volume at half way halves what no load disturbs', () => {
    const ideal = harness(
      [{ volume: { resistance: 250e3, taper: 'linear', position: 0.5 }, bleed: null, tone: null }],
      { cable: { length: 0, capacitancePerMetre: 0 }, input: { resistance: 1e12, capacitance: 0 } },
    );
    const coil: Coil = { resistance: 1, inductance: 1e-6, capacitance: 0, coreLoss: null };
    const [transfer] = harnessTransfer([pickup([coil])], ideal, [true], Float64Array.of(1000));
    expect(transfer!.re[0]).toBeCloseTo(0.5, 5);
  });
  it('[practice] a tone at zero makes a low resonance of coil and tone capacitor', () => {
    const fine = Float64Array.from({ length: 2001 }, (_, i) => 200 + i);
    const shut = harness([controls(1, 0)]);
    const [{ re, im } = { re: [], im: [] }] = harnessTransfer([pickup([coilA])], shut, [true], fine);
    const levels = [...fine].map((_, i) => decibels(re[i]!, im[i]!));
    const peak = fine[levels.indexOf(Math.max(...levels))]!;
    const ideal = 1 / (2 * Math.PI * Math.sqrt(2.4 * 22e-9));
    // Losses pull the peak below the ideal resonance, by 1/(4Q²) of it: some per cent.
    expect(peak).toBeGreaterThan(0.85 * ideal);
    expect(peak).toBeLessThan(1.03 * ideal);
  });
  it('[practice] a treble bleed keeps the highs of a volume turned down', () => {
    const bare = harness([controls(0.4, 1)]);
    for (const bleed of [
      { capacitance: 1e-9, resistance: null, arrangement: 'parallel' },
      { capacitance: 1e-9, resistance: 150e3, arrangement: 'parallel' },
      { capacitance: 1e-9, resistance: 150e3, arrangement: 'series' },
    ] as const) {
      const bled = harness([controls(0.4, 1, { bleed })]);
      const tilt = (set: typeof bare): number => {
        const [{ re, im } = { re: [], im: [] }] = harnessTransfer(
          [pickup([coilA])],
          set,
          [true],
          Float64Array.of(100, 3000),
        );
        return decibels(re[1]!, im[1]!) - decibels(re[0]!, im[0]!);
      };
      expect(tilt(bled)).toBeGreaterThan(tilt(bare) + 2);
    }
  });
});
