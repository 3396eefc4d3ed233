import { describe, expect, it } from 'vitest';
import { upperFlange } from '../../src/shape/bobbin.ts';
import {
  coverHoles,
  coverInside,
  coverOutside,
  coverRim,
  coverTop,
  basePlateHoles,
  basePlateTop,
} from '../../src/shape/cover.ts';
import { blockPart, coverPart, pickupParts, type GivenPickup } from '../../src/shape/parts.ts';

const head = { diameter: 6e-3, height: 2e-3 };
const pole = {
  kind: 'slug' as const,
  diameter: 5e-3,
  length: 12e-3,
  tip: { shape: 'flat' as const, size: 0 },
  head,
  heights: [0, 1e-3, 0],
};
const window = { straight: 50e-3, inner: 3e-3, outer: 7e-3, top: -1e-3, bottom: -10e-3 };
const cover = { thickness: 0.5e-3, clearance: 0.4e-3, holes: 'row 1' as const };
/** Slugs towards the neck, screws towards the bridge, each 9 mm from the middle. */
const two: GivenPickup = {
  rows: [
    { pole, window },
    { pole: { ...pole, kind: 'screw', length: 20e-3 }, window },
  ],
  bars: [],
  steel: [],
  cover,
};
const OFFSETS = [9e-3, -9e-3];
const bar = { width: 12e-3, length: 64e-3, thickness: 3e-3, offset: 0, across: 0, top: -12e-3 };

describe('a cover [exact]', () => {
  const parts = pickupParts(two, OFFSETS);

  it('goes round the coils, 0.8 mm from them: 9 + 7 + 0.8 mm by 25 + 7 + 0.8 mm inside, a wall more outside', () => {
    expect(coverInside(parts).x).toBeCloseTo(16.8e-3, 12);
    expect(coverInside(parts).y).toBeCloseTo(32.8e-3, 12);
    expect(coverOutside(parts).x).toBeCloseTo(17.3e-3, 12);
    expect(coverOutside(parts).y).toBeCloseTo(33.3e-3, 12);
  });

  it('reaches from its top to the lower flange of 1.6 mm', () => {
    expect(coverTop(parts)).toBeCloseTo(0.9e-3, 12);
    expect(coverRim(parts)).toBeCloseTo(-11.6e-3, 12);
    expect(coverTop({ cover: null })).toBe(-Infinity);
  });

  it('goes round a bar that it reaches down over, not round one below its rim', () => {
    const long = { ...bar, length: 80e-3 };
    const over = { ...two, bars: [{ ...long, top: -8e-3 }] };
    expect(coverInside(pickupParts(over, OFFSETS)).y).toBeCloseTo(40.8e-3, 12);
    expect(coverInside(pickupParts({ ...two, bars: [long] }, OFFSETS)).y).toBeCloseTo(32.8e-3, 12);
    // Without a cover the plate lies under the bar too.
    expect(coverInside(pickupParts({ ...two, cover: null, bars: [long] }, OFFSETS)).y).toBeCloseTo(
      40.8e-3,
      12,
    );
  });

  it('has holes half a millimetre wider than what stands in them, over the rows that it says', () => {
    expect(coverHoles(parts)).toEqual([5.5e-3, null]);
    const every = pickupParts({ ...two, cover: { ...cover, holes: 'every row' } }, OFFSETS);
    coverHoles(every).forEach((hole, r) => expect(hole).toBeCloseTo([5.5e-3, 6.5e-3][r]!, 12));
    expect(coverPart({ ...cover, holes: 'none' }, 2).holed).toEqual([false, false]);
    expect(coverHoles(pickupParts({ ...two, cover: null }, OFFSETS))).toEqual([null, null]);
  });
});

describe('a base plate [exact]', () => {
  it('lies under bobbins, bar and slugs; screws go through it', () => {
    expect(basePlateTop(pickupParts(two, OFFSETS))).toBeCloseTo(-12e-3, 12);
    expect(basePlateTop(pickupParts({ ...two, bars: [bar] }, OFFSETS))).toBeCloseTo(-15e-3, 12);
    const short = { ...two, rows: two.rows.map((row) => ({ ...row, pole: { ...row.pole, length: 8e-3 } })) };
    expect(basePlateTop(pickupParts(short, OFFSETS))).toBeCloseTo(-11.6e-3, 12);
  });

  it('has holes for the screws alone', () => {
    expect(basePlateHoles(pickupParts(two, OFFSETS))).toEqual([null, 5.5e-3]);
  });
});

it('[exact] a bar stands with its upper face where it is said, its length across', () => {
  const { size, centre } = blockPart({ ...bar, offset: 2e-3, across: -1e-3 });
  expect(size).toEqual({ x: 12e-3, y: 64e-3, z: 3e-3 });
  expect(centre).toEqual({ x: 2e-3, y: -1e-3, z: -13.5e-3 });
});

it('[practice] a flange is as thick as there is room for below the poles’ plane, 0.3 to 1.6 mm', () => {
  expect(upperFlange(-5e-3)).toBe(1.6e-3);
  expect(upperFlange(-1e-3)).toBeCloseTo(0.7e-3, 12);
  expect(upperFlange(-0.2e-3)).toBe(0.3e-3);
});
