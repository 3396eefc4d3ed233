/** What the parts of a sheet's pickup do to the field over its poles, and where its magnets' flux goes. */
import type { TakenOut } from '../shape/takenOut.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { chargedBy } from './charged.ts';
import { fieldQuestion } from './fieldQuestion.ts';
import type { FieldAnswer } from './heard/fieldAnswer.ts';
import { assemble } from './magnetics/charges/assemble.ts';
import { fluxShare } from './magnetics/overPickup/fluxShare.ts';
import { partShares } from './magnetics/overPickup/partShares.ts';
import { stringHeights } from './magnetics/overPickup/stringHeights.ts';
import type { BuiltBodies } from './magnetics/pickup/buildBodies.ts';
import type { Vector } from './numerics/vector.ts';

/** Of which pickup, from 0, and which part is taken out; null for none: then it is said where the flux goes. */
export interface TakenOutWish {
  readonly pickup: number;
  readonly part: TakenOut | null;
}

/** |B| on the chosen string's axis over the centre of a row, or without any over the pickup's, T. */
export interface OverRow {
  readonly field: number;
  /** The same without the part; as it is when nothing is taken out. */
  readonly without: number;
  /** How much more it is with the part, as a share of what it is without; null where nothing is left. */
  readonly share: number | null;
}

export interface TakenOutFigures {
  /** A row each, in the pickup's order. */
  readonly rows: readonly OverRow[];
  /** Wb: what goes up through the plane of the tops, and what leaves the magnets; see fluxShare. null when a part is taken out. */
  readonly flux: { readonly up: number; readonly own: number } | null;
}

/**
 * @param sheet checked; read on its chosen string
 * @param field of that pickup; null has its charges solved here
 * @returns null for a pickup without a build
 * @throws BuildError naming every fault of the build, or RangeError when a magnet has no working point, with the part or without it
 * Digits: 0.005 of a share, 0.01 of the flux's (partShares, fluxShare).
 */
export function withoutPart(
  sheet: Sheet,
  { pickup, part }: TakenOutWish,
  field: FieldAnswer | null = null,
): TakenOutFigures | null {
  const question = fieldQuestion(sheet, pickup);
  if (!question) return null;
  const { build, strings, slant } = question;
  const charged = chargedBy(build, field);
  const { string } = sheet.listen;
  const { y } = strings[string - 1]!;
  const z = stringHeights(build, strings)[string - 1]!;
  // Where the string crosses each row, or without any the middle, in the pickup's own frame.
  const offsets = build.rows.length > 0 ? build.rows.map(({ offset }) => offset) : [0];
  const places = offsets.map((offset): Vector => ({
    x: offset,
    y: y / Math.cos(slant) - offset * Math.tan(slant),
    z,
  }));
  const bodies = part ? bodiesOf(charged.built, build.bars.length, part) : [];
  const { whole, parts } = partShares(charged, places, part ? [bodies] : []);
  const taken = parts[0];
  return {
    rows: whole.map((B, r) => ({
      field: size(B),
      without: size(taken?.without[r] ?? B),
      share: taken ? taken.shares[r]! : 0,
    })),
    // Their own flux needs what the bodies do to each other, which an answer leaves out.
    flux: part ? null : fluxShare(assemble(charged.built.bodies), charged.built.materials, charged.magnets),
  };
}

const size = ({ x, y, z }: Readonly<Vector>): number => Math.hypot(x, y, z);

/** Numbers of a part's bodies: poles come first, then the bars, then the steel. */
function bodiesOf({ places }: Pick<BuiltBodies, 'places'>, bars: number, part: TakenOut): readonly number[] {
  const poles = places.filter((place) => place !== null).length;
  const is = (place: (typeof places)[number], b: number): boolean => {
    switch (part.kind) {
      case 'row':
        return place?.row === part.index;
      case 'bar':
        return b === poles + part.index;
      case 'steel':
        return b === poles + bars + part.index;
      case 'bars':
        return b >= poles && b < poles + bars;
      case 'pieces':
        return b >= poles + bars;
    }
  };
  return places.flatMap((place, b) => (is(place, b) ? [b] : []));
}
