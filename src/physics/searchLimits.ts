/** Which limit stands in the way of a search's best, in sentences. */
import { gaugeNumber } from '../shape/gauges.ts';
import type { PickupBuild, Pole, Stock } from '../sheet/sheet.ts';
import { mm } from './lever.ts';
import type { Least } from './numerics/boundedLeast.ts';
import type { Room, Wound } from './searchSpace.ts';
import { turnsOfFull } from './woundBuild.ts';

/** A gauge differs from its neighbour by a tenth. */
const wireWord = (conductor: number): string => {
  const gauge = gaugeNumber(conductor);
  return Math.abs(gauge - Math.round(gauge)) < 1e-3
    ? `AWG ${Math.round(gauge)}`
    : `${(1e3 * conductor).toFixed(4)} mm`;
};

type End = 'least' | 'most' | null;
export interface Ends {
  readonly turns: End;
  readonly gap: End;
}

/** Share of the cost that a little more would take away where a bound stands in the way, and that another part costs more. */
const COUNTS = 0.01;
const OTHER = 0.05;

/** At which end of what is allowed turns and gap stand, where going beyond it would help. */
export function endsOf({ frees, what }: Room, { x, residuals, cost, columns }: Least): Ends {
  const end = (of: 'turns' | 'gap'): End => {
    const i = what.indexOf(of);
    if (i < 0 || !columns) return null;
    const { least, most, look } = frees[i]!;
    const slack = 1e-3 * (most - least);
    const rise = 2 * residuals.reduce((sum, r, k) => sum + r * columns[i]![k]!, 0) * look;
    if (Math.abs(rise) < COUNTS * cost) return null;
    if (x[i]! <= least + slack && rise > 0) return 'least';
    return x[i]! >= most - slack && rise < 0 ? 'most' : null;
  };
  return { turns: end('turns'), gap: end('gap') };
}

/** What one choice of parts came to, at a glance. */
interface Glanced {
  readonly poles: PickupBuild;
  readonly wire: Wound;
  readonly cost: number;
}

/** Ends of what is allowed, m and numbers of turns, at which the build stands and beyond which it would be nearer. */
export function limitsOf(
  build: PickupBuild,
  stock: Stock,
  ends: Ends,
  glances: readonly Glanced[],
): readonly string[] {
  const said = [
    ...turnsSaid(build, ends.turns),
    ...gapSaid(build, ends.gap),
    ...listSaid(build, stock, glances),
  ];
  return said.length > 0
    ? said
    : ['What is wanted does not go together: no turns, gap or parts from this stock come nearer.'];
}

function turnsSaid({ rows }: PickupBuild, end: End): readonly string[] {
  if (!end) return [];
  const each = rows.map((row) => row.turns).join(' and ');
  if (end === 'least') return [`Fewer turns than ${each} are not allowed.`];
  return rows.some((row) => row.turns >= turnsOfFull(row) - 2)
    ? [
        `The bobbin takes ${each} turns of this wire, ${wireWord(rows[0]!.wire.conductor)}, and more would be needed.`,
      ]
    : [`More turns than ${each} are not allowed.`];
}

const gapSaid = ({ gapBass, gapTreble }: PickupBuild, end: End): readonly string[] =>
  end
    ? [
        `The gap is as ${end === 'least' ? 'small' : 'large'} as is allowed, ${mm(gapBass)} (bass) and ${mm(gapTreble)} (treble).`,
      ]
    : [];

function listSaid(
  build: PickupBuild,
  { wires, diameters, lengths }: Stock,
  glances: readonly Glanced[],
): readonly string[] {
  const { wire } = build.rows[0]!;
  const of = (
    list: readonly number[] | undefined,
    own: number | undefined,
    read: (one: Glanced) => number | undefined,
    words: readonly [string, string],
    shown: (value: number) => string,
  ): readonly string[] => {
    const sorted = list?.toSorted((a, b) => a - b) ?? [];
    const at = own === undefined ? -1 : sorted.indexOf(own);
    if (own === undefined || sorted.length < 2 || at < 0 || (at > 0 && at < sorted.length - 1)) return [];
    const cost = (value: number): number =>
      Math.min(...glances.flatMap((one) => (read(one) === value ? [one.cost] : [])));
    // Only where the next one costs more does the end of the list stand in the way.
    const next = cost(sorted[at === 0 ? 1 : at - 1]!);
    if (!(next > (1 + OTHER) * cost(own))) return [];
    return [`${shown(own)} is ${words[at === 0 ? 0 : 1]} there is.`];
  };
  // Screws are left as they are.
  const poleOf = ({ rows }: PickupBuild, kinds: readonly Pole['kind'][]) =>
    rows.find(({ pole }) => kinds.includes(pole.kind))?.pole;
  const thick = (one: PickupBuild) => poleOf(one, ['rod', 'slug'])?.diameter;
  const long = (one: PickupBuild) => poleOf(one, ['rod'])?.length;
  return [
    ...of(
      wires,
      wire.conductor,
      (one) => one.wire.conductor,
      ['the finest wire', 'the thickest wire'],
      wireWord,
    ),
    ...of(diameters, thick(build), (one) => thick(one.poles), ['the thinnest pole', 'the thickest pole'], mm),
    ...of(lengths, long(build), (one) => long(one.poles), ['the shortest rod', 'the longest rod'], mm),
  ];
}
