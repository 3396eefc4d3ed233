/** Changes of structure that keep a sheet whole: rows, pickups, control sets. Pure; each returns a new sheet. */
import { pickupParts } from '../shape/parts.ts';
import { isThreaded } from '../shape/steel.ts';
import { MOST_BLOCKS } from './checkBuild.ts';
import { FIGURES, snapFigure } from './figures.ts';
import type {
  BarMagnet,
  Controls,
  Harness,
  Pickup,
  PickupBuild,
  Row,
  RowBuild,
  Sheet,
  Tone,
  TrebleBleed,
} from './sheet.ts';

/** Half the usual distance between the rows of a two-coil pickup, m (common practice: 18–19 mm between rows). */
const HALF_ROW_DISTANCE = 0.0095;

const BLEED: TrebleBleed = { capacitance: 1e-9, resistance: 150e3, arrangement: 'parallel' };
const TONE: Tone = { resistance: 250e3, taper: 'audio', position: 1, capacitance: 22e-9 };

const withPickups = (sheet: Sheet, pickups: readonly Pickup[]): Sheet => ({ ...sheet, pickups });

const withHarness = (sheet: Sheet, change: Partial<Harness>): Sheet => ({
  ...sheet,
  harness: { ...sheet.harness, ...change },
});

/** The other way round in magnet and winding, so that hum cancels and strings add. */
const opposite = (row: RowBuild): RowBuild => ({
  ...row,
  up: row.up === 'north' ? 'south' : 'north',
  wound: row.wound === 'clockwise' ? 'anticlockwise' : 'clockwise',
});

/** Room between the windows of two coils for the walls of their bobbins, m. */
const WALLS = 0.4e-3;
/** Between a bar and what stands beside or above it, m. */
const CLEAR = 0.3e-3;

/** A bar as two rows need it: between their feet, north to one and south to the other. */
function barBetween(bar: BarMagnet, row: RowBuild, half: number): BarMagnet {
  const { pole, window } = row;
  const wide = pole.kind === 'screw' ? Math.max(pole.diameter, pole.head.diameter) : pole.diameter;
  const room = 2 * (half - wide / 2 - CLEAR);
  return {
    ...bar,
    width: Math.max(FIGURES.barWidth.min, Math.min(room, 0.0125)),
    direction: 'across the width',
    offset: 0,
    top: snapFigure(window.bottom - CLEAR, 'barTop'),
  };
}

/** A blade goes with its row, and has a twin in the other; other steel stays. @param offset of the row before */
function twinned(build: PickupBuild, offset: number, half: number): PickupBuild['steel'] {
  const { rows, steel } = pickupParts(build, [offset]);
  const inside = (i: number): boolean => isThreaded(steel![i]!, rows[0]!);
  const blades = build.steel.filter((_, i) => inside(i));
  return [
    ...[half, -half].flatMap((at) =>
      blades.map((blade) => ({ ...blade, offset: snapFigure(blade.offset - offset + at, 'steelOffset') })),
    ),
    ...build.steel.filter((_, i) => !inside(i)),
  ].slice(0, MOST_BLOCKS);
}

/** @param offset of the row that is there @param half of the distance that there will be between two */
function withBuildRows(build: PickupBuild, count: 1 | 2, half: number, offset: number): PickupBuild {
  const first = build.rows[0];
  if (!first) return build;
  if (count === 1) return { ...build, rows: [first] };
  const under = build.bars.findIndex(({ direction }) => direction === 'through the thickness');
  const rows = [first, opposite(first)];
  return {
    ...build,
    bars: build.bars.map((bar, i) => (i === under ? barBetween(bar, first, half) : bar)),
    steel: twinned(build, offset, half),
    rows: offset < 0 ? rows.toReversed() : rows,
  };
}

/** Half the distance of two rows of a pickup, m: the usual one, or what its coils need, if there is room for it. */
function halfRowDistance({ instrument }: Sheet, { place, slant, build }: Pickup): number {
  const room = Math.min(place, instrument.scaleLength - place) * Math.cos(slant) - CLEAR;
  const needed = (build?.rows[0]?.window.outer ?? 0) + WALLS / 2;
  return Math.max(HALF_ROW_DISTANCE, snapFigure(Math.min(needed, room), 'rowOffset'));
}

/**
 * Gives a pickup one or two rows. The second starts as a twin of the first, built the other way round, on the side
 * that is free. One row out of two with bars or steel stays where it is, as those do: only its neighbour is gone.
 */
export function withRows(sheet: Sheet, index: number, count: 1 | 2): Sheet {
  return withPickups(
    sheet,
    sheet.pickups.map((pickup, i) => {
      const first = pickup.rows[0];
      if (i !== index || !first || pickup.rows.length === count) return pickup;
      const { build } = pickup;
      const half = halfRowDistance(sheet, pickup);
      const at = (offset: number): Row => ({ ...first, offset });
      return {
        ...pickup,
        rows:
          count === 1
            ? [at(build && build.bars.length + build.steel.length > 0 ? first.offset : 0)]
            : [at(half), at(-half)],
        build: build && withBuildRows(build, count, half, first.offset),
      };
    }),
  );
}

/** Adds a pickup in the widest free place, built like the one before it; with own wiring it brings its own controls. */
export function withPickup(sheet: Sheet): Sheet {
  const last = sheet.pickups.at(-1);
  if (!last || sheet.pickups.length >= 3) return sheet;
  const names = ['neck', 'middle', 'bridge'].filter((n) => !sheet.pickups.some((p) => p.name === n));
  const { scaleLength } = sheet.instrument;
  const usual: Record<string, number> = { neck: 0.25, middle: 0.155, bridge: 0.065 };
  const name = names[0] ?? `pickup ${sheet.pickups.length + 1}`;
  const added: Pickup = {
    ...last,
    name,
    place: (usual[name] ?? 0.155) * scaleLength,
    slant: 0,
    sounds: false,
  };
  // Those already there keep their order, and with it their controls, wherever they have been dragged.
  const behind = sheet.pickups.findIndex((p) => p.place < added.place);
  const at = behind < 0 ? sheet.pickups.length : behind;
  const pickups = sheet.pickups.toSpliced(at, 0, added);
  const controls = [...sheet.harness.controls];
  if (sheet.harness.wiring === 'own') controls.splice(at, 0, controls[at - 1] ?? controls[0]!);
  return withHarness(withPickups(sheet, pickups), { controls });
}

/** Takes a pickup out; the last one stays. If none is left sounding, the first one sounds. */
export function withoutPickup(sheet: Sheet, index: number): Sheet {
  if (sheet.pickups.length < 2 || !sheet.pickups[index]) return sheet;
  const left = sheet.pickups.filter((_, i) => i !== index);
  const pickups = left.some((p) => p.sounds) ? left : left.map((p, i) => ({ ...p, sounds: i === 0 }));
  const controls =
    sheet.harness.wiring === 'own'
      ? sheet.harness.controls.filter((_, i) => i !== index)
      : sheet.harness.controls;
  return withHarness(withPickups(sheet, pickups), { controls });
}

/** Shared controls, or a set for each pickup copied from the present first set. */
export function withWiring(sheet: Sheet, wiring: Harness['wiring']): Sheet {
  const first = sheet.harness.controls[0];
  if (!first || wiring === sheet.harness.wiring) return sheet;
  return withHarness(sheet, {
    wiring,
    controls: wiring === 'own' ? sheet.pickups.map(() => first) : [first],
  });
}

const withControls = (sheet: Sheet, index: number, change: Partial<Controls>): Sheet =>
  withHarness(sheet, {
    controls: sheet.harness.controls.map((c, i) => (i === index ? { ...c, ...change } : c)),
  });

/** A usual treble bleed put on set `index` of the controls, or taken off. */
export const withBleed = (sheet: Sheet, index: number, fitted: boolean): Sheet =>
  withControls(sheet, index, { bleed: fitted ? BLEED : null });

/** A usual tone control put on set `index` of the controls, or taken off. */
export const withTone = (sheet: Sheet, index: number, fitted: boolean): Sheet =>
  withControls(sheet, index, { tone: fitted ? TONE : null });
