import { expect, it } from 'vitest';
import { insideOutline } from '../../src/shape/outline.ts';

it('[exact] inside a square, an L and a ring cut open, outside beside them and in the notch', () => {
  const square = Float64Array.of(0, 0, 2, 0, 2, 2, 0, 2);
  expect(insideOutline(square, 1, 1)).toBe(true);
  for (const [u, v] of [
    [-1, 1],
    [3, 1],
    [1, -1],
    [1, 3],
  ] as const)
    expect(insideOutline(square, u, v)).toBe(false);
  const angle = Float64Array.of(0, 0, 2, 0, 2, 1, 1, 1, 1, 2, 0, 2);
  expect(insideOutline(angle, 0.5, 1.5)).toBe(true);
  expect(insideOutline(angle, 1.5, 0.5)).toBe(true);
  expect(insideOutline(angle, 1.5, 1.5)).toBe(false);
  expect(insideOutline(new Float64Array(), 0, 0)).toBe(false);
});
