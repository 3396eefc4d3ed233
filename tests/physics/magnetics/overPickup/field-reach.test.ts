/**
 * Identities that hold whatever the numbers are, on a real pickup's field.
 *
 *   reach             slope of the string's flux through the coil    1e-6
 *   pull              slope of the string's energy, over steel too   1e-6
 *   stiffness         slope of the pull                              3e-5 towards, 3e-4 across (differences of differences;
 *                                                                    across, with second derivatives from samples)
 *   superposition, mirror images, scale                              1e-6
 */
import { beforeAll, describe, expect, it } from 'vitest';
import { chargeCloud } from '../../../../src/physics/magnetics/charges/chargeCloud.ts';
import type { Line } from '../../../../src/physics/magnetics/charges/chargeCloud.ts';
import { ChargeSources } from '../../../../src/physics/magnetics/charges/gathered.ts';
import {
  addCloudField,
  addCoilField,
  emptyLineField,
} from '../../../../src/physics/magnetics/overPickup/lineField.ts';
import { stringSamples } from '../../../../src/physics/magnetics/overPickup/stringLine.ts';
import { solveCharged } from '../../../../src/physics/magnetics/pickup/chargedPickup.ts';
import { solvePickup } from '../../../../src/physics/magnetics/pickup/solvePickup.ts';
import type { SolvedPickup } from '../../../../src/physics/magnetics/pickup/solvePickup.ts';
import {
  fieldReach,
  magnetiseString,
  sensitivityOf,
  stringFlux,
} from '../../../../src/physics/magnetics/overPickup/fieldReach.ts';
import { reachArea, reachSpan } from '../../../../src/physics/magnetics/overPickup/reachSpan.ts';
import { makeWire } from '../../../../src/physics/string/magnetisation.ts';
import {
  detuning,
  pull,
  staticPull,
  stringEnergy,
} from '../../../../src/physics/magnetics/overPickup/pull.ts';
import { closestClearance } from '../../../../src/physics/magnetics/overPickup/stringPull.ts';
import { plainMetal, woundMetal } from '../../../../src/physics/string/stringMetal.ts';
import { sixRods } from '../../../fixtures/pickups.ts';

const step = 0.5e-3;
const plain = plainMetal(0.216e-3, 99, 1.59e6);
const wire = makeWire(plain, step, 256);
const wound = makeWire(woundMetal(plain, 0.58e-3, { permeability: 100, saturation: 1.67e6 }), step, 256);
const x = stringSamples();
let pickup: SolvedPickup;
// One cloud for all heights, so that differences see the field's change and not the cloud's.
let sources: ChargeSources;
let cloud: ReturnType<typeof chargeCloud>;
beforeAll(() => {
  pickup = solvePickup(sixRods('alnico 5'));
  sources = new ChargeSources(pickup.coupling, [pickup.magnets.density, pickup.coils[0]!.density]);
  cloud = chargeCloud(sources, { y: 6e-3, z: 2e-3, turn: 0 });
});

function fields(y: number, z: number) {
  const line: Line = { y, z, turn: 0 };
  const magnet = emptyLineField(x.length);
  const coil = emptyLineField(x.length);
  addCloudField(cloud, 0, line, x, magnet);
  addCloudField(cloud, 1, line, x, coil);
  addCoilField(pickup.coils[0]!.filaments, line, x, coil);
  return { magnet, coil };
}

function at(y: number, z: number, of = wire) {
  const { magnet, coil } = fields(y, z);
  return { string: magnetiseString(of, magnet), coil };
}

const Y = 6.1e-3;
const Z = 2.6e-3;
const E = 1e-6;

describe('reach', () => {
  it.each([
    ['plain', wire],
    ['wound', wound],
  ])('is the slope of the flux, towards the pickup and across: %s [exact]', (_, of) => {
    const { string, coil } = at(Y, Z, of);
    const { z, y } = fieldReach(string, coil);
    const flux = (dy: number, dz: number) => {
      const moved = at(Y + dy, Z + dz, of);
      return stringFlux(moved.string, moved.coil);
    };
    const slopeZ = (flux(0, E) - flux(0, -E)) / (2 * E);
    const slopeY = (flux(E, 0) - flux(-E, 0)) / (2 * E);
    expect(Math.abs(reachArea(z, step) / slopeZ - 1)).toBeLessThan(1e-6);
    expect(Math.abs(reachArea(y, step) / slopeY - 1)).toBeLessThan(1e-6);
    expect(Math.abs(sensitivityOf(string, pull(string).byZ, coil) / slopeZ - 1)).toBeLessThan(1e-6);
  });

  it('grows in proportion with the coil’s field [exact: superposition]', () => {
    const { string, coil } = at(Y, Z);
    const twice = emptyLineField(x.length);
    for (const part of Object.keys(twice) as (keyof typeof twice)[]) {
      coil[part].forEach((value, i) => (twice[part][i] = 2 * value));
    }
    const once = fieldReach(string, coil).z;
    fieldReach(string, twice).z.forEach((value, i) => {
      expect(Math.abs(value - 2 * once[i]!)).toBeLessThan(1e-6 * Math.abs(once[128]!));
    });
  });

  it('of a string over the middle of a row: even along, and across it vanishes by symmetry [exact]', () => {
    const line: Line = { y: 0, z: Z, turn: 0 };
    const symmetric = chargeCloud(sources, line);
    const magnet = emptyLineField(x.length);
    const coil = emptyLineField(x.length);
    addCloudField(symmetric, 0, line, x, magnet);
    addCloudField(symmetric, 1, line, x, coil);
    addCoilField(pickup.coils[0]!.filaments, line, x, coil);
    const { z, y } = fieldReach(magnetiseString(wire, magnet), coil);
    const peak = Math.max(...z.map(Math.abs));
    for (let i = 0; i < 128; i++) expect(Math.abs(z[128 + i]! - z[127 - i]!)).toBeLessThan(1e-6 * peak);
    y.forEach((value) => expect(Math.abs(value)).toBeLessThan(1e-6 * peak));
  });

  it('the width is that of a known bell [exact]', () => {
    const bell = Float64Array.from({ length: 256 }, (_, i) => -Math.exp(-(((i - 100.3) / 12) ** 2)));
    // Steps of even height are off by less than 0.03 of a step.
    expect(Math.abs(reachSpan(bell, step).width - 24 * Math.sqrt(Math.LN2) * step)).toBeLessThan(0.03 * step);
    expect(reachSpan(bell, step).middle).toBeCloseTo((100.3 - 127.5) * step, 6);
    expect(reachSpan(new Float64Array(8), step)).toEqual({ width: 0, middle: 0 });
  });

  it('the width does not jump while one of two humps falls below half the other [exact]', () => {
    const bump = (i: number, at: number) => Math.exp(-(((i - at) / 10) ** 2));
    const width = (share: number) =>
      reachSpan(
        Float64Array.from({ length: 256 }, (_, i) => bump(i, 100) + share * bump(i, 150)),
        step,
      ).width;
    // Between the humps little lies: there the width moves fastest, and still by less than a hundredth for 2 ‰.
    for (let share = 0.2; share < 1; share += 0.002) {
      const [before, after] = [width(share), width(share + 0.002)];
      expect(after - before).toBeGreaterThan(0);
      expect(after - before).toBeLessThan(0.05 * before);
    }
  });
});

describe('pull', () => {
  it.each([
    ['plain', wire],
    ['wound', wound],
  ])('is minus the slope of the energy, both ways: %s [exact]', (_, of) => {
    const { string } = at(Y, Z, of);
    const { forceZ, forceY } = pull(string);
    const energy = (dy: number, dz: number) => stringEnergy(at(Y + dy, Z + dz, of).string);
    const sum = (values: Float64Array) => values.reduce((a, b) => a + b) * step;
    const h = 1e-5;
    const slope = (f: (d: number) => number) => (8 * (f(h) - f(-h)) - (f(2 * h) - f(-2 * h))) / (12 * h);
    expect(Math.abs(sum(forceZ) / -slope((d) => energy(0, d)) - 1)).toBeLessThan(1e-6);
    expect(Math.abs(sum(forceY) / -slope((d) => energy(d, 0)) - 1)).toBeLessThan(1e-6);
  });

  it('is so over rods on a steel plate, with a wall of steel beside them [exact]', () => {
    const plate = { size: { x: 12e-3, y: 64e-3, z: 3e-3 }, centre: { x: 0, y: 0, z: -18.5e-3 } };
    const wall = { size: { x: 1e-3, y: 64e-3, z: 8e-3 }, centre: { x: 9.6e-3, y: 0, z: -8e-3 } };
    const grade = 'low-carbon, as drawn' as const;
    const { coupling, magnets } = solveCharged({
      ...sixRods('alnico 5'),
      steel: [plate, wall].map((piece) => ({ ...piece, grade })),
    });
    const around = chargeCloud(new ChargeSources(coupling, [magnets.density]), { y: 6e-3, z: 2e-3, turn: 0 });
    const over = (dy: number, dz: number) => {
      const field = emptyLineField(x.length);
      addCloudField(around, 0, { y: Y + dy, z: Z + dz, turn: 0 }, x, field);
      return magnetiseString(wire, field);
    };
    const h = 1e-5;
    const slope = (f: (d: number) => number) => (8 * (f(h) - f(-h)) - (f(2 * h) - f(-2 * h))) / (12 * h);
    const sum = (values: Float64Array) => values.reduce((a, b) => a + b) * step;
    const { forceZ, forceY } = pull(over(0, 0));
    expect(Math.abs(sum(forceZ) / -slope((d) => stringEnergy(over(0, d))) - 1)).toBeLessThan(1e-6);
    expect(Math.abs(sum(forceY) / -slope((d) => stringEnergy(over(d, 0))) - 1)).toBeLessThan(1e-6);
  });

  it('the stiffness is minus the slope of the force', () => {
    const { string } = at(Y, Z);
    const { stiffnessZ, stiffnessY } = pull(string);
    const sum = (values: Float64Array) => values.reduce((a, b) => a + b) * step;
    const h = 1e-5;
    const force = (dy: number, dz: number) => pull(at(Y + dy, Z + dz).string);
    const z = -(sum(force(0, h).forceZ) - sum(force(0, -h).forceZ)) / (2 * h);
    const y = -(sum(force(h, 0).forceY) - sum(force(-h, 0).forceY)) / (2 * h);
    expect(Math.abs(sum(stiffnessZ) / z - 1)).toBeLessThan(3e-5);
    expect(Math.abs(sum(stiffnessY) / y - 1)).toBeLessThan(3e-4);
  });

  const string = { length: 0.648, tension: 72, frequency: 196, place: 0.16 };
  // Sample 128 lies half a step beyond the middle.
  const place = 0.16 + 0.5 * step;

  it('draws the string down, lowers the first partial most, and the polarisations beat [paper: Feinberg; Zollner, § 4.11]', () => {
    const forces = pull(at(Y, Z).string);
    const down = staticPull(forces, step, string);
    expect(down).toBeLessThan(0);
    // Below 0.1 mm.
    expect(down).toBeGreaterThan(-1e-4);
    const first = detuning(forces, step, string, 1);
    expect(first.centsZ).toBeLessThan(0);
    expect(Math.abs(detuning(forces, step, string, 4).centsZ)).toBeLessThan(Math.abs(first.centsZ));
    expect(first.beat).toBeGreaterThan(0);
  });

  it('a point stiffness gives Rayleigh’s shift [exact]', () => {
    const spring = {
      forceZ: new Float64Array(256),
      forceY: new Float64Array(256),
      stiffnessZ: new Float64Array(256),
      stiffnessY: new Float64Array(256),
      byZ: new Float64Array(256),
    };
    spring.stiffnessZ[128] = -10 / step;
    const { centsZ, centsY } = detuning(spring, step, string, 1);
    const shift = (-10 * 0.648 * Math.sin((Math.PI * place) / 0.648) ** 2) / (72 * Math.PI ** 2);
    expect(centsZ).toBeCloseTo(600 * Math.log2(1 + 2 * shift), 9);
    expect(centsY).toBe(0);
  });

  // The string that passes a point spring is two arcs that meet there: T k (cot kp + cot k(L − p)) = −K.
  it.each([0, 5, 12, 19])(
    'stopped at fret %d as well, and so it is when solved without perturbation [exact]',
    (fret) => {
      const length = 0.648 * 2 ** (-fret / 12);
      const [tension, spot, K] = [72, 0.16025, -4];
      const stiffnessZ = new Float64Array(256);
      stiffnessZ[128] = K / step;
      const none = new Float64Array(256);
      const stopped = { length, tension, frequency: 196 * 2 ** (fret / 12), place: 0.16 };
      const { centsZ } = detuning({ stiffnessZ, stiffnessY: none }, step, stopped, 1);
      const left = (k: number): number =>
        tension * k * (1 / Math.tan(k * spot) + 1 / Math.tan(k * (length - spot))) + K;
      let [low, high] = [0.9, 1.1];
      for (let i = 0; i < 60; i++) {
        const middle = 0.5 * (low + high);
        if (left((middle * Math.PI) / length) > 0) low = middle;
        else high = middle;
      }
      // What is left out is of the second order.
      expect(Math.abs(centsZ / (1200 * Math.log2(low)) - 1)).toBeLessThan(3 * Math.abs(1 - low));
      expect(centsZ).toBeLessThan(-1);
    },
  );

  // Two straight halves bring a string back with 4 T/L in its middle: beyond that a spring of the other sign moves it away.
  it.each([
    [-3.5, false],
    [-5, true],
    [-20, true],
  ])(
    'that takes %d T/L off in the middle of a string has a pitch only while the tension holds [exact]',
    (K, fast) => {
      const stiffnessZ = new Float64Array(257);
      stiffnessZ[128] = (K * 72) / 0.648 / step;
      const middle = { length: 0.648, tension: 72, frequency: 196, place: 0.324 };
      const { centsZ, beat } = detuning({ stiffnessZ, stiffnessY: new Float64Array(257) }, step, middle, 1);
      expect(centsZ === -Infinity).toBe(fast);
      expect(Number.isNaN(centsZ)).toBe(false);
      expect(beat).toBeLessThanOrEqual(196);
    },
  );
});

describe('the least clearance at which a shift is within the cents [exact]', () => {
  const falls = (clearance: number): number => -1e-6 / clearance ** 2;

  it.each([0.4e-3, 1e-3, 3e-3, 12e-3])('is found from %s m', (from) => {
    const found = closestClearance(falls, 1, from, 20e-3)!;
    expect(found.clearance).toBeGreaterThanOrEqual(1e-3);
    expect(found.clearance).toBeLessThan(1e-3 + 1.01e-5);
    expect(found.value).toBe(falls(found.clearance));
  });

  it('takes few steps, whatever the law', () => {
    for (const law of [falls, (c: number) => 5 * Math.exp(-c / 1.5e-3), (c: number) => 9 - 4e3 * c]) {
      let asked = 0;
      closestClearance((c) => (asked++, law(c)), 1, 3e-3, 20e-3);
      expect(asked).toBeLessThan(12);
    }
  });

  it.each([[[]], [[0.7e-3]], [[1.6e-3]], [[0.7e-3, 0.9e-3, 1.2e-3, 4e-3]], [[1e-4, 5e-3, 30e-3]]])(
    'begins with what is known, %s m, and ends at the same',
    (known) => {
      let asked = 0;
      const law = (clearance: number): number => {
        if (!known.includes(clearance)) asked++;
        return falls(clearance);
      };
      const found = closestClearance(law, 1, 3e-3, 20e-3, known)!;
      expect(Math.abs(found.clearance - 1e-3)).toBeLessThan(1.01e-5);
      expect(found.clearance).toBeGreaterThanOrEqual(1e-3);
      expect(asked).toBeLessThan(known.length > 3 ? 5 : 12);
    },
  );

  it('ends where the string touches, and says where no way down is far enough', () => {
    expect(closestClearance(falls, 1e6, 2e-3, 0.01)!.clearance).toBe(3e-4);
    expect(closestClearance(falls, 1e-9, 2e-3, 0.01)).toBeNull();
    expect(closestClearance(falls, 1e-9, -2e-3, 1e-4)).toBeNull();
  });
});
