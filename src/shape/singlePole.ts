/** A row whose poles are not all alike: most stand as the row says, single ones have something of their own. */
import type { ChosenGrade } from './materials.ts';

/** What a maker gives of a single pole; null: as the row. Lengths in m. */
export interface OwnPole {
  /** For rods; kept but without meaning for steel, as `charge` and `up`. */
  readonly grade: ChosenGrade | null;
  /** Share of full magnetisation, 0–1. */
  readonly charge: number | null;
  readonly diameter: number | null;
  readonly length: number | null;
  readonly up: 'north' | 'south' | null;
  /** false: it is left out, and what else it has waits. Absent where it stands. */
  readonly fitted?: false;
}

/** A row's poles as a maker gives them; `own` has one entry a pole, and is absent where all are alike. */
interface GivenPoles {
  readonly kind: string;
  readonly magnet: { readonly grade: ChosenGrade; readonly charge: number };
  readonly diameter: number;
  readonly length: number;
  readonly own?: readonly (OwnPole | null)[];
}

/** Whether the pole under string k + 1 stands in its row and is not left out. */
export const isFitted = (
  { own }: { readonly own?: readonly (Pick<OwnPole, 'fitted'> | null)[] },
  k: number,
): boolean => own?.[k]?.fitted !== false;

/** Under which strings no pole stands though its row has poles, 1 the highest. */
export const leftOut = (pole: {
  readonly heights: readonly number[];
  readonly own?: readonly (Pick<OwnPole, 'fitted'> | null)[];
}): readonly number[] => pole.heights.flatMap((_, k) => (isFitted(pole, k) ? [] : [k + 1]));

/** The size of the pole under string k + 1, m. */
export function sizedAt<
  P extends Pick<GivenPoles, 'diameter' | 'length'> & {
    readonly own?: readonly (Pick<OwnPole, 'diameter' | 'length'> | null)[];
  },
>(pole: P, k: number): P {
  const single = pole.own?.[k];
  if (!single) return pole;
  return { ...pole, diameter: single.diameter ?? pole.diameter, length: single.length ?? pole.length };
}

interface GivenRow {
  readonly pole: GivenPoles;
  readonly up: 'north' | 'south';
}

/** The pole under string k + 1 with all that it has of its own, as if the row were of such. */
export function poleAt<P extends GivenPoles>(pole: P, k: number): Omit<P, 'own'> {
  const { own, ...all } = sizedAt(pole, k);
  const single = own?.[k];
  if (!single) return all;
  const { grade, charge } = pole.magnet;
  return { ...all, magnet: { grade: single.grade ?? grade, charge: single.charge ?? charge } };
}

/** Which pole of the rod under string k + 1 is up. */
export const upAt = ({ pole, up }: GivenRow, k: number): GivenRow['up'] => pole.own?.[k]?.up ?? up;

/** Whether the pole under string k + 1 stands and is unlike its row in anything that counts for its kind. */
export function differs(row: GivenRow, k: number): boolean {
  const { pole, up } = row;
  const here = poleAt(pole, k);
  if (pole.kind === 'none' || !isFitted(pole, k)) return false;
  if (here.diameter !== pole.diameter || here.length !== pole.length) return true;
  const { grade, charge } = pole.magnet;
  return (
    pole.kind === 'rod' &&
    (upAt(row, k) !== up || here.magnet.grade !== grade || here.magnet.charge !== charge)
  );
}

/** A row with its pole, and those that are unlike it; null: as the row. */
export interface RowOfPoles<P> {
  readonly pole: P;
  readonly own?: readonly (P | null)[];
}

/** The pole under string k + 1. */
export const poleUnder = <P>({ pole, own }: RowOfPoles<P>, k: number): P => own?.[k] ?? pole;

/** Every kind of pole that a row has, each once. @param count of its poles */
export const polesIn = <P>(row: RowOfPoles<P>, count: number): readonly P[] => [
  ...new Set(Array.from({ length: count }, (_, k) => poleUnder(row, k))),
];
