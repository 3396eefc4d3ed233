/**
 * What each part does to the field, and where the magnets' flux goes, at the default mesh:
 *
 *   keeper, channel, side magnets taken out           gains of finite elements within 0.005 [tool]
 *   a closed box whose top is the plane of the tops   no flux, 1e-3 of the magnets' [exact]
 *   the flux of a rod                                 B over its neutral plane, 1 % [exact]
 */
import { describe, expect, it } from 'vitest';
import { assemble } from '../../../../src/physics/magnetics/charges/assemble.ts';
import type { Coupling } from '../../../../src/physics/magnetics/charges/assemble.ts';
import { chargeField } from '../../../../src/physics/magnetics/charges/chargeField.ts';
import { solveStatic } from '../../../../src/physics/magnetics/charges/saturation.ts';
import type { BodyMaterial } from '../../../../src/physics/magnetics/materials/bodyMaterial.ts';
import { MU0 } from '../../../../src/physics/numerics/constants.ts';
import { gaussLegendre } from '../../../../src/physics/numerics/quadrature.ts';
import {
  fluxShare,
  fluxThrough,
  magnetFlux,
  topPlane,
} from '../../../../src/physics/magnetics/overPickup/fluxShare.ts';
import { partShares } from '../../../../src/physics/magnetics/overPickup/partShares.ts';
import { pole, rod } from '../reference.ts';
import { built, cases } from '../redirecting.ts';

/** A case of the finite elements as bodies with materials, solved. */
function charged(name: string) {
  const { bodies, mu, remanence } = built(cases[name]!.bodies);
  const materials = mu.map((permeability, b): BodyMaterial => {
    const { x, z } = remanence[b]!;
    const [axis, M] = x === 0 ? (['z', z] as const) : (['x', x] as const);
    const sign = M < 0 ? -1 : 1;
    const law = { mu: permeability, remanence: Math.abs(M) * MU0 };
    return { kind: 'linear', law, axis, sign };
  });
  const coupling = assemble(bodies);
  return { built: { bodies, materials }, coupling, magnets: solveStatic(coupling, materials) };
}

describe('a part taken out, 3 mm above an inner and an outermost pole [tool]', () => {
  const places = [
    { x: 0, y: 5.2e-3, z: 3e-3 },
    { x: 0, y: 26e-3, z: 3e-3 },
  ];

  it.each([
    ['R1', 'a keeper'],
    ['R2', 'a channel of three pieces'],
    ['R4', 'side magnets'],
  ] as const)('%s, %s: gain of Bz within 0.005', (name, _what) => {
    const solved = charged(name);
    const boxes = solved.built.bodies.flatMap(({ kind }, b) => (kind === 'box' ? [b] : []));
    const { whole, parts } = partShares(solved, places, [boxes]);
    const { without, shares } = parts[0]!;
    const gains = cases[name]!.gain_over_same_without_the_part!;
    [gains['x_line_y5.2_z3'], gains['x_line_y26_z3']].forEach((gain, i) => {
      expect(Math.abs(whole[i]!.z / without[i]!.z - Number(gain))).toBeLessThan(0.005);
    });
    // Over an inner pole B stands upright, and its size gains as much.
    expect(Math.abs(shares[0]! + 1 - Number(gains['x_line_y5.2_z3']))).toBeLessThan(0.005);
  });

  it('every box by itself, and nothing left where the last magnet went', () => {
    const blade = charged('R3');
    const { parts } = partShares(blade, [{ x: 0, y: 0, z: 2e-3 }]);
    expect(parts.map(({ part }) => part)).toEqual([[0], [1], [2]]);
    const none = partShares(blade, [{ x: 0, y: 0, z: 2e-3 }], [[1, 2]]);
    expect(none.parts[0]!.shares).toEqual([null]);
  });
});

describe('the magnets’ flux [exact]', () => {
  it('of a rod: B in its middle, from H there and its law, over its section, 1 %', () => {
    const coupling: Coupling = assemble([pole(rod())]);
    const material: BodyMaterial = { kind: 'linear', law: { mu: 4, remanence: 1 }, axis: 'z', sign: 1 };
    const { density } = solveStatic(coupling, [material]);
    const H = { x: 0, y: 0, z: 0 };
    let flux = 0;
    const { x, w } = gaussLegendre(8);
    x.forEach((t, k) => {
      const r = 0.5 * 2.425e-3 * (1 + t);
      chargeField(coupling, density, r, 0, -8.5e-3, H);
      flux += 0.5 * 2.425e-3 * w[k]! * 2 * Math.PI * r * (4 * MU0 * H.z + 1);
    });
    expect(Math.abs(magnetFlux(coupling, [material], density) / flux - 1)).toBeLessThan(0.01);
  });

  it('none leaves a closed box whose top is the plane that the share is taken in, over rods on a plate, 1e-3', () => {
    const { built: parts, coupling, magnets } = charged('R1');
    const top = topPlane(coupling);
    const low = [...top.low, -38e-3] as const;
    const high = [...top.high, top.at] as const;
    let out = 0;
    for (const axis of [0, 1, 2] as const) {
      const [u, v] = [(axis + 1) % 3, (axis + 2) % 3] as [0 | 1 | 2, 0 | 1 | 2];
      for (const [side, at] of [
        [-1, low[axis]],
        [1, high[axis]],
      ] as const) {
        const { along, against } = fluxThrough(
          coupling,
          magnets,
          { axis, at, low: [low[u], low[v]], high: [high[u], high[v]] },
          axis === 2 && side > 0 ? 1e-3 : 6e-3,
        );
        out += side * (along - against);
      }
    }
    expect(Math.abs(out)).toBeLessThan(1e-3 * magnetFlux(coupling, parts.materials, magnets.density));
  });

  it('a keeper beneath the rods sends more of it up', () => {
    const [bare, kept] = ['B1_again', 'R1'].map((name) => {
      const { built: parts, coupling, magnets } = charged(name);
      return fluxShare(coupling, parts.materials, magnets);
    });
    expect(kept!.up).toBeGreaterThan(bare!.up);
    for (const { share } of [bare!, kept!]) {
      expect(share).toBeGreaterThan(0.2);
      expect(share).toBeLessThan(1);
    }
  });
});
