import { expect, it } from 'vitest';
import { Images } from '../../../src/physics/numerics/images.ts';

const N = 12;
/** Any matrix of full rank. */
const A = Float64Array.from(
  { length: N * N },
  (_, at) => Math.cos(1 + at * at) + (at % (N + 1) === 0 ? 3 : 0),
);
const times = (x: Float64Array): Float64Array =>
  x.map((_, i) => x.reduce((sum, value, j) => sum + A[i * N + j]! * value, 0));
const unit = (j: number): Float64Array => Float64Array.from({ length: N }, (_, i) => (i === j ? 1 : 0));

it('as many directions as unknowns solve any right-hand side, one that tells nothing new left out [exact]', () => {
  const images = new Images();
  const directions: Float64Array[] = [];
  const take = (x: Float64Array): void => {
    directions.push(x);
    images.add(times(x));
  };
  for (let j = 0; j < N; j++) {
    take(unit(j).map((value, i) => value + 0.1 * Math.sin(i * j)));
    if (j === 5) take(directions[2]!.map((value, i) => 2 * value - directions[4]![i]!));
  }
  expect([images.count, images.rank]).toEqual([N + 1, N]);
  const b = Float64Array.from({ length: N }, (_, i) => Math.sin(2 + i));
  const rest = b.slice();
  const shares: number[] = [];
  images.project(rest, shares);
  expect(Math.max(...rest.map(Math.abs))).toBeLessThan(1e-14);
  const x = images.combined(shares, directions, N);
  times(x).forEach((value, i) => expect(Math.abs(value - b[i]!)).toBeLessThan(1e-12));
});

it('what is taken off later comes to the same', () => {
  const images = new Images();
  const rest = Float64Array.from({ length: N }, (_, i) => 1 + i);
  const late = rest.slice();
  const shares: number[] = [];
  for (let j = 0; j < 7; j++) {
    images.add(times(unit(j)));
    images.project(rest, shares);
  }
  const all: number[] = [];
  images.project(late, all);
  expect(all.length).toBe(shares.length);
  late.forEach((value, i) => expect(Math.abs(value - rest[i]!)).toBeLessThan(1e-12));
});
