import { describe, expect, it } from 'vitest';
import { fieldOnStrings } from '../../../../src/physics/magnetics/overPickup/pickupField.ts';
import { solvePickup } from '../../../../src/physics/magnetics/pickup/solvePickup.ts';
import { fluxSlope } from '../../../../src/physics/string/fluxCurve.ts';
import { sixRods, stringSet, twoRows } from '../../../fixtures/pickups.ts';

const strings = stringSet();

describe.each([
  ['six rods', sixRods('alnico 5')],
  ['two rows', twoRows()],
] as const)('the flux curve of %s', (_, build) => {
  const pickup = solvePickup(build);
  const rest = fieldOnStrings(pickup, strings);
  /** The whole chain anew with every string this much nearer, m. */
  const moved = (u: number) =>
    fieldOnStrings(pickup, strings, 0, {
      ...build,
      gapBass: build.gapBass - u,
      gapTreble: build.gapTreble - u,
    });

  // The engine's own reach at another gap: another way through it (no flux, no difference of two), to 1 %.
  it.each([-4e-3, -3e-3, -2e-3, -1e-3, -0.5e-3, 0.4e-3, 0.8e-3])(
    '[exact] is the sensitivity with the strings %d m nearer, over that at rest',
    (u) => {
      const there = moved(u);
      rest.strings.forEach(({ rows }, s) =>
        rows.forEach(({ sensitivity, curve }, r) => {
          const ratio = there.strings[s]!.rows[r]!.sensitivity / sensitivity;
          // At the far end a fifth of the sensitivity is left, and an error of 5 % there is 1 % of what is heard.
          expect(Math.abs(fluxSlope(curve, u) / ratio - 1)).toBeLessThan(u < -3e-3 ? 0.05 : 0.01);
        }),
      );
    },
  );

  it('[practice] rises towards the poles, a third to a half for every millimetre', () => {
    for (const { curve } of rest.strings.flatMap(({ rows }) => rows)) {
      expect(curve[0]).toBeGreaterThan(250);
      expect(curve[0]).toBeLessThan(550);
    }
  });
});
