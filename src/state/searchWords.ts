/** What is said of what a search found. Pure. */
import type { JobValue } from '../jobs/protocol.ts';
import { formatFigure } from '../sheet/format.ts';
import { WANTS } from '../sheet/search.ts';
import type { PickupBuild, WantKey } from '../sheet/sheet.ts';

export type Candidate = JobValue['search']['best'][number];
type Missing = Candidate['missing'][number];

/** Of one thing that is wanted. */
export interface MissingRow {
  readonly name: string;
  readonly wanted: string;
  readonly got: string;
  /** «0.4 % more»; empty where nothing is missing that is shown. */
  readonly off: string;
}

const SHARES: ReadonlySet<WantKey> = new Set(['resonance', 'q', 'inductance', 'resistance', 'reach']);
const figureOf = (want: WantKey) => WANTS.find(([key]) => key === want)!;
const digits = (value: number, want: WantKey): string =>
  formatFigure(Number(value.toPrecision(4)), figureOf(want)[1]);

/** By how much it misses: a share, dB or cents. */
function offWords({ want, wanted, got }: Missing): string {
  if (got === null) return 'there is none';
  const [, , , atMost] = figureOf(want);
  if (atMost && got <= wanted) return '';
  const more = got > wanted ? 'more' : 'less';
  if (SHARES.has(want)) {
    const percent = Math.abs(100 * (got / wanted - 1));
    return percent < 0.05 ? '' : `${percent.toFixed(1)} % ${more}`;
  }
  const by = Math.abs(got - wanted);
  return by < 0.05 ? '' : `${by.toFixed(1)} ${want === 'pull' ? 'cents' : 'dB'} ${more}`;
}

export const missingRows = ({ missing }: Candidate): readonly MissingRow[] =>
  missing.map((one) => {
    const [, , name, atMost] = figureOf(one.want);
    return {
      name,
      wanted: `${atMost ? 'at most ' : ''}${digits(one.wanted, one.want)}`,
      got: one.got === null ? 'none' : digits(one.got, one.want),
      off: offWords(one),
    };
  });

const mm = (length: number): string => (1e3 * length).toFixed(2);

/** «6910 turns of 0.0564 mm (AWG 43), single; alnico 2 rods of 4.85 × 17.00 mm; gaps 3.30 and 2.70 mm». */
export function buildWords({ rows, bars, gapBass, gapTreble }: PickupBuild): string {
  const { wire } = rows[0]!;
  const turns = rows.map((row) => row.turns).join(' and ');
  const poles = rows.flatMap(({ pole: { kind, magnet, diameter, length } }) =>
    kind === 'none'
      ? []
      : [`${kind === 'rod' ? `${magnet.grade} ` : ''}${kind}s of ${mm(diameter)} × ${mm(length)} mm`],
  );
  const of = [...new Set([...bars.map(({ magnet }) => `${magnet.grade} bar`), ...poles])];
  return [
    `${turns} turns of ${formatFigure(wire.conductor, 'wire')}, ${wire.enamel}`,
    ...(of.length > 0 ? [of.join(', ')] : []),
    `gaps ${mm(gapBass)} and ${mm(gapTreble)} mm`,
  ].join('; ');
}

/** What a trial is called by: its turns and wire, and what it misses. */
export function candidateWhat(one: Candidate): string {
  const { wire } = one.build.rows[0]!;
  const turns = one.build.rows.map((row) => row.turns).join(' and ');
  // Only of a resonance there may be none, and then neither its height nor its Q.
  const misses = new Set(
    one.missing.flatMap((missing) => {
      const off = offWords(missing);
      if (missing.got === null) return ['no resonance'];
      return off ? [`${figureOf(missing.want)[2]} ${off}`] : [];
    }),
  );
  const missed = misses.size > 0 ? `: ${[...misses].join(', ')}` : '';
  return `${turns} turns of ${formatFigure(wire.conductor, 'wire')}${missed}`;
}

/** What it came to. */
export function searchWords({ best, limits }: JobValue['search']): string {
  const [first] = best;
  if (!first) return `Not reachable: nothing can be built of this. ${limits.join(' ')}`;
  return first.reached ? 'Reached.' : `Not reachable; the nearest stands first. ${limits.join(' ')}`;
}
