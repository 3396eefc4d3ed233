/** What a moving string sends through the loops of a cover and a base plate. */
import type { SolvedCover } from '../pickup/cover.ts';
import { stringFluxOn, stringSource } from '../plates/plateSources.ts';
import type { StringOverPickup } from './stringLine.ts';
import { dot } from '../../numerics/vector.ts';

/**
 * Flux that a string sends through each loop as it moves upwards, Wb/m, one value a loop.
 *
 * @param byZ of pull
 */
export function stringOnLoops(
  { plates, modes }: SolvedCover,
  { line, x, magnetised }: StringOverPickup,
  byZ: Float64Array,
): Float64Array {
  const { wire, along, field } = magnetised;
  const { section } = wire;
  const scaled = (values: Float64Array, by: number): Float64Array => values.map((value) => by * value);
  const gain = section * wire.metal.across;
  const source = stringSource(
    line,
    x,
    [scaled(along, section), scaled(field.Hy, gain), scaled(field.Hz, gain)],
    [scaled(byZ, section), scaled(field.yHz, gain), scaled(field.zHz, gain)],
  );
  const flux = stringFluxOn(plates, source);
  return Float64Array.from(modes.shape, (shape) => dot(shape, flux));
}
