import { expect, it } from 'vitest';
import { Anderson } from '../../../src/physics/numerics/anderson.ts';

const G: readonly (readonly number[])[] = [
  [-3, 0.4, 0],
  [0.2, 1.7, 0.1],
  [0, 0.3, 0.5],
];
const b = [1, -2, 0.5];

it('Anderson’s acceleration ends where a linear map of three unknowns stays, though repetition would run away [exact]', () => {
  const of = (x: Float64Array): Float64Array =>
    Float64Array.from(G, (row, i) => row.reduce((sum, g, j) => sum + g * x[j]!, b[i]!));
  const told = new Anderson(5);
  let x = new Float64Array(3);
  for (let round = 0; round < 6; round++) x = Float64Array.from(told.next(x, of(x)));
  of(x).forEach((value, i) => expect(Math.abs(value - x[i]!)).toBeLessThan(1e-9));
});

it('a point that does not move any more stays', () => {
  const told = new Anderson(3);
  const x = Float64Array.of(1, 2);
  for (let round = 0; round < 4; round++) expect(Array.from(told.next(x, x))).toEqual([1, 2]);
});
