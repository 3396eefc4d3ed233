/** What the permeability of its steel does to the inductance of a pickup's coils, and which one would explain a reading. */
import { coreSteels } from '../shape/coreSteel.ts';
import { OWN_STEEL, type ChosenSteel } from '../shape/materials.ts';
import { COIL_MU } from '../shape/ownSteel.ts';
import { MU_KNOWN } from '../shape/steelMu.ts';
import type { Pickup } from '../sheet/sheet.ts';
import type { FieldAnswer, FieldCoil } from './heard/fieldAnswer.ts';
import { stillInductance } from './magnetics/coil/eddy.ts';

/** Halvings of a range in which ln µ is looked for: to a hundredth of a per cent. */
const HALVINGS = 16;
/** Fields solved anew; what is left after two is below a thousandth of the inductance. */
const ROUNDS = 2;

/** Which permeability of its steel a reading of inductance would want. */
export interface SteelReading {
  /** Relative permeability that was reckoned with, of the first row of steel, 1. */
  readonly reckoned: number;
  /** The one with which the pickup reads so, 1; null: none does. */
  readonly explains: number | null;
}

const steelsOf = ({ build, rows }: Pickup): readonly (ChosenSteel | null)[] =>
  build
    ? coreSteels(
        build,
        rows.map(({ offset }) => offset),
      )
    : [];

/** The field's answer with other permeabilities (1) of the rows' cores, null as it was: within 3 % of the cores' share; see fitCore. */
function withMu(field: FieldAnswer, mus: readonly (number | null)[]): FieldAnswer {
  return {
    ...field,
    coils: field.coils.map((coil, r): FieldCoil => {
      const mu = mus[r] ?? null;
      if (mu === null) return coil;
      const metal = { ...coil.metal, mu };
      const more = stillInductance(coil.core, metal) - stillInductance(coil.core, coil.metal);
      return { ...coil, metal, inductance: coil.inductance + coil.turns ** 2 * more };
    }),
  };
}

/**
 * Inductance (H) with the least and the most that handbooks give for its steel's permeability, all coils alike; null where no core is of
 * a named steel, or where its permeability for the coil was typed.
 *
 * @param read inductance (H) of the pickup with a field
 */
export function steelSpan(
  pickup: Pickup,
  field: FieldAnswer | null,
  read: (field: FieldAnswer) => number,
): readonly [from: number, to: number] | null {
  if (!field || (pickup.build?.coilSteel?.mu ?? null) !== null) return null;
  const known = steelsOf(pickup).map((steel) => (steel && steel !== OWN_STEEL ? MU_KNOWN[steel] : null));
  if (known.every((range) => range === null)) return null;
  const at = (end: 0 | 1): number =>
    read(
      withMu(
        field,
        known.map((range) => range && range[end]),
      ),
    );
  return [at(0), at(1)];
}

/**
 * The permeability for the coil of all its steel with which a pickup reads an inductance, H; null where no core is of steel.
 *
 * @param read inductance (H) of a pickup with a field
 * @param solved the field of the pickup with other figures; null where it can't be
 */
export function steelThatReads(
  pickup: Pickup,
  field: FieldAnswer | null,
  inductance: number,
  read: (pickup: Pickup, field: FieldAnswer) => number,
  solved: (pickup: Pickup) => FieldAnswer | null,
): SteelReading | null {
  const { build } = pickup;
  const steels = steelsOf(pickup);
  const first = steels.findIndex((steel) => steel !== null);
  if (!build || !field || first < 0) return null;
  const all = (mu: number): (number | null)[] => steels.map((steel) => (steel === null ? null : mu));
  const wanted = (target: number): number | null => {
    let [low, high] = [Math.log(COIL_MU.min), Math.log(COIL_MU.max)];
    const off = (ln: number): number => read(pickup, withMu(field, all(Math.exp(ln)))) - target;
    // It only grows with µ at the lowest frequencies: where a bridge reads higher, thin skins take some of it back.
    if (off(low) > 0 || off(high) < 0) return null;
    for (let k = 0; k < HALVINGS; k++) {
      const middle = 0.5 * (low + high);
      if (off(middle) < 0) low = middle;
      else high = middle;
    }
    return Math.exp(0.5 * (low + high));
  };
  let mu = wanted(inductance);
  for (let round = 0; round < ROUNDS && mu !== null; round++) {
    const { relaxation = null } = build.coilSteel ?? {};
    const other: Pickup = { ...pickup, build: { ...build, coilSteel: { mu, relaxation } } };
    const there = solved(other);
    if (!there) break;
    const guessed = read(pickup, withMu(field, all(mu)));
    mu = wanted((inductance * guessed) / read(other, there));
  }
  return { reckoned: field.coils[first]!.metal.mu, explains: mu };
}
