/** Another kind of poles and magnets on a pickup that is built already: nothing else changes, as far as it has room. Pure. */
import type { PickupBuild, Pole, RowBuild, Window } from './build.ts';
import type { Pickup, Row } from './sheet.ts';

/** Of a pickup; as many rows as each other. */
export interface BuiltRows {
  readonly build: PickupBuild;
  readonly rows: readonly Row[];
}

/**
 * Kept are gaps, pitch, cover, base plate and bobbins, polarity, turns and wire, a typed resistance and self-capacitance; of
 * rods for rods their size and magnet too. What doesn't fit the new poles or their bars comes from the start. A typed inductance
 * or core loss was measured with the old poles, and goes.
 */
export function afresh({ rows }: Pickup, old: PickupBuild, start: BuiltRows): BuiltRows {
  const wide = start.build.rows.map(({ pole }) => widest(pole));
  const roomy = rows.every(
    ({ offset }, r) =>
      Math.sign(offset) === Math.sign(start.rows[r]!.offset) &&
      Math.abs(offset) >= Math.abs(start.rows[r]!.offset),
  );
  const pitch = old.pitch > Math.max(...wide) ? old.pitch : start.build.pitch;
  const wound = old.rows.every(({ window }, r) => holds(window, wide[r]!, start.build));
  return {
    build: {
      ...start.build,
      pitch,
      gapBass: old.gapBass,
      gapTreble: old.gapTreble,
      cover: old.cover,
      basePlate: old.basePlate,
      rows: start.build.rows.map((row, r) => rowFrom(row, old.rows[r]!, wound)),
    },
    rows: rows.map((row, r) => ({
      ...row,
      offset: roomy ? row.offset : start.rows[r]!.offset,
      coil: {
        ...row.coil,
        inductance: null,
        coreLoss: null,
        ...(wound ? {} : { resistance: null, capacitance: null }),
      },
    })),
  };
}

const widest = ({ kind, diameter, head }: Pole): number =>
  kind === 'screw' ? Math.max(diameter, head.diameter) : diameter;

/** Whether a bobbin has room for poles so wide, and stands above the bars. */
const holds = (window: Window, wide: number, { bars }: PickupBuild): boolean =>
  window.inner >= wide / 2 && bars.every(({ top }) => top < window.bottom);

function rowFrom(row: RowBuild, old: RowBuild, wound: boolean): RowBuild {
  return {
    ...row,
    ...(wound ? { window: old.window, turns: old.turns, wire: old.wire } : {}),
    up: old.up,
    wound: old.wound,
    pole: poleFrom(row.pole, old.pole),
  };
}

/** What means nothing for a kind of pole stays as it was: a slug has no magnet, and only a screw has a head. */
function poleFrom(pole: Pole, old: Pole): Pole {
  const rods = pole.kind === 'rod' && old.kind === 'rod';
  return {
    ...pole,
    ...(rods ? { diameter: old.diameter, length: old.length } : {}),
    ...(rods && old.own?.length === pole.heights.length ? { own: old.own } : {}),
    magnet: pole.kind !== 'rod' || rods ? old.magnet : pole.magnet,
    head: pole.kind === 'screw' ? pole.head : old.head,
  };
}
