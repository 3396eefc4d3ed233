/**
 * Builds to start from. Dimensions are common practice of the trade, without a source; each winding fits its window
 * when it is packed as a winding machine packs it (about 0.85 turns for each square of the wire's overall diameter).
 */
import type { BarMagnet, Magnet, MagnetGrade, PickupBuild, Pole, RowBuild, Window } from './build.ts';
import type { Coil, CoilFigures, Reach, Row, Sheet } from './sheet.ts';
import { gaugeDiameter } from '../shape/gauges.ts';
import { afresh } from './afresh.ts';
import { fitBuild, spacingAt } from './fitBuild.ts';

/** A build with the rows that a pickup gets with it. */
export interface StartingBuild {
  readonly name: string;
  readonly build: PickupBuild;
  /** As many as the build has; no coil figure is given, and a reach by hand, near the computed one, stands ready. */
  readonly rows: readonly Row[];
}

/** The builds below are drawn for a guitar of six strings, and then fitted to as many as there are. */
const POLES = 6;
const FLAT: readonly number[] = new Array<number>(POLES).fill(0);

/** Half of 19 mm between two rows, m. */
const HALF_ROW_DISTANCE = 0.0095;

const LEFT_TO_BUILD: CoilFigures = {
  resistance: null,
  inductance: null,
  capacitance: null,
  coreLoss: null,
};

const magnet = (grade: MagnetGrade): Magnet => ({ grade, charge: 1 });

/** Fillister heads; kept by slugs and rods, for which it means nothing. */
const HEAD = { diameter: 0.0048, height: 0.0016 };

const pole = (kind: Pole['kind'], diameter: number, length: number, more: Partial<Pole> = {}): Pole => ({
  kind,
  magnet: magnet('alnico 5'),
  diameter,
  length,
  tip: { shape: 'flat', size: 0 },
  head: HEAD,
  heights: FLAT,
  ...more,
});

/** A tall bobbin for one row of long poles, and a low one for two rows. */
const TALL: Window = { straight: 0.052, inner: 0.0032, outer: 0.0076, top: -0.002, bottom: -0.013 };
const LOW: Window = { straight: 0.052, inner: 0.0032, outer: 0.0076, top: -0.0015, bottom: -0.0085 };

const row = (of: Pole, window: Window, turns: number, gauge: number): RowBuild => ({
  pole: of,
  up: 'north',
  window,
  turns,
  wire: { conductor: gaugeDiameter(gauge), enamel: 'single' },
  wound: 'clockwise',
});

const opposite = (of: RowBuild): RowBuild => ({ ...of, up: 'south', wound: 'anticlockwise' });

const pickup = (rows: readonly RowBuild[], ...bars: readonly BarMagnet[]): PickupBuild => ({
  pitch: 0.0104,
  gapBass: 0.0026,
  gapTreble: 0.002,
  bars,
  steel: [],
  cover: null,
  basePlate: null,
  rows,
});

/** Under one row, its upper face at `top`. */
const under = (grade: MagnetGrade, width: number, thickness: number, top: number): BarMagnet => ({
  magnet: magnet(grade),
  width,
  length: 0.06,
  thickness,
  direction: 'through the thickness',
  turned: false,
  offset: 0,
  across: 0,
  top,
});

/** Below two coils, between the feet of their poles. */
const between = (grade: MagnetGrade, thickness: number): BarMagnet => ({
  magnet: magnet(grade),
  width: 0.0125,
  length: 0.062,
  thickness,
  direction: 'across the width',
  turned: false,
  offset: 0,
  across: 0,
  top: -0.0088,
});

const reach = (width: number, sensitivity: number): Reach => ({ width, sensitivity, fade: 0.005 });

const one = (name: string, build: PickupBuild, by: Reach): StartingBuild => ({
  name,
  build,
  rows: [{ offset: 0, reach: by, coil: LEFT_TO_BUILD }],
});

const two = (name: string, build: PickupBuild, by: Reach): StartingBuild => ({
  name,
  build,
  rows: [HALF_ROW_DISTANCE, -HALF_ROW_DISTANCE].map((offset) => ({
    offset,
    reach: by,
    coil: LEFT_TO_BUILD,
  })),
});

const rods = (more: Partial<Pole> = {}): PickupBuild =>
  pickup([row(pole('rod', 0.00485, 0.017, more), TALL, 8000, 42)]);

const slugsAndScrews = (turns: number, gauge: number, outer: number, bar: BarMagnet): PickupBuild => {
  const window = { ...LOW, outer };
  return pickup(
    [
      row(pole('screw', 0.0035, 0.021), window, turns, gauge),
      opposite(row(pole('slug', 0.00475, 0.0125), window, turns, gauge)),
    ],
    bar,
  );
};

const STARTS: readonly StartingBuild[] = [
  one('rods', rods(), reach(0.0155, 0.055)),
  one('bevelled rods', rods({ tip: { shape: 'chamfered', size: 0.0014 } }), reach(0.016, 0.05)),
  one(
    'staggered rods',
    // Highest under the wound and the plain third, lowest under the plain second, string 1 first.
    rods({ heights: [0.0004, -0.0004, 0.0008, 0.001, 0.0006, 0] }),
    reach(0.0145, 0.06),
  ),
  one(
    'steel poles over a ceramic bar',
    pickup([row(pole('slug', 0.00475, 0.0145), TALL, 8000, 42)], under('ceramic 5', 0.012, 0.006, -0.0147)),
    reach(0.0155, 0.065),
  ),
  one(
    'short steel poles over a small neodymium bar',
    pickup([row(pole('slug', 0.004, 0.01), LOW, 3500, 41)], under('neodymium', 0.003, 0.0015, -0.0102)),
    reach(0.0145, 0.02),
  ),
  two(
    'slugs and screws beside an alnico bar',
    slugsAndScrews(5000, 42, 0.0076, between('alnico 5', 0.0032)),
    reach(0.0135, 0.04),
  ),
  two(
    'slugs and screws beside a ceramic bar',
    slugsAndScrews(7600, 43, 0.0087, between('ceramic 8', 0.0064)),
    reach(0.0145, 0.085),
  ),
];

const NUMBERS = ['', '', '', '', 'four', 'five', 'six', 'seven', 'eight'];

/** For so many strings, in the order in which they are offered: «six rods», «steel poles over a ceramic bar». */
export const startingBuilds = (strings: number): readonly StartingBuild[] =>
  STARTS.map(({ name, build, rows }) => ({
    name: /rods$/.test(name) ? `${NUMBERS[strings] ?? strings} ${name}` : name,
    // Of fewer strings than six it is mostly the lower ones that are there.
    build: fitBuild(build, strings, Math.min(0, strings - POLES), 1),
    rows,
  }));

/** Those for six strings. */
export const STARTING_BUILDS = startingBuilds(POLES);

/** What the spacing of strings over a guitar's pickup is when the poles stand as the starts have them, m. */
const USUAL_SPACING = 0.0104;

/**
 * Builds a pickup from a start: the poles as many and as far apart as the strings; place, wiring and name stay. Where it was
 * built before with as many rows, all stays that the start is not about: see afresh.ts.
 */
export function withBuild(sheet: Sheet, index: number, start: StartingBuild): Sheet {
  const pickup = sheet.pickups[index];
  if (!pickup) return sheet;
  const spacing = spacingAt(sheet.instrument, pickup.place);
  const count = sheet.instrument.strings.length;
  const build = fitBuild(start.build, count, 0, spacing / USUAL_SPACING);
  const coils = pickup.build?.coils;
  const from = { build: { ...build, ...(coils && { coils }) }, rows: start.rows };
  const made = pickup.build?.rows.length === build.rows.length ? afresh(pickup, pickup.build, from) : from;
  const pickups = sheet.pickups.map((p, i) =>
    i === index ? { ...p, ...made, reachBy: 'build' as const } : p,
  );
  return { ...sheet, pickups };
}

/**
 * Takes a pickup's build away and sets its reach by hand.
 * @param coils what was computed, a coil a row, for the figures that were left to the build
 */
export function withoutBuild(sheet: Sheet, index: number, coils: readonly Coil[]): Sheet {
  const pickup = sheet.pickups[index];
  if (!pickup?.build || coils.length !== pickup.rows.length) return sheet;
  const rows = pickup.rows.map((r, i): Row => {
    const computed = coils[i] as Coil;
    return {
      ...r,
      coil: {
        resistance: r.coil.resistance ?? computed.resistance,
        inductance: r.coil.inductance ?? computed.inductance,
        capacitance: r.coil.capacitance ?? computed.capacitance,
        coreLoss: r.coil.coreLoss ?? computed.coreLoss,
      },
    };
  });
  const pickups = sheet.pickups.map((p, i) =>
    i === index ? { ...p, rows, reachBy: 'hand' as const, build: null } : p,
  );
  return { ...sheet, pickups };
}
