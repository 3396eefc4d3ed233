/**
 *   passive                       Re Z ≥ R for any loops and cores; over insulating cores, Re Z ≥ that without plates
 *   plates that do not conduct    nothing changes                                                       1e-9
 *   plates without resistance     what the loops' inductance leaves of the coil's                       1e-9
 *   exchanged source and coil     reciprocity of the shielding                                          1e-12
 *   chain                         impedance and EMF of the whole, 20 Hz to 20 kHz                       0.3 %
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { coreLadder } from '../../../src/physics/circuit/coreLadder.ts';
import { coreWinding } from '../../../src/physics/circuit/coreWinding.ts';
import {
  coveredInductance,
  coveredSensitivity,
  type PlateLoops,
} from '../../../src/physics/circuit/plateLoops.ts';
import { stillInductance } from '../../../src/physics/magnetics/coil/eddy.ts';
import { complexArray } from '../../../src/physics/numerics/complex.ts';
import type { CoilCore } from '../../../src/physics/circuit/coilCore.ts';
import { alnicoCore, steelCore } from './circuits.ts';

/**
 * Loops that could exist beside a core: each takes a part of the coil's inductance in air, of which poles that let no flux
 * in have taken a tenth and more already, and the cores reach each in some measure.
 */
function loopsFor(core: CoilCore, parts: readonly (readonly [number, number, number, number])[]): PlateLoops {
  const perTurn2 = core.air / core.turns ** 2;
  const still = stillInductance(core.fit, core.metal);
  const whole = parts.reduce((sum, [part]) => sum + part, 1e-3) / 0.7;
  const tau = Float64Array.from(parts, ([, decade]) => 10 ** decade);
  const air = Float64Array.from(parts, ([part], k) => Math.sqrt((part / whole) * perTurn2 * tau[k]!));
  const byCore = Float64Array.from(parts, ([, , reach], k) => 0.3 * reach * Math.sqrt(still * tau[k]!));
  const moved = Float64Array.from(parts, ([, , , share], k) => (share * tau[k]!) / (air[k]! + 1e-12));
  return { tau, air, core: byCore, ownAir: air, ownCore: byCore, moved };
}

const part = fc.tuple(
  fc.double({ min: 0, max: 1, noNaN: true }),
  fc.double({ min: -7, max: -3.5, noNaN: true }),
  fc.double({ min: -1, max: 1, noNaN: true }),
  fc.double({ min: 0, max: 0.1, noNaN: true }),
);
const covered = fc
  .tuple(fc.constantFrom(steelCore, alnicoCore), fc.array(part, { minLength: 1, maxLength: 12 }))
  .map(([core, parts]) => ({ ...core, plates: loopsFor(core, parts) }));

function impedanceOf(core: CoilCore, omega: number): readonly [number, number] {
  const winding = coreWinding(6000, core);
  if (winding.kind !== 'impedance') throw new Error('A core makes an impedance.');
  const out = complexArray(1);
  winding.at(0, omega, out, 0);
  return [out.re[0]!, out.im[0]!];
}

const insulating = (core: CoilCore): CoilCore => ({ ...core, metal: { ...core.metal, conductivity: 0 } });
const without = ({ plates: _, ...core }: CoilCore): CoilCore => core;
const frequencies = fc.double({ min: 1.5, max: 6, noNaN: true }).map((decade) => 10 ** decade);

describe('a coil under plates', () => {
  it('[exact] takes power at every frequency, and over insulating cores never less than without them', () => {
    const property = fc.property(covered, frequencies, (core, omega) => {
      expect(impedanceOf(core, omega)[0]).toBeGreaterThanOrEqual(6000 * (1 - 1e-12));
      const bare = impedanceOf(without(insulating(core)), omega)[0];
      expect(impedanceOf(insulating(core), omega)[0]).toBeGreaterThanOrEqual(bare * (1 - 1e-12));
    });
    fc.assert(property, { seed: 31, numRuns: 300 });
  });

  it('[exact] is as without them when they do not conduct, 1e-9', () => {
    // Without conductance a loop's time constant and what drives its current both vanish.
    const none = new Float64Array(3);
    const plates = { tau: none, air: none, core: none, ownAir: none, ownCore: none, moved: none };
    for (const core of [steelCore, alnicoCore]) {
      const [re, im] = impedanceOf({ ...core, plates }, 3e4);
      const [bareRe, bareIm] = impedanceOf(core, 3e4);
      expect(Math.abs(re / bareRe - 1)).toBeLessThan(1e-9);
      expect(Math.abs(im / bareIm - 1)).toBeLessThan(1e-9);
    }
  });

  it('[exact] keeps the flux out of plates without resistance: L − M²/L′ of two coils, 1e-9', () => {
    // One loop, insulating cores: all is a transformer whose secondary is short.
    const core = insulating(steelCore);
    const still = stillInductance(core.fit, core.metal);
    const tau = 1e-4;
    const [air, byCore] = [2e-7, 3e-7];
    const plates: PlateLoops = {
      tau: Float64Array.of(tau),
      air: Float64Array.of(air),
      core: Float64Array.of(byCore),
      ownAir: Float64Array.of(air),
      ownCore: Float64Array.of(byCore),
      moved: Float64Array.of(0),
    };
    const out = { re: 0, im: 0 };
    coveredInductance(plates, still, 1, 0, 0, 1e12, out);
    const wanted = still - (air + byCore) ** 2 / (tau + byCore ** 2 / still);
    expect(Math.abs(out.re / wanted - 1)).toBeLessThan(1e-9);
  });

  it('[exact] hears a source that drives the loops as the coil does as it hears itself: reciprocity, 1e-12', () => {
    const property = fc.property(covered, frequencies, (core, omega) => {
      // Beside the coil's own inductance in air, of which the share's rest is what is left.
      const { plates } = core;
      const still = stillInductance(core.fit, core.metal);
      const inductance = { re: 0, im: 0 };
      const heard = { re: 0, im: 0 };
      const own = { ...plates, moved: plates.air };
      coveredInductance(own, still, 0.7, -0.2, 0, omega, inductance);
      coveredSensitivity(own, still, still, 0.7, -0.2, 0, omega, heard);
      const size = Math.hypot(inductance.re, inductance.im);
      expect(Math.hypot(heard.re - (1 - still) - inductance.re, heard.im - inductance.im)).toBeLessThan(
        1e-12 * size + 1e-15,
      );
    });
    fc.assert(property, { seed: 32, numRuns: 100 });
  });

  it('as a chain is itself within 0.3 % up to 20 kHz, all parts of the impedance positive', () => {
    const property = fc.property(covered, (core) => {
      const winding = coreWinding(6000, core);
      if (winding.kind !== 'impedance') throw new Error('A core makes an impedance.');
      const ladder = coreLadder(6000, core);
      for (const { inductance, resistance } of ladder.sections) {
        expect(inductance).toBeGreaterThan(0);
        expect(resistance).toBeGreaterThan(0);
      }
      expect(ladder.direct).toBeGreaterThan(0);
      const out = complexArray(1);
      for (let k = 0; k <= 12; k++) {
        const omega = 2 * Math.PI * 20 * 10 ** (k / 4);
        winding.at(0, omega, out, 0);
        let [re, im] = [ladder.direct, 0];
        for (const { inductance, resistance } of ladder.sections) {
          const x = (omega * inductance) / resistance;
          re += inductance / (1 + x * x);
          im -= (inductance * x) / (1 + x * x);
        }
        const still = core.scale * (core.air + core.turns ** 2 * stillInductance(core.fit, core.metal));
        const off = Math.hypot(6000 - omega * im - out.re[0]!, omega * re - out.im[0]!);
        expect(off).toBeLessThan(3e-3 * omega * still);
        winding.emf!(0, omega, out, 0);
        [re, im] = [ladder.emf.direct, 0];
        for (const { share, rate } of ladder.emf.lows) {
          const x = omega / rate;
          re += share / (1 + x * x);
          im -= (share * x) / (1 + x * x);
        }
        const size = ladder.emf.lows.reduce((sum, { share }) => sum + Math.abs(share), 1);
        expect(Math.hypot(re - out.re[0]!, im - out.im[0]!)).toBeLessThan(3e-3 * size);
      }
    });
    fc.assert(property, { seed: 33, numRuns: 60 });
  });
});
