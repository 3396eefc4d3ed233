/**
 *   inductance beside steel            finite elements, axisymmetric    1 %
 *   a single layer                     [Nagaoka1909]                    1 %
 *   sheets of current                  filaments without number         6 digits
 *   a bar at the coil's end            adds to the inductance           sign
 */
import { describe, expect, it } from 'vitest';
import { assemble } from '../../../../src/physics/magnetics/charges/assemble.ts';
import { boxMesh } from '../../../../src/physics/magnetics/bodies/boxMesh.ts';
import { solveCharges } from '../../../../src/physics/magnetics/charges/chargeSolver.ts';
import { mutualInductance } from '../../../../src/physics/magnetics/coil/airInductance.ts';
import { coilLoad, linkageWeights } from '../../../../src/physics/magnetics/coil/coilCore.ts';
import {
  sheetField,
  sheetPotential,
  sheetsOf,
} from '../../../../src/physics/magnetics/coil/currentSheets.ts';
import {
  cellFilaments,
  coilField,
  coilPotential,
  fieldFilaments,
} from '../../../../src/physics/magnetics/coil/winding.ts';
import { solvePickup } from '../../../../src/physics/magnetics/pickup/solvePickup.ts';
import { MU0 } from '../../../../src/physics/numerics/constants.ts';
import { dot } from '../../../../src/physics/numerics/vector.ts';
import { sixRods } from '../../../fixtures/pickups.ts';
import { meshOf, pole, read } from '../reference.ts';
import { ring, ROD } from './roundCoil.ts';

const H = { x: 0, y: 0, z: 0 };
describe('a tall thin coil close to steel', () => {
  const window = ring(2.625e-3, 2.785e-3, -40e-3, -1e-3);
  const coil = fieldFilaments(window);

  it('has the inductance that finite elements find, in air and round the rod, 1 % [tool]', () => {
    const { L_per_turn2_H } =
      read<Record<string, { L_per_turn2_H: Record<string, number> }>>('tall-coil')['tall_coil']!;
    const rod = meshOf([
      [0, -41],
      [2.425, -41],
      [2.425, 0],
      [0, 0],
    ]);
    const cells = cellFilaments(window);
    const air = mutualInductance(cells, cells);
    const coupling = assemble([pole(rod)]);
    const load = coilLoad(coupling, coil);
    const weights = linkageWeights(coupling, coil);
    for (const mu of [1, 4, 200]) {
      const density = solveCharges(
        coupling,
        [mu],
        load.map((value) => (mu - 1) * value),
      );
      const core = mu === 1 ? 0 : MU0 * dot(weights, density);
      expect(Math.abs((air + core) / L_per_turn2_H[mu]! - 1), `µr ${mu}`).toBeLessThan(0.01);
    }
  });

  it('gains by a thin bar that its end touches, whatever is close beside it: what leads flux takes no inductance away [exact]', () => {
    const base = sixRods('ceramic 5');
    const [row] = base.rows;
    const coil = { straight: 41.669e-3, inner: 1.5e-3, edge: 20e-3, bottom: -40e-3, top: -0.5e-3 };
    const { coils } = solvePickup({
      ...base,
      rows: [
        {
          ...row!,
          offset: -2.5e-3,
          pitch: 8.334e-3,
          pole: { ...row!.pole, diameter: 1.6e-3, length: 9e-3 },
          winding: { ...row!.winding!, ...coil, turns: 14618, wire: 75.6e-6, enamel: 'heavy' },
        },
      ],
      bars: [
        {
          grade: 'alnico 2',
          strength: 1,
          size: { x: 30e-3, y: 120e-3, z: 0.5e-3 },
          centre: { x: 0, y: 0, z: -40.25e-3 },
          axis: 'x',
          sign: -1,
        },
      ],
    });
    expect(coils[0]!.figures.inductance).toBeGreaterThan(coils[0]!.figures.airInductance);
  });

  it.each([
    { straight: 82.4, inner: 1.923, outer: 1.949, bottom: -8.737, top: -0.5, bar: -9.25, mu: 4.1 },
    { straight: 110, inner: 1.5, outer: 2.317, bottom: -22.349, top: -8.4, bar: -22.599, mu: 4.3 },
    { straight: 93.1, inner: 1.894, outer: 2.801, bottom: -20.907, top: -15.625, bar: -21.157, mu: 6.5 },
    { straight: 68.1, inner: 1.625, outer: 1.765, bottom: -40, top: -24.4, bar: -40.25, mu: 2.1 },
  ])(
    'a narrow coil gains by a wide thin bar under its end: $straight mm straight [exact]',
    ({ bar, mu, ...at }) => {
      const window = {
        ...{ x: -2.5e-3, y: 0, straight: 1e-3 * at.straight },
        ...{ inner: 1e-3 * at.inner, outer: 1e-3 * at.outer, bottom: 1e-3 * at.bottom, top: 1e-3 * at.top },
      };
      const narrow = fieldFilaments(window);
      const mesh = boxMesh({ x: 30e-3, y: 120e-3, z: 0.5e-3 });
      const coupling = assemble([{ kind: 'box', mesh, x: 0, y: 0, z: 1e-3 * bar }]);
      const load = coilLoad(coupling, narrow).map((value) => (mu - 1) * value);
      const density = solveCharges(coupling, [mu], load);
      expect(dot(linkageWeights(coupling, narrow), density)).toBeGreaterThan(0);
    },
  );

  it('of a single layer is that of a sheet of current, 1 % [paper: Nagaoka1909]', () => {
    // As above, with the cells that the coil's proportions ask for.
    for (const [ratio, K] of [
      [0.5, 0.818136],
      [0.2, 0.920093],
      [1, 0.688423],
    ] as const) {
      const radius = 3e-3;
      const length = (2 * radius) / ratio;
      const layer = cellFilaments(ring(radius - 2e-5, radius + 2e-5, 0, length));
      const sheet = MU0 * Math.PI * radius ** 2 * (K / length);
      expect(Math.abs(mutualInductance(layer, layer) / sheet - 1)).toBeLessThan(0.01);
    }
  });
});

describe('a coil as sheets of current', () => {
  const racetrack = {
    x: 1e-3,
    y: 0,
    straight: 40e-3,
    inner: 3e-3,
    outer: 7e-3,
    bottom: -12e-3,
    top: -2e-3,
  };

  it('has field and potential of filaments without number, inside and beside it, over and under it [exact]', () => {
    const sheets = sheetsOf(fieldFilaments(racetrack));
    const many = fieldFilaments(racetrack, 2, 40);
    const sheet = { x: 0, y: 0, z: 0 };
    for (const [x, y, z] of [
      [1.2, 0.3, -5],
      [1.2, 3, 1],
      [1.2, 3, -2.01],
      [9, 2, -3],
      [1.2, 3, -20],
      [4.5, -6, -13],
      [8.5, 0, -2],
      [-20, 3, -12],
      [1, 50, -7],
    ] as const) {
      const at = [1e-3 * x, 1e-3 * y, 1e-3 * z] as const;
      sheetField(sheets, ...at, sheet);
      coilField(many, ...at, H);
      for (const axis of ['x', 'y', 'z'] as const) expect(sheet[axis]).toBeCloseTo(H[axis], 4);
      const threaded = Math.abs(x - 1) < 3;
      expect(sheetPotential(sheets, ...at, threaded)).toBeCloseTo(coilPotential(many, ...at, threaded), 6);
    }
  });

  it('over a rod as far from the wire as where filaments take over, both ways agree within 1 % of the core [exact]', () => {
    const window = ring(2.425e-3 + 0.6e-3, 3.525e-3, -16e-3, -1e-3);
    const coil = fieldFilaments(window);
    const coupling = assemble([pole(meshOf(ROD))]);
    const cores = [coil, fieldFilaments(window, 2, 24)].map((one) =>
      dot(
        linkageWeights(coupling, one),
        solveCharges(
          coupling,
          [200],
          coilLoad(coupling, one).map((value) => 199 * value),
        ),
      ),
    );
    expect(Math.abs(cores[0]! / cores[1]! - 1)).toBeLessThan(0.01);
  });
});
