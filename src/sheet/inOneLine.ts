/** What a sheet is, in one line, for someone who comes by a link. Pure. */
import { hasCoil } from '../shape/hasCoil.ts';
import type { PickupBuild, Pole } from './build.ts';
import { windingWords } from './windingWords.ts';
import { formatFigure } from './format.ts';
import type { Harness, Pickup, Sheet } from './sheet.ts';

/**
 * «Three single coils, alnico 5 rods, 7,800 turns of AWG 42, into 250 kΩ and 3 m of cable». Where the pickups are not alike,
 * their kinds and the span of their turns.
 */
export function inOneLine({ pickups, harness }: Sheet): string {
  const words = [kindWords(pickups), metalWords(pickups), coilWords(pickups)].filter(Boolean).join(', ');
  return `${words}, into ${loadWords(harness)}`;
}

const COUNTS = ['No', 'One', 'Two', 'Three', 'Four', 'Five', 'Six'];
const counted = (n: number, one: string): string => `${COUNTS[n] ?? n} ${one}${n === 1 ? '' : 's'}`;

/** «Three single coils», «Two humbuckers and one single coil», «Two magnet sets without a coil». */
function kindWords(pickups: readonly Pickup[]): string {
  const wound = pickups.filter(({ build }) => hasCoil(build));
  const loose = pickups.length - wound.length;
  const two = wound.filter(({ rows }) => rows.length === 2).length;
  const one = wound.length - two;
  const kinds = [
    ...(two > 0 ? [counted(two, 'humbucker')] : []),
    ...(one > 0 ? [counted(one, 'single coil')] : []),
    ...(loose > 0 ? [`${counted(loose, 'magnet set')} without a coil`] : []),
  ];
  return kinds.map((kind, i) => (i === 0 ? kind : kind.toLowerCase())).join(' and ');
}

/** What all builds share is said once; nothing where no pickup has one. */
function shared(pickups: readonly Pickup[], say: (build: PickupBuild) => string): string {
  const words = pickups.flatMap(({ build }) => (build ? [say(build)] : []));
  const unlike = [...new Set(words.filter(Boolean))];
  return unlike.length > 2 ? `${unlike.slice(0, -1).join(', ')} and ${unlike.at(-1)}` : unlike.join(' and ');
}

/** «alnico 5 rods, one of them with redirecting steel». */
function metalWords(pickups: readonly Pickup[]): string {
  const magnets = magnetWords(pickups);
  const builds = pickups.flatMap(({ build }) => build ?? []);
  const steel = builds.filter((build) => build.steel.length > 0).length;
  if (steel === 0) return magnets;
  if (magnets === '') return 'steel without a magnet';
  return steel === builds.length
    ? `${magnets} and redirecting steel`
    : `${magnets}, ${(COUNTS[steel] ?? String(steel)).toLowerCase()} of them with redirecting steel`;
}

const magnetWords = (pickups: readonly Pickup[]): string =>
  shared(pickups, ({ rows, bars }) => {
    const poles = [...new Set(rows.map(({ pole }) => poleWords(pole)))].filter(Boolean).join(' and ');
    const grades = [...new Set(bars.map(({ magnet }) => magnet.grade))];
    const by =
      bars.length === 1 ? `${grades[0]} bar` : grades.length > 0 ? `${grades.join(' and ')} bars` : '';
    // One bar is mostly under its poles; several may be anywhere.
    return by && poles ? `${by} ${bars.length === 1 ? 'under' : 'with'} ${poles}` : by || poles;
  });

const poleWords = ({ kind, magnet }: Pole): string =>
  ({ rod: `${magnet.grade} rods`, slug: 'steel slugs', screw: 'steel screws', none: '' })[kind];

/** «7,800 turns of AWG 42»; of unlike ones «7,600 to 8,200 turns». By hand or measured: what is known of the coils. */
function coilWords(pickups: readonly Pickup[]): string {
  const coils = pickups.flatMap(({ build }) => (build && hasCoil(build) ? build.rows : []));
  const [first] = coils;
  if (!first) return measuredWords(pickups);
  const turns = coils.map((row) => row.turns);
  const [least, most] = [Math.min(...turns), Math.max(...turns)];
  const wire = windingWords(first).replace(/^\d+ turns/, '');
  const alike = coils.every((row) => windingWords(row).replace(/^\d+ turns/, '') === wire);
  const span = least === most ? grouped(least) : `${grouped(least)} to ${grouped(most)}`;
  return `${span} turns${alike ? wire : ''}`;
}

/** «2.40 H», for coils of which nobody said how they are wound. */
function measuredWords(pickups: readonly Pickup[]): string {
  const known = pickups.flatMap(({ rows, build }) =>
    hasCoil(build) ? rows.flatMap(({ coil }) => coil.inductance ?? []) : [],
  );
  if (known.length === 0) return '';
  const [least, most] = [Math.min(...known), Math.max(...known)].map((l) =>
    formatFigure(l, 'coilInductance'),
  );
  return least === most ? `coils of ${least}` : `coils of ${least} to ${most}`;
}

/** «250 kΩ and 3 m of cable». */
function loadWords({ controls, cable }: Harness): string {
  const pots = [...new Set(controls.map(({ volume }) => formatFigure(volume.resistance, 'potResistance')))];
  const metres = Number(cable.length.toFixed(1));
  return `${pots.join(' and ')} and ${metres} m of cable`;
}

/** «7,800». */
const grouped = (n: number): string => String(n).replace(/\B(?=(\d{3})+$)/g, ',');
