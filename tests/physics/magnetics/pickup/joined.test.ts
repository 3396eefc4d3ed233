/**
 * Coils with steel that joins, against finite elements (tests/reference/redirecting), and what must hold exactly:
 *
 *   inductance with a blade, and with rods on a plate   1 % [tool]
 *   a plate cut in two layers is one plate               0.1 % of the peak
 *   mutual flux both ways                                reciprocity, 0.5 %
 *   two magnets together                                 superposition, 1e-6 of the peak
 *   with the mirror symmetry and without it              1e-5 of the peak
 *   some of the bodies out of the matrix of all          1e-12
 *   flux through a closed box                            none, 1e-3 of the magnets'
 */
import { describe, expect, it } from 'vitest';
import { mutualInductance } from '../../../../src/physics/magnetics/coil/airInductance.ts';
import { coilLoad, linkageWeights } from '../../../../src/physics/magnetics/coil/coilCore.ts';
import { cellFilaments, fieldFilaments } from '../../../../src/physics/magnetics/coil/winding.ts';
import type { Filaments, WindingWindow } from '../../../../src/physics/magnetics/coil/winding.ts';
import { assemble } from '../../../../src/physics/magnetics/charges/assemble.ts';
import type { Coupling } from '../../../../src/physics/magnetics/charges/assemble.ts';
import { solveCharges } from '../../../../src/physics/magnetics/charges/chargeSolver.ts';
import { fewerBodies } from '../../../../src/physics/magnetics/charges/fewerBodies.ts';
import { remanenceLoad } from '../../../../src/physics/magnetics/charges/load.ts';
import { MU0 } from '../../../../src/physics/numerics/constants.ts';
import { gaussLegendre } from '../../../../src/physics/numerics/quadrature.ts';
import { dot } from '../../../../src/physics/numerics/vector.ts';
import { fluxDensity } from '../reference.ts';
import { built, cases, fieldOf } from '../redirecting.ts';
import type { Box, Built } from '../redirecting.ts';

const window: WindingWindow = {
  x: 0,
  y: 0,
  straight: 52e-3,
  inner: 3.2e-3,
  outer: 7.5e-3,
  bottom: -13e-3,
  top: -2e-3,
};

/** Charges for one ampere-turn. */
function driven(coupling: Coupling, { bodies, mu }: Built, coil: Filaments): Float64Array {
  const load = coilLoad(coupling, coil);
  bodies.forEach((_, b) => {
    for (let i = coupling.offsets[b]!; i < coupling.offsets[b + 1]!; i++) load[i] = (mu[b]! - 1) * load[i]!;
  });
  return solveCharges(coupling, mu, load);
}

describe('inductance per turn² against three-dimensional finite elements [tool]', () => {
  it.each([
    ['R6a', 'a blade'],
    ['R6b', 'six rods on a steel plate'],
  ] as const)('%s, round %s: within 0.01', (name, _what) => {
    const parts = built(cases[name]!.bodies);
    const coupling = assemble(parts.bodies);
    const cells = cellFilaments(window);
    const coil = fieldFilaments(window, 3, 4);
    const core = MU0 * dot(linkageWeights(coupling, coil), driven(coupling, parts, coil));
    const inductance = mutualInductance(cells, cells) + core;
    expect(Math.abs(inductance / cases[name]!.L_per_turn2_H! - 1)).toBeLessThan(0.01);
  });
});

describe('what must hold exactly [exact]', () => {
  const keeper = built(cases['R1']!.bodies);

  it('a plate in two layers of 0.5 mm that touch is one of 1 mm', () => {
    const plate = cases['R1']!.bodies.at(-1) as Box;
    const rods = cases['R1']!.bodies.slice(0, -1);
    const layers = [
      { ...plate, z_mm: [-17.5, -17] },
      { ...plate, z_mm: [-18, -17.5] },
    ];
    const one = fieldOf(keeper);
    const two = fieldOf(built([...rods, ...layers]));
    const peak = fluxDensity(one, 0, 5.2, 2)[2];
    for (const [x, y] of [
      [0, 5.2],
      [0, 26],
      [4, 15.6],
      [10, 0],
    ] as const) {
      const [a, b] = [fluxDensity(one, x, y, 2), fluxDensity(two, x, y, 2)];
      for (const k of [0, 1, 2] as const) expect(Math.abs(a[k] - b[k])).toBeLessThan(1e-3 * peak);
    }
  });

  it('two coils over rods on a plate: what one sends through the other comes back', () => {
    const coupling = assemble(keeper.bodies);
    const one = fieldFilaments(window);
    const other = fieldFilaments({ ...window, x: 12e-3, straight: 40e-3, bottom: -9e-3, top: -3e-3 });
    const there = dot(linkageWeights(coupling, other), driven(coupling, keeper, one));
    const back = dot(linkageWeights(coupling, one), driven(coupling, keeper, other));
    expect(Math.abs(there / back - 1)).toBeLessThan(5e-3);
  });

  it('some of the bodies out of the matrix of all, and what one that is gone had hidden', () => {
    const block = (
      x_mm: Box['x_mm'],
      y_mm: Box['y_mm'],
      z_mm: Box['z_mm'],
      mu_r = 200,
      Br_T: Box['Br_T'] = [0, 0, 0],
    ): Box => ({ shape: 'box', x_mm, y_mm, z_mm, mu_r, Br_T });
    const steel = built([
      block([-8, 8], [-20, 20], [-11, -10]),
      block([-1, 1], [-20, 20], [-10, 0]),
      block([3, 6], [-15, 15], [-10, -6], 4, [1, 0, 0]),
    ]);
    for (const all of [keeper.bodies, steel.bodies]) {
      const coupling = assemble(all);
      for (const gone of all === keeper.bodies ? [-1] : all.keys()) {
        const stays = (b: number): boolean => all[b]!.kind === 'box' && b !== gone;
        const [some, afresh] = [fewerBodies(coupling, stays), assemble(all.filter((_, b) => stays(b)))];
        expect(some.contacts).toEqual(afresh.contacts);
        const largest = (matrix: Float64Array): number =>
          matrix.reduce((most, h) => Math.max(most, Math.abs(h)), 0);
        expect(some.matrix.length).toBe(afresh.matrix.length);
        const apart = some.matrix.map((h, i) => h - afresh.matrix[i]!);
        expect(largest(apart)).toBeLessThan(1e-12 * largest(afresh.matrix));
      }
    }
  });

  it('magnets add', () => {
    const blade = built(cases['R3']!.bodies);
    const coupling = assemble(blade.bodies);
    const none = { x: 0, y: 0, z: 0 };
    const densities = [[0, 1], [2], [0, 1, 2]].map((kept) =>
      solveCharges(
        coupling,
        blade.mu,
        remanenceLoad(
          coupling,
          blade.remanence.map((M, b) => (kept.includes(b) ? M : none)),
        ),
        1e-9,
      ),
    );
    const [first, second, both] = densities.map((density) => fluxDensity({ coupling, density }, 1, 4, 2)[2]);
    expect(Math.abs(first! + second! - both!)).toBeLessThan(1e-6 * both!);
  });

  it('a build that is its own mirror image, solved whole', () => {
    const blade = built(cases['R3']!.bodies);
    const [halved, whole] = ([1, 0] as const).map((mirror) => {
      const coupling = assemble(blade.bodies, mirror);
      return {
        coupling,
        density: solveCharges(coupling, blade.mu, remanenceLoad(coupling, blade.remanence)),
      };
    });
    const at = (field: typeof halved, x: number, y: number): number => fluxDensity(field!, x, y, 2)[2];
    const peak = at(halved, 0, 0);
    for (const [x, y] of [
      [0, 0],
      [3, 26],
      [-8, -28],
    ] as const) {
      expect(Math.abs(at(whole, x, y) - at(halved, x, y))).toBeLessThan(1e-5 * peak);
      expect(Math.abs(at(whole, -x, y) - at(halved, x, -y))).toBeLessThan(1e-5 * peak);
    }
  });

  it('no flux leaves a closed box round rods on a plate', () => {
    const field = fieldOf(keeper);
    const low = [-30, -48, -38] as const;
    const high = [30, 48, 20] as const;
    const { x: nodes, w } = gaussLegendre(14);
    let out = 0;
    let through = 0;
    for (const axis of [0, 1, 2] as const) {
      const [u, v] = [(axis + 1) % 3, (axis + 2) % 3] as [0 | 1 | 2, 0 | 1 | 2];
      const area = (high[u] - low[u]) * (high[v] - low[v]) * 1e-6;
      for (const [side, plane] of [
        [-1, low[axis]],
        [1, high[axis]],
      ] as const) {
        nodes.forEach((s, i) =>
          nodes.forEach((t, k) => {
            const place: [number, number, number] = [0, 0, 0];
            place[axis] = plane;
            place[u] = low[u] + 0.5 * (1 + s) * (high[u] - low[u]);
            place[v] = low[v] + 0.5 * (1 + t) * (high[v] - low[v]);
            const flux = 0.25 * w[i]! * w[k]! * area * side * fluxDensity(field, ...place)[axis];
            out += flux;
            through += Math.abs(flux);
          }),
        );
      }
    }
    // Of the magnets: 1 T less what the open ends take, about two thirds.
    const magnets = 6 * Math.PI * 2.425e-3 ** 2 * 0.66;
    expect(through).toBeGreaterThan(0.1 * magnets);
    expect(Math.abs(out)).toBeLessThan(1e-3 * magnets);
  });
});
