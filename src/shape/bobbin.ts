/** What a bobbin and a cover measure where the sheet has no figure for it, m: common practice, drawn and computed alike. */

/**
 * Flange of a bobbin above and below its winding: 1/16 in, the usual fibre sheet, and about what moulded bobbins have; 1 to
 * 2.4 mm are met.
 */
export const FLANGE = 1.6e-3;

/** What a flange stands out beyond the winding: drawn only. */
export const FLANGE_RIM = 0.6e-3;

/** A flange is never drawn thinner, nor closer to the nominal pole tops. */
const LEAST_FLANGE = 0.3e-3;

/** Thickness of the flange on a winding whose top is at z = `top`, m: as much of it as there is room for. */
export const upperFlange = (top: number): number =>
  Math.max(LEAST_FLANGE, Math.min(FLANGE, -top - LEAST_FLANGE));

/** From the bobbin's edge to the inside of a cover's wall. */
export const SIDE_ROOM = 0.8e-3;

/** What a hole in a cover or a base plate is wider than the pole in it. */
export const HOLE_ROOM = 0.5e-3;
