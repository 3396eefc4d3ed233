/** A pickup's coils taken off, so that its magnets and steel lie on the bench by themselves, and put on again. Pure. */
import type { Pickup } from './sheet.ts';

/** Cover and base plate go with the coils, which they are made for; a reach is the build's. */
export const withoutCoil = (pickup: Pickup): Pickup =>
  pickup.build
    ? {
        ...pickup,
        reachBy: 'build',
        build: { ...pickup.build, cover: null, basePlate: null, coils: 'off' },
      }
    : pickup;

/** As they were wound. */
export function withCoil(pickup: Pickup): Pickup {
  if (!pickup.build) return pickup;
  const { coils: _, ...build } = pickup.build;
  return { ...pickup, build };
}
