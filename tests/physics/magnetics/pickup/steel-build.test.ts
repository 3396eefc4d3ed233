/**
 * A build with steel as its maker gives it, from its figures to what its coils are:
 *
 *   bodies                                  those that finite elements have checked (redirecting, joined)
 *   a blade in a coil: inductance           1 % of finite elements
 *   a plate under rods: what it adds        0.005 of the whole
 *   eddy currents in a blade                the exact solution of a plate; their chain 0.3 % of the core
 */
import { describe, expect, it } from 'vitest';
import type { BuiltPickup, BuiltRow, BuiltSteel } from '../../../../src/physics/magnetics/build/build.ts';
import { coreInductanceAt, eddyFactorAt } from '../../../../src/physics/magnetics/coil/eddy.ts';
import { eddyLadder } from '../../../../src/physics/magnetics/coil/eddyLadder.ts';
import { overallDiameter, woundRadius } from '../../../../src/physics/magnetics/coil/wire.ts';
import { buildBodies, coreMetal } from '../../../../src/physics/magnetics/pickup/buildBodies.ts';
import { solvePickup } from '../../../../src/physics/magnetics/pickup/solvePickup.ts';
import { steelLoads } from '../../../../src/physics/magnetics/pickup/steelLoad.ts';
import { MU0 } from '../../../../src/physics/numerics/constants.ts';
import { sixRods } from '../../../fixtures/pickups.ts';
import { built, cases } from '../redirecting.ts';
import type { Box } from '../redirecting.ts';

const steelOf = (name: string): readonly BuiltSteel[] =>
  cases[name]!.bodies.flatMap((body) => {
    if (body.shape !== 'box' || (body as Box).mu_r < 50) return [];
    const { x_mm: x, y_mm: y, z_mm: z } = body as Box;
    const size = (of: readonly [number, number]): number => 1e-3 * (of[1] - of[0]);
    const middle = (of: readonly [number, number]): number => 0.5e-3 * (of[0] + of[1]);
    return [
      {
        grade: 'low-carbon, as drawn',
        size: { x: size(x), y: size(y), z: size(z) },
        centre: { x: middle(x), y: middle(y), z: middle(z) },
      },
    ];
  });

/** The coil of the finite elements: 3.2 to 7.5 mm, filled by turns of a wire that fits. */
function wound(build: BuiltPickup, change: Partial<BuiltRow> = {}): BuiltPickup {
  const row = { ...build.rows[0]!, ...change };
  const winding = row.winding!;
  const overall = overallDiameter(winding.wire, winding.enamel);
  const outer = (turns: number): number =>
    woundRadius(winding.inner, winding.top - winding.bottom, turns, overall, winding.packing);
  let turns = 1000;
  while (outer(turns) < 7.5e-3) turns += 1;
  return { ...build, rows: [{ ...row, winding: { ...winding, turns } }] };
}

const perTurn2 = (build: BuiltPickup): number => {
  const { inductance, turns } = solvePickup(build).coils[0]!.figures;
  return inductance / turns ** 2;
};

describe('steel of a build', () => {
  it.each(['R1', 'R2'])('[exact] %s: is cut as what finite elements have checked', (name) => {
    const boxes = built(cases[name]!.bodies).bodies.filter(({ kind }) => kind === 'box');
    const ours = buildBodies({ ...sixRods('alnico 5'), steel: steelOf(name) }).bodies.slice(6);
    expect(ours).toHaveLength(boxes.length);
    ours.forEach((box, b) => {
      const theirs = boxes[b]!;
      for (const axis of ['x', 'y', 'z'] as const) expect(box[axis]).toBeCloseTo(theirs[axis], 12);
      expect(box.mesh.n).toBe(theirs.mesh.n);
      if (box.kind === 'box' && theirs.kind === 'box') expect(box.joins).toBe(theirs.joins);
    });
  });

  it('[tool] a coil round a blade and no poles: inductance within 0.01 of finite elements', () => {
    const blade = wound({ ...sixRods('alnico 5'), steel: steelOf('R6a') }, { heights: [] });
    expect(Math.abs(perTurn2(blade) / cases['R6a']!.L_per_turn2_H! - 1)).toBeLessThan(0.01);
  });

  it('[tool] a blade whose permeability for the coil is a figure of its own has the inductance of that one, within 0.01', () => {
    // Finite elements had µ 200 for both.
    const soft = steelOf('R6a').map((piece) => ({
      ...piece,
      grade: { of: 'low-carbon, annealed', alternating: 200 } as const,
    }));
    const blade = wound({ ...sixRods('alnico 5'), steel: soft }, { heights: [] });
    expect(Math.abs(perTurn2(blade) / cases['R6a']!.L_per_turn2_H! - 1)).toBeLessThan(0.01);
    const { materials, alternating } = buildBodies(blade);
    expect(materials.map((material) => material.kind === 'linear' && material.law.mu)).toEqual([700]);
    expect(alternating.map(({ mu }) => mu)).toEqual([200]);
  });

  it('[tool] a plate under rods: adds to the inductance as finite elements have it, within 0.005', () => {
    // Alnico 4 recoils with µ 4.1, the rods there have 4; steel of µ 700 or 1000 makes 0.001 of it.
    const plate = steelOf('R6b').map((piece) => ({ ...piece, grade: 'low-carbon, annealed' as const }));
    const rods = wound(sixRods('alnico 4'));
    const gain = perTurn2({ ...rods, steel: plate }) / perTurn2(rods);
    const theirs = cases['R6b']!.L_per_turn2_H! / 4.0467e-8;
    expect(Math.abs(gain - theirs)).toBeLessThan(0.005);
  });

  it('[exact] a coil round nothing is one of air', () => {
    const empty = solvePickup({
      ...sixRods('alnico 5'),
      rows: [{ ...sixRods('alnico 5').rows[0]!, heights: [] }],
    });
    const { inductance, airInductance, core } = empty.coils[0]!.figures;
    expect(inductance).toBe(airInductance);
    expect([core.a, core.N]).toEqual([0, 0]);
    expect(core.rest).toBeLessThan((1e-6 * airInductance) / 8000 ** 2);
    expect(empty.magnets.density).toHaveLength(0);
  });

  it('[exact] a plate carries what its poles send into it: of twice the thickness half as many teslas', () => {
    const on = (thickness: number): BuiltPickup => ({
      ...sixRods('samarium cobalt 2:17'),
      steel: steelOf('R1').map((piece) => ({
        ...piece,
        size: { ...piece.size, z: thickness },
        centre: { ...piece.centre, z: -17e-3 - 0.5 * thickness },
      })),
    });
    const [thin, thick] = [1e-3, 2e-3].map((t) => steelLoads(solvePickup(on(t)))[0]!);
    expect(thin!.saturation).toBe(2.1);
    expect(thin!.carries / thick!.carries).toBeGreaterThan(1.8);
    expect(thin!.carries / thick!.carries).toBeLessThan(2.1);
    // Not more than a rod of 1.08 T can send through the rim under it: its end over the rim, r/2t.
    expect(thin!.carries).toBeLessThan((1.1 * 1.08 * 4.85) / 4);
    expect(thin!.carries).toBeGreaterThan(0.3);
  });
});

describe('eddy currents in a blade', () => {
  const metal = coreMetal(
    {
      ...sixRods('alnico 5'),
      rows: [{ ...sixRods('alnico 5').rows[0]!, heights: [] }],
      steel: steelOf('R6a'),
    },
    0,
  );

  it('[exact] are those of a plate as thick, tanh(w)/w', () => {
    expect(metal).toEqual({ radius: 1.6e-3, mu: 200, conductivity: 5.8e6, flat: true });
    const out = { re: 0, im: 0 };
    for (const hertz of [0.01, 1, 50, 1e3, 20e3, 1e6]) {
      const omega = 2 * Math.PI * hertz;
      eddyFactorAt(0, omega, metal, out);
      // w = (1 + j) d/δ with half the thickness d; tanh by its exponentials.
      const w = metal.radius * Math.sqrt(0.5 * omega * MU0 * metal.mu * metal.conductivity);
      const e = Math.exp(-2 * w);
      const [c, s] = [e * Math.cos(2 * w), e * Math.sin(2 * w)];
      const over = (1 + c) ** 2 + s ** 2;
      const tanh = { re: ((1 - c) * (1 + c) - s * s) / over, im: (s * (1 + c) + s * (1 - c)) / over };
      const size = 2 * w * w;
      expect(out.re).toBeCloseTo(((tanh.re + tanh.im) * w) / size, 9);
      expect(out.im).toBeCloseTo(((tanh.im - tanh.re) * w) / size, 9);
    }
  });

  it('as a chain are what they are by the formula, 0.3 % of the core to 20 kHz [exact]', () => {
    for (const N of [0.002, 0.02, 0.1]) {
      const fit = { a: 2e-9, N, rest: 1e-9 };
      const chain = eddyLadder(fit, metal);
      const still = { re: 0, im: 0 };
      coreInductanceAt(fit, metal, 0, 0, still);
      for (const hertz of [20, 200, 1e3, 4e3, 20e3]) {
        const omega = 2 * Math.PI * hertz;
        const formula = { re: 0, im: 0 };
        coreInductanceAt(fit, metal, 0, omega, formula);
        let [re, im] = [chain.direct, 0];
        for (const { inductance, rate } of chain.sections) {
          const d = 1 + (omega / rate) ** 2;
          re += inductance / d;
          im -= (inductance * omega) / rate / d;
        }
        expect(Math.hypot(re - formula.re, im - formula.im) / still.re, `${N} ${hertz}`).toBeLessThan(3e-3);
      }
    }
  });
});
