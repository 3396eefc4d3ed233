/** From a build and its strings to what every string sees and every coil hears. */
import type { BuiltPickup } from '../build/build.ts';
import { BuildError, checkBuild } from '../build/checkBuild.ts';
import type { BuildFault } from '../build/checkBuild.ts';
import { MU0 } from '../../numerics/constants.ts';
import type { LoopCoupling } from '../pickup/cover.ts';
import { halfMaximumWidth, stretchOf, tipWidths } from './fieldWidth.ts';
import { stringOnLoops } from './stringOnLoops.ts';
import { addCoilField, addLineField, coilCloudFields, emptyLineField, resample } from './lineField.ts';
import type { LineField } from './lineField.ts';
import { solvePickup } from '../pickup/solvePickup.ts';
import { steelLoads } from '../pickup/steelLoad.ts';
import { steelWord } from '../../../shape/steel.ts';
import type { CoilFigures, SolvedCoil, SolvedPickup } from '../pickup/solvePickup.ts';
import { highestPart, stringHeights } from './stringHeights.ts';
import { checkHeights, STRING_SIZE, STRING_STEP, stringOverPickup, stringSamples } from './stringLine.ts';
import type { StringAbove, StringOverPickup } from './stringLine.ts';
import { fluxCurves } from './stringCurve.ts';
import { fieldReach, sensitivityOf, stringFlux } from './fieldReach.ts';
import { reachArea, reachSpan } from './reachSpan.ts';
import { STRAIGHT, type FluxCurve } from '../../string/fluxCurve.ts';
import { detuning, pull, staticPull } from './pull.ts';
import type { Detuning, Pull } from './pull.ts';
import { usedUp } from '../../string/steelLaw.ts';

/** What one row's coil hears of one string; arrays at the samples of `PickupField.x`. */
export interface RowOnString {
  /** V·s/m per metre of string, turns and sense of the winding included; vertical and across. */
  readonly reachZ: Float64Array;
  readonly reachY: Float64Array;
  /** V per m/s of a string that moves as a whole: the bell's area. */
  readonly sensitivity: number;
  /** Share of that which the cores bring at low frequency; it falls with them, see sensitivityFactor. */
  readonly coreShare: number;
  /** Of the vertical reach, m, and its middle, m from the pickup's centre; see reachSpan. */
  readonly width: number;
  readonly middle: number;
  /** Flux density on the string over this row's centre, T. */
  readonly fluxDensity: number;
  /** Full width at half maximum of Bz along the string, and 1 mm above the pole's tip (see tipWidths), m. */
  readonly fieldWidth: number;
  readonly tipWidth: number;
  /** How the sensitivity changes as the string moves towards the pickup. */
  readonly curve: FluxCurve;
}

/** One string over the pickup; rows in the build's order. */
export interface StringResult {
  readonly rows: readonly RowOnString[];
  /** Largest |M|/Ms along the string, of the core or the wrap, 0–1. */
  readonly saturation: number;
  /** Shift of the first partial, and how far the string is drawn down at rest, m. */
  readonly detuning: Detuning;
  readonly drawnDown: number;
  readonly pull: Pull;
  /** Flux that it sends through each loop of a cover as it moves upwards, Wb/m; null without one. */
  readonly loops: Float64Array | null;
}

/** What a pickup is to the strings over it, string 1 first, and to the circuit. */
export interface PickupField {
  /** Places of the samples from the pickup's centre, m, towards the nut. */
  readonly x: Float64Array;
  readonly strings: readonly StringResult[];
  readonly coils: readonly CoilFigures[];
  /** H between the coils. */
  readonly mutual: number;
  /** Loops of a cover: L/R, s, and what each coil is to them; null without one. */
  readonly loops: { readonly tau: Float64Array; readonly coils: readonly LoopCoupling[] } | null;
  /** Things a maker should know, in words; empty when all is well. */
  readonly warnings: readonly string[];
}

/**
 * A pickup from its build to what its coils hear.
 *
 * @param strings string 1 first
 * @param slant as the sheet's pickups have it, rad
 * @throws BuildError naming every fault of the build
 */
export function pickupField(build: BuiltPickup, strings: readonly StringAbove[], slant = 0): PickupField {
  const faults = checkPickup(build, strings);
  if (faults.length > 0) throw new BuildError(faults);
  return fieldOnStrings(solvePickup(build), strings, slant);
}

/** Every fault of a build, and once it has none, of the strings over it; nothing is solved for it. */
export function checkPickup(build: BuiltPickup, strings: readonly StringAbove[]): readonly BuildFault[] {
  const faults = checkBuild(build);
  return faults.length > 0 ? faults : checkHeights(build, strings, stringHeights(build, strings));
}

/** The strings' part alone: enough when only gaps, strings or slant have changed. */
export function fieldOnStrings(
  pickup: SolvedPickup,
  strings: readonly StringAbove[],
  slant = 0,
  build: BuiltPickup = pickup.build,
): PickupField {
  const heights = stringHeights(build, strings);
  const faults = checkHeights(build, strings, heights);
  if (faults.length > 0) throw new BuildError(faults);
  return {
    x: stringSamples(),
    strings: strings.map((string, i) => onString(pickup, string, heights[i]!, slant)),
    coils: pickup.coils.map((coil) => coil.figures),
    mutual: pickup.mutual,
    loops: pickup.cover && { tau: pickup.cover.modes.tau, coils: pickup.cover.coils },
    warnings: warningsOf(pickup),
  };
}

/** Share of its saturation from which on steel leads clearly less than it is computed to: its permeability has fallen to a third. */
const FULL = 0.7;

/** Magnets that others drive past their coercivity, and steel that carries too much. */
function warningsOf(pickup: SolvedPickup): readonly string[] {
  const { build, built, magnets } = pickup;
  const named = new Set<string>();
  built.materials.forEach((material, b) => {
    if (material.kind !== 'magnet') return;
    const { H } = magnets.working[b]!;
    if (H > -material.strength * material.material.coercivity) return;
    const place = built.places[b];
    named.add(place ? `The rods of row ${place.row + 1}` : 'A bar');
  });
  const full = steelLoads(pickup).flatMap(({ carries, saturation }, i) => {
    if (carries < FULL * saturation) return [];
    const word = steelWord(build.steel![i]!, build.rows);
    return `The steel ${word} would carry ${carries.toFixed(1)} T, and its steel saturates at ${saturation.toFixed(1)} T, which is not computed: it leads less than is shown. Make it thicker, or the magnets weaker.`;
  });
  return [
    ...[...named].map(
      (what) =>
        `${what} must not face a stronger magnet, nor lie thin and alone in the open: it is driven past its coercivity and would lose magnetisation.`,
    ),
    ...new Set(full),
    ...(magnets.overrun ? [LEFT_LINEAR] : []),
    ...(magnets.byMeans ? [BY_MEANS] : []),
  ];
}

const LEFT_LINEAR =
  'Poles of steel carry more than a quarter of what they can, and no working point was found on their curve: they are computed as if they did not saturate, which may show up to a fifth too much field. Change their diameter or the magnet a little.';

const BY_MEANS =
  'A rod found no working point zone by zone: each rod is computed by one for the whole of it, which may show up to a sixth too much or too little field. Charge the rods, or leave more room to the stronger magnet.';

function onString(pickup: SolvedPickup, string: StringAbove, height: number, slant: number): StringResult {
  const over = stringOverPickup(pickup, string, height, slant, true);
  const forces = pull(over.magnetised);
  const room = height - 0.5 * string.outerDiameter - highestPart(pickup.build);
  const heard = heardRows(pickup, over, forces, room);
  const tips = tipWidths(pickup, string.y, slant);
  return {
    rows: over.centres.map((centre, r) => ({
      ...(heard[r] ?? UNHEARD),
      fluxDensity: magnitudeAt(over.magnetised.field, centre),
      fieldWidth: halfMaximumWidth(over.x, over.magnetised.field.Hz, ...stretchOf(over.centres, r)),
      tipWidth: tips[r]!,
    })),
    saturation: saturation(over),
    detuning: detuning(forces, STRING_STEP, string, 1),
    drawnDown: staticPull(forces, STRING_STEP, string),
    pull: forces,
    loops: pickup.cover && stringOnLoops(pickup.cover, over, forces.byZ),
  };
}

type HeardRow = Omit<RowOnString, 'fluxDensity' | 'fieldWidth' | 'tipWidth'>;

/** Where there is no coil. */
const UNHEARD: HeardRow = {
  reachZ: new Float64Array(STRING_SIZE),
  reachY: new Float64Array(STRING_SIZE),
  sensitivity: 0,
  coreShare: 0,
  width: 0,
  middle: 0,
  curve: STRAIGHT,
};

/** What every coil hears. @param room from the highest pole to the string, m */
function heardRows(
  pickup: SolvedPickup,
  over: StringOverPickup,
  forces: Pull,
  room: number,
): readonly HeardRow[] {
  const { coils } = pickup;
  if (coils.length === 0) return [];
  const cores = coilCloudFields(over.cloud, coils.length, over.line, over.nodes);
  const rows = coils.map((coil, r) => rowOnString(over, forces, coil, cores[r]!));
  const curves = fluxCurves(
    over,
    coils.map(({ filaments }) => filaments),
    rows.map(({ flux, sensitivity }, r) => ({ flux, slope: sensitivity / turnsOf(coils[r]!) })),
    room,
  );
  return rows.map(({ flux: _, ...row }, r) => ({ ...row, curve: curves[r]! }));
}

/**
 * Width of what one row's coil hears of one string (both from 0), m: the same as fieldOnStrings finds, in about a tenth of the
 * time for six strings; 0 without a coil.
 * @throws BuildError as fieldOnStrings does
 */
export function widthOnString(
  pickup: SolvedPickup,
  strings: readonly StringAbove[],
  { string, row }: { readonly string: number; readonly row: number },
  slant = 0,
  build: BuiltPickup = pickup.build,
): number {
  const heights = stringHeights(build, strings);
  const faults = checkHeights(build, strings, heights);
  if (faults.length > 0) throw new BuildError(faults);
  const coil = pickup.coils[row];
  if (!coil) return 0;
  const over = stringOverPickup(pickup, strings[string]!, heights[string]!, slant, true);
  const cores = coilCloudFields(over.cloud, pickup.coils.length, over.line, over.nodes);
  return reachSpan(reachOf(over, coil, cores[row]!).reach.z, STRING_STEP).width;
}

/** With the sense of the winding. */
const turnsOf = ({ figures, direction }: SolvedCoil): number => figures.turns * direction;

/** @param core the field of the cores' charges at the nodes; the coil's own is added to it */
function rowOnString(
  over: StringOverPickup,
  forces: Pull,
  coil: SolvedCoil,
  core: LineField,
): Omit<HeardRow, 'curve'> & { readonly flux: number } {
  const { nodes, x, magnetised } = over;
  const { air, heard, reach } = reachOf(over, coil, core);
  const scale = turnsOf(coil);
  const reachZ = reach.z.map((value) => value * scale);
  const sensitivity = reachArea(reachZ, STRING_STEP);
  const bare = sensitivityOf(magnetised, forces.byZ, resample(air, nodes, x));
  return {
    reachZ,
    reachY: reach.y.map((value) => value * scale),
    sensitivity,
    coreShare: sensitivity === 0 ? 0 : 1 - (scale * bare) / sensitivity,
    flux: stringFlux(magnetised, heard),
    ...reachSpan(reachZ, STRING_STEP),
  };
}

/** What the coil's field at the string is by itself, and with its cores, which `core` becomes; and its reach for one turn. */
function reachOf({ line, nodes, x, magnetised }: StringOverPickup, coil: SolvedCoil, core: LineField) {
  const air = emptyLineField(nodes.length);
  addCoilField(coil.filaments, line, nodes, air);
  addLineField(air, core);
  const heard = resample(core, nodes, x);
  return { air, heard, reach: fieldReach(magnetised, heard) };
}

function magnitudeAt(field: LineField, at: number): number {
  const nearest = Math.round(at / STRING_STEP + 0.5 * (STRING_SIZE - 1));
  const i = Math.min(STRING_SIZE - 1, Math.max(0, nearest));
  return MU0 * Math.hypot(field.Hx[i]!, field.Hy[i]!, field.Hz[i]!);
}

function saturation({ magnetised }: StringOverPickup): number {
  let most = 0;
  for (const M of magnetised.state.M) most = Math.max(most, Math.abs(M));
  return usedUp(magnetised.wire.metal.law, most);
}
