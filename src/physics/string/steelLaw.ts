/**
 * How the metal of a string answers the field inside it, along the string: one part for the core, one for a wrap, both
 * in the same field, so that their moments add. Every M here is moment per length over the core's section.
 *
 *     H = M/(χ(1 − |M|/Ms)) + N M        a part: its metal, and what its gaps take (0 for a core)
 *
 * Without gaps that is M = χH/(1 + χ|H|/Ms).
 */

/** One metal of a string. */
export interface SteelPart {
  /** χ at small fields, without the gaps. */
  readonly susceptibility: number;
  /** Ms, A/m; Infinity for a linear part. */
  readonly saturation: number;
  /** N. */
  readonly gaps: number;
}

/** A string's parts, the core first; two at most. */
export type SteelLaw = readonly [core: SteelPart, wrap?: SteelPart];

/** H for one M, and how steeply it rises. */
export interface Inside {
  /** A/m. */
  H: number;
  /** dH/dM. */
  slope: number;
}

/** Largest M, A/m. */
export const mostOf = ([core, wrap]: SteelLaw): number => core.saturation + (wrap?.saturation ?? 0);

/** dM/dH at small fields, 1. */
export const easeOf = ([core, wrap]: SteelLaw): number => easeOfPart(core) + (wrap ? easeOfPart(wrap) : 0);

const easeOfPart = ({ susceptibility, gaps }: SteelPart): number => 1 / (1 / susceptibility + gaps);

/** M of a part in H ≥ 0, A/m: the root of the law that begins at 0, in a form that loses no digits. */
function answerOf(part: SteelPart, H: number): number {
  const b = H / part.saturation + 1 / part.susceptibility + part.gaps;
  return (2 * H) / (b + Math.sqrt(b * b - (4 * part.gaps * H) / part.saturation));
}

/** Largest share of a part's saturation that is used up where the string has the magnetisation M: 0–1. */
export function usedUp(law: SteelLaw, M: number): number {
  const [core, wrap] = law;
  if (!wrap) return Math.abs(M) / core.saturation;
  const inside: Inside = { H: 0, slope: 0 };
  insideOf(law, Math.abs(M), inside);
  return Math.max(answerOf(core, inside.H) / core.saturation, answerOf(wrap, inside.H) / wrap.saturation);
}

/** dM/dH of a part that has the magnetisation M in H, by the same root. */
const riseOf = (part: SteelPart, H: number, M: number): number =>
  (1 - M / part.saturation) /
  (H / part.saturation + 1 / part.susceptibility + part.gaps - (2 * part.gaps * M) / part.saturation);

const MOST_STEPS = 60;

/**
 * The field inside a string that has the magnetisation M.
 *
 * @param M A/m, |M| below mostOf; @param out filled in
 * Digits: 1e-13 of H and 1e-8 of its slope, worse as M comes to saturation.
 */
export function insideOf(law: SteelLaw, M: number, out: Inside): void {
  const [core, wrap] = law;
  if (!wrap) {
    const { susceptibility: chi, saturation: Ms, gaps } = core;
    const left = 1 - Math.abs(M) / Ms;
    out.H = M / (chi * left) + gaps * M;
    out.slope = 1 / (chi * left * left) + gaps;
    return;
  }
  // M rises with H ever more slowly, so that Newton's steps, once below the root, come to it from below.
  const wanted = Math.abs(M);
  const least = wanted / easeOf(law);
  let H = least / (1 - wanted / mostOf(law));
  let slope = 0;
  for (let step = 0; step < MOST_STEPS; step++) {
    const m = answerOf(core, H);
    const w = answerOf(wrap, H);
    slope = 1 / (riseOf(core, H, m) + riseOf(wrap, H, w));
    const next = Math.max(least, H + (wanted - m - w) * slope);
    const change = Math.abs(next - H);
    H = next;
    // Each step doubles the digits.
    if (change <= 1e-8 * next) break;
  }
  out.H = M < 0 ? -H : H;
  out.slope = slope;
}

/** Energy per volume of the core over µ0 that the magnetisation M stores in the metal and its gaps, ∫ H dM, A²/m². */
export function storedIn(law: SteelLaw, M: number): number {
  const [core, wrap] = law;
  if (!wrap) return storedInPart(core, Math.abs(M));
  const inside: Inside = { H: 0, slope: 0 };
  insideOf(law, Math.abs(M), inside);
  return storedInPart(core, answerOf(core, inside.H)) + storedInPart(wrap, answerOf(wrap, inside.H));
}

function storedInPart({ susceptibility: chi, saturation: Ms, gaps }: SteelPart, M: number): number {
  const share = M / Ms;
  // ∫ M/(χ(1 − M/Ms)) dM; for a linear part M²/2χ, which the logarithm would lose.
  const metal = share < 1e-6 ? (M * M) / (2 * chi) : (Ms * Ms * (-Math.log1p(-share) - share)) / chi;
  return metal + 0.5 * gaps * M * M;
}
