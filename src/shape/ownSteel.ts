/** A steel by its figures. */
export interface OwnSteel {
  /** Initial relative permeability, 1. */
  readonly permeability: number;
  /** S/m. */
  readonly conductivity: number;
  /** Saturation µ0 Ms, T. */
  readonly saturation: number;
}

/** Where a choice of steels says that it is the maker's own; before it has figures they are those of drawn low-carbon steel. */
export const STARTING_STEEL: OwnSteel = {
  permeability: 200,
  conductivity: 5.8e6,
  saturation: 2.1,
};

/** The least and most that its permeability for a coil can be, 1. */
export const COIL_MU = { min: 5, max: 5000 } as const;

/** What the coils of a pickup find in its steel; null: as its grade says, and the same at every frequency. */
export interface CoilSteel {
  /** Relative permeability for small alternating fields at low frequency, 1. */
  readonly mu: number | null;
  /** Hz, at which it relaxes. */
  readonly relaxation: number | null;
}
