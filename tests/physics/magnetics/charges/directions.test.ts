import { expect, it } from 'vitest';
import { assemble } from '../../../../src/physics/magnetics/charges/assemble.ts';
import type { Body } from '../../../../src/physics/magnetics/bodies/body.ts';
import { boxMesh } from '../../../../src/physics/magnetics/bodies/boxMesh.ts';
import { solveCharges, solveManyCharges } from '../../../../src/physics/magnetics/charges/chargeSolver.ts';
import { remanenceLoad } from '../../../../src/physics/magnetics/charges/load.ts';
import { meshOf, pole } from '../reference.ts';

const SLUG = meshOf([
  [0, -12],
  [2.4, -12],
  [2.4, 0],
  [0, 0],
]);
/** Two slugs beside one another, one of which stands on a bar; no mirror. */
const bodies = (): readonly Body[] => [
  pole(SLUG, 0, 3e-3),
  pole(SLUG, 6e-3, -2e-3, 1e-3),
  { kind: 'box', mesh: boxMesh({ x: 20e-3, y: 16e-3, z: 3e-3 }), x: 1e-3, y: 0, z: -13.6e-3 },
];

it('charges do not depend on what was solved before on the same bodies: other permeabilities, other loads, roughly or together, to 1e-6 [exact]', () => {
  const used = assemble(bodies());
  const load = (x: number, z: number): Float64Array =>
    remanenceLoad(used, [
      { x: 0, y: 0, z },
      { x, y: 0, z: -z },
      { x, y: 1, z: 0 },
    ]);
  const cases = [
    { mu: [200, 200, 1.1], load: load(0, 1) },
    { mu: [60, 200, 4], load: load(0, 1), tolerance: 1e-3 },
    { mu: [60, 90, 4], across: [200, 200, 4], load: load(1, 1) },
    { mu: [20.9, 20.9, 1.05], load: load(1, 0) },
    { mu: [200, 200, 1.1], load: load(-2, 3) },
    { mu: [1000, 2, 50], load: load(0, -1), tolerance: 1e-9 },
  ];
  const found = cases.flatMap((each, k) =>
    k === 2 ? solveManyCharges(used, [each, cases[3]!]) : k === 3 ? [] : solveManyCharges(used, [each]),
  );
  cases.forEach(({ tolerance, ...each }, k) => {
    const alone = solveManyCharges(assemble(bodies()), [{ ...each, tolerance: 1e-9 }])[0]!;
    const most = Math.max(...alone.map(Math.abs));
    const within = Math.max(1e-6, 20 * (tolerance ?? 0));
    alone.forEach((value, i) => expect(Math.abs(value - found[k]![i]!)).toBeLessThan(within * most));
  });
});

it('what nothing drives has no charges', () => {
  const coupling = assemble(bodies());
  const none = new Float64Array(coupling.offsets[3]!);
  expect(solveCharges(coupling, [200, 200, 1.1], none).every((value) => value === 0)).toBe(true);
});
