/** A sheet and its fields, as what they come to. */
import { hasCoil } from '../../shape/hasCoil.ts';
import type { Coil, Pickup, Row, Sheet } from '../../sheet/sheet.ts';
import type { PlateLoops } from '../circuit/plateLoops.ts';
import type { FieldAnswer, FieldLoops, Fields } from './fieldAnswer.ts';
import type { CoilCore } from '../circuit/coilCore.ts';
import type { WiredRow } from '../circuit/harness.ts';
import type { HeardPickup, HeardSheet } from './resolved.ts';

const FIGURES = ['resistance', 'inductance', 'capacitance'] as const;

/**
 * Every coil with its figures: what is typed wins, the rest is the build's.
 *
 * @param fields of the sheet's pickups, in their order
 * @throws RangeError when a coil's figure, or a reach, is left to a build that is not there
 */
export function resolve(sheet: Sheet, fields: Fields): HeardSheet {
  const pickups = sheet.pickups.map((pickup, p): HeardPickup => {
    const field = fields[p] ?? null;
    if (pickup.reachBy === 'build' && !field) {
      throw new RangeError(
        `A reach left to the build must have its field computed; got none for pickup ${p + 1}. Compute it or set the reach by hand.`,
      );
    }
    if (!hasCoil(pickup.build)) return { ...withoutCoils(pickup), field };
    const rows = pickup.rows.map((row, r) =>
      field ? builtRow(pickup, row, field, r) : givenRow(row, `pickup ${p + 1}, row ${r + 1}`),
    );
    return { ...pickup, rows, ...(field && { field }) };
  });
  return { ...sheet, pickups };
}

/** What has no coil is in no circuit. */
const withoutCoils = (pickup: Pickup): HeardPickup => ({
  ...pickup,
  rows: pickup.rows.map((row) => ({
    ...row,
    coil: { resistance: 0, inductance: 0, capacitance: 0, coreLoss: null },
  })),
});

function givenRow(row: Row, where: string): WiredRow {
  const { resistance, inductance, capacitance, coreLoss } = row.coil;
  if (resistance === null || inductance === null || capacitance === null) {
    const missing = FIGURES.filter((name) => row.coil[name] === null).join(', ');
    throw new RangeError(`Coil figures must be given, all of them; got none for ${missing} of ${where}.`);
  }
  return { ...row, coil: { resistance, inductance, capacitance, coreLoss } };
}

function builtRow(pickup: Pickup, row: Row, field: FieldAnswer, r: number): WiredRow {
  const computed = field.coils[r]!;
  const coil: Coil = {
    resistance: row.coil.resistance ?? computed.resistance,
    inductance: row.coil.inductance ?? computed.inductance + shared(pickup, field, r),
    capacitance: row.coil.capacitance ?? computed.capacitance,
    coreLoss: row.coil.coreLoss,
  };
  // A typed loss stands for the whole core, as a resistance across one inductance.
  return coil.coreLoss === null ? { ...row, coil, core: coreOf(pickup, field, r, coil) } : { ...row, coil };
}

/**
 * What the other coil's current adds to a coil's inductance, H. In series both carry the same current, so that L + M is
 * exact; in parallel it is so for equal coils. M follows the frequency as the coil's own inductance does: both come
 * through the same poles. A coil of few turns has less of its own than one of many takes from it: then it keeps LEAST, and the
 * other is short of the rest, so that both together are what they are.
 */
function shared({ rows, phase }: Pickup, { coils, mutual }: FieldAnswer, r: number): number {
  if (rows.length < 2) return 0;
  const given = phase === 'out' ? -mutual : mutual;
  const short = ({ inductance }: FieldAnswer['coils'][number]): number =>
    Math.max(0, LEAST * inductance - (inductance + given));
  return given + short(coils[r]!) - short(coils[1 - r]!);
}

/** Share of its own inductance. */
const LEAST = 1e-3;

function coreOf(pickup: Pickup, field: FieldAnswer, r: number, coil: Coil): CoilCore {
  const computed = field.coils[r]!;
  return {
    air: computed.airInductance,
    fit: computed.core,
    metal: computed.metal,
    turns: computed.turns,
    scale: coil.inductance / computed.inductance,
    share: computed.coreShare,
    ...(computed.loops && { plates: plateLoops(pickup, field, r, computed.loops) }),
  };
}

/**
 * Two coils drive a cover together: each is given a part of what their sum takes, in proportion to their inductances,
 * which in series is exact, and in parallel for equal coils. What a coil hears of the loops is its own. The whole is
 * stretched by `scale` afterwards, in which the coils' mutual inductance is, and that must not stretch this.
 */
function plateLoops(
  { rows, phase }: Pickup,
  { coils, mutual }: FieldAnswer,
  r: number,
  { tau, air, core, moved }: FieldLoops,
): PlateLoops {
  const own = { ownAir: air, ownCore: core, moved };
  const mine = coils[r]!;
  const other = coils[1 - r];
  if (rows.length < 2 || !other?.loops) return { tau, air, core, ...own };
  const sense = phase === 'out' ? -1 : 1;
  const share = Math.sqrt(mine.inductance / (mine.inductance + other.inductance + 2 * sense * mutual));
  const theirs = (sense * other.turns) / mine.turns;
  const joined = (a: Float64Array, b: Float64Array): Float64Array =>
    a.map((value, k) => share * (value + theirs * b[k]!));
  return {
    tau,
    air: joined(air, other.loops.air),
    core: joined(core, other.loops.core),
    ...own,
  };
}
