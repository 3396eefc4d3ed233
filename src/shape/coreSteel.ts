/** Of which steel the cores of a pickup's coils are. */
import { pickupParts, type GivenBlock, type GivenPickup } from './parts.ts';
import { isThreaded } from './steel.ts';
import { POLE_STEEL, type ChosenSteel } from './materials.ts';

/** A pickup as a maker gives it, with its steels. */
interface SteelPickup extends GivenPickup {
  readonly rows: readonly (GivenPickup['rows'][number] & {
    readonly pole: { readonly kind: string; readonly steel?: ChosenSteel };
  })[];
  readonly steel: readonly (GivenBlock & { readonly steel: ChosenSteel })[];
}

/** Of every row its slugs or screws, or the first blade in its coil; null where the core is a magnet or none. @param offsets of the rows, m */
export function coreSteels(build: SteelPickup, offsets: readonly number[]): readonly (ChosenSteel | null)[] {
  const { rows, steel = [] } = pickupParts(build, offsets);
  return build.rows.map(({ pole }, r) => {
    if (pole.kind === 'slug' || pole.kind === 'screw') return pole.steel ?? POLE_STEEL;
    const blade = steel.findIndex((piece) => isThreaded(piece, rows[r]!));
    return pole.kind === 'none' && blade >= 0 ? build.steel[blade]!.steel : null;
  });
}
