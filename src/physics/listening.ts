/** What every row hears of a note before any circuit, and the circuit behind it. */
import { hasCoil } from '../shape/hasCoil.ts';
import { harnessNetwork } from './circuit/harness.ts';
import { NetworkSolver } from './circuit/network.ts';
import type { HeardSheet as Sheet } from './heard/resolved.ts';
import { beginningOf, bentTones, type Beginning, type HeardFlux, type Tones } from './sound/bentTones.ts';
import { pluckAmplitudes, pluckShare } from './sound/pluck.ts';
import { decayRate, type Polarisation } from './string/damping.ts';
import { isStraight } from './string/fluxCurve.ts';
import { partialFrequency, partialNumber, partialsBelow, type SoundingString } from './string/note.ts';
import { reachOn, type HeardReach, type ReachShape } from './heard/reachOn.ts';
import { transformReach } from './string/sampled.ts';

/** Partials end here, Hz. */
export const HIGHEST = 20000;

/** One row of one pickup on the chosen string, with the transform of its reach at the first `frequencies`. */
export interface Aperture {
  readonly pickup: number;
  readonly row: number;
  readonly area: number;
  readonly shape: ReachShape;
  /** +1, or −1 when its wires are exchanged. */
  readonly polarity: number;
  readonly cosine: Float64Array;
  readonly sine: Float64Array;
  /** Of the plucked partials, each polarisation by its share of the pluck. */
  readonly plucked: HeardFlux;
  /** The partials bent; null where no row's reach changes with the distance. */
  readonly tones: Tones | null;
}

/** What all voices of a sheet share. */
export interface Listening {
  readonly note: SoundingString;
  /** The curve's frequencies and behind them those of the partials, Hz. */
  readonly frequencies: Float64Array;
  readonly curveLength: number;
  /** How many partials are asked for; further ones only serve to bend them. */
  readonly partials: number;
  readonly apertures: readonly Aperture[];
  /** Of every partial, 1/s. */
  readonly decay: Readonly<Record<Polarisation, Float64Array>>;
  /** Instants at which tones are bent; null where none are. */
  readonly beginning: Beginning | null;
}

/** Of a note that is not looked at in full. */
interface ListenOptions {
  /** How many partials are asked for at most. */
  readonly most?: number;
  /** Indices of the pickups that listen; all unless given. */
  readonly members?: readonly number[];
}

/**
 * Where all partials are asked for, they are bent at so many instants: a partial in a null of the response, which others
 * make and unmake as they drift, was 1.9 dB off from half as many. The first twelve alone come out within 0.6 dB from
 * fewer, and from fewer partials.
 */
const INSTANTS = 32;
const FEW_INSTANTS = 8;
const FEW_PARTIALS = 63;

/**
 * What every row hears of the note, before any circuit.
 *
 * @param sheet on which nothing is left open
 * @param note the chosen string, stopped
 * @param curve frequencies at which curves are asked for, Hz, ascending
 * @throws RangeError as reachOn does
 */
export function listen(
  sheet: Sheet,
  note: SoundingString,
  curve: Float64Array,
  { most = Infinity, members }: ListenOptions = {},
): Listening {
  const asked = members ?? sheet.pickups.map((_, index) => index);
  const listeners = asked.filter((index) => hasCoil(sheet.pickups[index]!.build));
  const rows = listeners.flatMap((pickup) =>
    sheet.pickups[pickup]!.rows.map((_, row) => {
      const reach = reachOn(sheet.instrument, sheet.pickups[pickup]!, row, note.string, note.length);
      return { pickup, row, reach };
    }),
  );
  const all = partialsBelow(note, HIGHEST);
  const partials = Math.min(most, all);
  const bent = rows.some(({ reach }) => !isStraight(reach.curve));
  const count = bent ? Math.min(all, Math.max(most, FEW_PARTIALS)) : partials;
  const own = Float64Array.from({ length: count }, (_, i) =>
    partialFrequency(i + 1, note.frequency, note.inharmonicity),
  );
  const frequencies = new Float64Array(curve.length + count);
  frequencies.set(curve);
  frequencies.set(own, curve.length);
  const wavenumbers = frequencies.map(
    (f) => (Math.PI / note.length) * partialNumber(f, note.frequency, note.inharmonicity),
  );
  const rate = (polarisation: Polarisation) => own.map((f) => decayRate(note, f, polarisation));
  const decay = { towards: rate('towards'), across: rate('across') };
  const beginning = bent
    ? beginningOf({ frequencies: own, decay }, partials < all ? FEW_INSTANTS : INSTANTS)
    : null;
  const amplitudes = pluckAmplitudes(sheet.listen.pluck, note.length, count);
  const heard = (sine: Float64Array, polarisation: Polarisation): Float64Array => {
    const share = pluckShare(sheet.listen.pluck, polarisation);
    return sine.map((value, i) => share * amplitudes[i]! * value);
  };
  const apertures = rows.map(({ pickup: index, row, reach }): Aperture => {
    const cosine = new Float64Array(frequencies.length);
    const sine = new Float64Array(frequencies.length);
    transformReach(reach.towards, wavenumbers, cosine, sine);
    const towards = sine.subarray(curve.length);
    const across = acrossSine(reach, wavenumbers.subarray(curve.length), towards);
    const plucked = { towards: heard(towards, 'towards'), across: heard(across, 'across') };
    const { area, bell: shape } = reach;
    const polarity = polarityOf(sheet.pickups[index]!, row);
    const tones = beginning && bentTones(plucked, reach, beginning, partials);
    return { pickup: index, row, area, shape, polarity, cosine, sine, plucked, tones };
  });
  return { note, frequencies, curveLength: curve.length, partials, apertures, decay, beginning };
}

const polarityOf = ({ reversed, phase }: Sheet['pickups'][number], row: number): 1 | -1 =>
  reversed !== (row > 0 && phase === 'out') ? -1 : 1;

/** ∫ S_across sin(kx) dx. @param towards the same of the other polarisation */
function acrossSine({ across }: HeardReach, wavenumbers: Float64Array, towards: Float64Array): Float64Array {
  if (typeof across === 'number') return towards.map((value) => across * value);
  const cosine = new Float64Array(wavenumbers.length);
  const sine = new Float64Array(wavenumbers.length);
  transformReach(across, wavenumbers, cosine, sine);
  return sine;
}

/** The circuit behind some of the pickups. */
export interface Circuit {
  readonly solver: NetworkSolver;
  /** Which coil each of the solver's transfers is from. */
  readonly coils: readonly { readonly pickup: number; readonly row: number }[];
}

/** @param members indices of the pickups that are heard */
export function circuitOf({ pickups, harness }: Sheet, members: readonly number[]): Circuit {
  const network = harnessNetwork(
    pickups,
    harness,
    pickups.map((_, index) => members.includes(index)),
  );
  return { solver: new NetworkSolver(network), coils: network.coils };
}

/** In the order of the circuit's coils. */
export const aperturesOf = ({ coils }: Circuit, { apertures }: Listening): Aperture[] =>
  coils.map(({ pickup, row }) => apertures.find((a) => a.pickup === pickup && a.row === row)!);

/** Area of the reach of every coil of a circuit on a string, V·s/m, with its polarity; in the circuit's order. */
export const areasOf = (
  { instrument, pickups }: Sheet,
  { coils }: Circuit,
  { string, length }: SoundingString,
): number[] =>
  coils.map(({ pickup, row }) => {
    const own = pickups[pickup]!;
    return polarityOf(own, row) * reachOn(instrument, own, row, string, length).area;
  });
