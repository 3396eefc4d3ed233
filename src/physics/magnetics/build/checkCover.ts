/** Whether a cover and a base plate go over and under what they belong to. */
import type { BuiltPickup } from './build.ts';
import { holeDiameter, widestPole } from '../../../shape/cover.ts';
import { topDiameter } from '../../../shape/pole.ts';
import { holeWidth } from './placedPlates.ts';
import { mm, type Faults } from './faults.ts';

/** Between a closed top and what stands under it, m. */
const APART = 5e-5;
/** Metal left between two holes, m. */
const BRIDGE = 5e-4;

/** Adds what is wrong with them; nothing for a build without either. Its lengths are known to be right. */
export function checkCover(faults: Faults, build: BuiltPickup): void {
  const { cover, basePlate, rows } = build;
  if (cover) {
    rows.forEach((row, r) => {
      faults.must(
        row.winding !== null && cover.clearance >= row.winding.top + APART,
        'cover.clearance',
        row.winding === null
          ? 'A cover must have a coil to go over; there is none. Take the cover off, or put the coil on.'
          : `The cover must lie above the coil of row ${r + 1}, whose top is at ${mm(row.winding.top)}; its underside is at ${mm(cover.clearance)}. Raise the cover or lower the coil.`,
      );
      if (cover.holed[r]) return;
      row.heights.forEach((height, k) => {
        faults.must(
          height === null || height <= cover.clearance - APART,
          `rows[${r}].heights[${k}]`,
          `A pole must stay below a closed cover, whose underside is at ${mm(cover.clearance)}; pole ${k + 1} of row ${r + 1} reaches ${mm(height ?? 0)}. Lower the pole, raise the cover or open holes over the row.`,
        );
      });
    });
    for (const [name, what, blocks] of [
      ['bars', 'A bar', build.bars],
      ['steel', 'Steel', build.steel ?? []],
    ] as const)
      blocks.forEach(({ size, centre }, i) => {
        const top = centre.z + 0.5 * size.z;
        faults.must(
          top <= cover.clearance - APART,
          `${name}[${i}].centre.z`,
          `${what} must stay below the cover, whose underside is at ${mm(cover.clearance)}; this reaches ${mm(top)}. Lower it or raise the cover.`,
        );
      });
  }
  if (!cover && !basePlate) return;
  rows.forEach((row, r) => {
    const wide = Math.max(
      cover?.holed[r] ? holeWidth(holeDiameter(widestPole(row, topDiameter))) : 0,
      basePlate ? holeWidth(holeDiameter(widestPole(row, (pole) => pole.diameter))) : 0,
    );
    const needed = wide + BRIDGE;
    faults.must(
      row.heights.length <= 1 || row.pitch >= needed,
      `rows[${r}].pitch`,
      `The pole pitch must leave metal between the holes of cover and base plate, ${mm(needed)} or more; got ${mm(row.pitch)}.`,
    );
    const other = rows[1 - r];
    faults.must(
      r === 0 || !other || Math.abs(other.offset - row.offset) >= needed,
      `rows[${r}].offset`,
      `The rows must be far enough apart for the holes of cover and base plate, ${mm(needed)} or more.`,
    );
  });
}
