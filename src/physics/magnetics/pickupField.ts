/** From a build and its strings to what every string sees and every coil hears. */
import { chargeCloud } from './chargeCloud.ts';
import type { Line } from './chargeCloud.ts';
import { polePlaces } from './build.ts';
import type { PickupBuild } from './build.ts';
import { BuildError } from './checkBuild.ts';
import type { BuildFault } from './checkBuild.ts';
import { MU0 } from './constants.ts';
import { addCloudField, addCoilField, emptyLineField, resample } from './lineField.ts';
import type { LineField } from './lineField.ts';
import { STRING_STEEL } from './materials.ts';
import { solvePickup } from './solvePickup.ts';
import type { CoilFigures, SolvedPickup } from './solvePickup.ts';
import { fieldReach, magnetiseString, reachArea, reachWidth } from '../string/fieldReach.ts';
import type { MagnetisedString } from '../string/fieldReach.ts';
import { makeWire } from '../string/magnetisation.ts';
import type { Wire } from '../string/magnetisation.ts';
import { detuning, pull, staticPull } from '../string/pull.ts';
import type { Detuning, Pull, Stretched } from '../string/pull.ts';

/** A string over the pickup; string 1 first. */
export interface StringAbove extends Stretched {
  /** Place across, m, in the instrument's frame (the pickup's centre is 0; larger is treble). */
  readonly y: number;
  /** m. */
  readonly coreDiameter: number;
  readonly outerDiameter: number;
  /** Section that answers across the string over the core's section; 1 for a plain string. */
  readonly acrossSection: number;
}

/** Sampling of a string: 256 samples over 128 mm, where the field of a pickup has died away. */
export const STRING_STEP = 0.5e-3;
export const STRING_SIZE = 256;

export interface RowOnString {
  /** V·s/m per metre of string, turns and sense of the winding included; vertical and across. */
  readonly reachZ: Float64Array;
  readonly reachY: Float64Array;
  /** V per m/s of a string that moves as a whole: the bell's area. */
  readonly sensitivity: number;
  /** Full width at half maximum of the vertical reach, m. */
  readonly width: number;
  /** Flux density on the string over this row's centre, T. */
  readonly fluxDensity: number;
}

export interface StringResult {
  readonly rows: readonly RowOnString[];
  /** Largest |M|/Ms along the string, 0–1. */
  readonly saturation: number;
  /** Shift of the first partial, and how far the string is drawn down at rest, m. */
  readonly detuning: Detuning;
  readonly drawnDown: number;
  readonly pull: Pull;
}

export interface PickupField {
  /** Places of the samples from the pickup's centre, m, towards the nut. */
  readonly x: Float64Array;
  readonly strings: readonly StringResult[];
  readonly coils: readonly CoilFigures[];
  /** H between the coils. */
  readonly mutual: number;
}

/** Samples of every string's x; they lie evenly about the pickup's centre, so that a symmetric field stays one. */
export function stringSamples(): Float64Array {
  return Float64Array.from({ length: STRING_SIZE }, (_, i) => (i - 0.5 * (STRING_SIZE - 1)) * STRING_STEP);
}

/**
 * @param slant as the sheet's pickups have it, rad
 * @throws BuildError
 */
export function pickupField(build: PickupBuild, strings: readonly StringAbove[], slant = 0): PickupField {
  return fieldOnStrings(solvePickup(build), strings, slant);
}

/** The strings' part alone: enough when only gaps, strings or slant have changed. */
export function fieldOnStrings(
  pickup: SolvedPickup,
  strings: readonly StringAbove[],
  slant = 0,
  build: PickupBuild = pickup.build,
): PickupField {
  const heights = stringHeights(build, strings);
  const faults = checkHeights(build, strings, heights);
  if (faults.length > 0) throw new BuildError(faults);
  const x = stringSamples();
  return {
    x,
    strings: strings.map((string, i) => onString(pickup, string, heights[i]!, slant, x)),
    coils: pickup.coils.map((coil) => coil.figures),
    mutual: pickup.mutual,
  };
}

/** Height of every string's axis above z = 0, m: gaps to the undersides of the outer ones, the arc between. */
export function stringHeights(build: PickupBuild, strings: readonly StringAbove[]): readonly number[] {
  const places = strings.map((string) => string.y);
  const treble = Math.max(...places);
  const bass = Math.min(...places);
  const middle = 0.5 * (treble + bass);
  const half = 0.5 * (treble - bass);
  const R = build.fretboardRadius;
  return strings.map(({ y, outerDiameter }) => {
    const t = half > 0 ? (y - bass) / (2 * half) : 0.5;
    const chord = build.gapBass + t * (build.gapTreble - build.gapBass);
    // R(cos a − cos b) without the cancellation of two nearly equal roots.
    const rise = Number.isFinite(R)
      ? (half ** 2 - (y - middle) ** 2) /
        (Math.sqrt(R * R - half ** 2) + Math.sqrt(R * R - (y - middle) ** 2))
      : 0;
    return chord + rise + 0.5 * outerDiameter;
  });
}

/** As in checkBuild: nearer, the rings' charges show one by one. */
const NEAREST = 2e-4;

function checkHeights(
  build: PickupBuild,
  strings: readonly StringAbove[],
  heights: readonly number[],
): readonly BuildFault[] {
  const faults: BuildFault[] = [];
  strings.forEach(({ y, coreDiameter, outerDiameter }, i) => {
    if (!(coreDiameter > 0 && outerDiameter >= coreDiameter)) {
      const message = `String ${i + 1} must have a core within its diameter; got ${1e3 * coreDiameter} mm in ${1e3 * outerDiameter} mm.`;
      faults.push({ path: `strings[${i}]`, message });
    }
    build.rows.forEach((row, r) =>
      polePlaces(row).forEach((place, k) => {
        const { pole } = row;
        const wide = pole.kind === 'steel' && pole.head ? pole.head.diameter : pole.diameter;
        const left = heights[i]! - 0.5 * outerDiameter - row.heights[k]!;
        if (Math.abs(place - y) < 0.5 * wide && left < NEAREST) {
          const message = `Pole ${k + 1} must stay ${1e3 * NEAREST} mm below string ${i + 1}; got ${(1e3 * left).toFixed(2)} mm. Lower the pole or the pickup.`;
          faults.push({ path: `rows[${r}].heights[${k}]`, message });
        }
      }),
    );
  });
  return faults;
}

function onString(
  pickup: SolvedPickup,
  string: StringAbove,
  height: number,
  slant: number,
  x: Float64Array,
): StringResult {
  const { build, coils, magnets, coupling } = pickup;
  const line: Line = { y: string.y, z: height, turn: -slant };
  // Where each row's centre line crosses the string.
  const centres = build.rows.map((row) => row.offset / Math.cos(slant) - string.y * Math.tan(slant));
  const nodes = fieldNodes(centres, height - Math.max(...build.rows.flatMap((row) => row.heights)), x);
  const sources = [magnets, ...coils];
  const cloud = chargeCloud(
    coupling,
    sources.map(({ density }) => density),
    line,
    sources.map(({ second }) => second),
  );
  const fields = sources.map((_, s) => {
    const field = emptyLineField(nodes.length);
    addCloudField(cloud, s, line, nodes, field);
    if (s > 0) addCoilField(coils[s - 1]!.filaments, line, nodes, field);
    return resample(field, nodes, x);
  });
  const wire = wireFor(string.coreDiameter);
  const magnetised = magnetiseString(wire, fields[0]!);
  const forces = pull(magnetised, string.acrossSection);
  const stretched: Stretched = string;
  return {
    rows: coils.map((coil, r) => {
      const reach = fieldReach(magnetised, fields[r + 1]!, string.acrossSection);
      const scale = coil.figures.turns * coil.direction;
      const reachZ = reach.z.map((value) => value * scale);
      return {
        reachZ,
        reachY: reach.y.map((value) => value * scale),
        sensitivity: reachArea(reachZ, STRING_STEP),
        width: reachWidth(reachZ, STRING_STEP),
        fluxDensity: magnitudeAt(fields[0]!, centres[r]!),
      };
    }),
    saturation: saturationOf(magnetised),
    detuning: detuning(forces, STRING_STEP, stretched, 1),
    drawnDown: staticPull(forces, STRING_STEP, stretched),
    pull: forces,
  };
}

const wires = new Map<number, Wire>();

function wireFor(coreDiameter: number): Wire {
  let wire = wires.get(coreDiameter);
  if (!wire) {
    const { susceptibility, saturation } = STRING_STEEL;
    wire = makeWire(0.5 * coreDiameter, susceptibility, saturation, STRING_STEP, STRING_SIZE);
    if (wires.size >= 24) wires.clear();
    wires.set(coreDiameter, wire);
  }
  return wire;
}

/**
 * Field points: close over the poles, wider outside, so that a spline loses less than 1e-3 of the peak. They are laid by
 * equal shares of a density, so that a symmetric pickup gets symmetric points.
 */
function fieldNodes(centres: readonly number[], gap: number, x: Float64Array): Float64Array {
  const close = Math.min(1e-3, Math.max(0.4e-3, 0.35 * gap));
  const last = x.length - 1;
  const share = new Float64Array(x.length);
  for (let i = 1; i <= last; i++) {
    const middle = 0.5 * (x[i]! + x[i - 1]!);
    const away = Math.min(...centres.map((centre) => Math.abs(middle - centre)));
    const step = Math.max(close, Math.min(8e-3, 0.14 * (away - 5e-3) + close));
    share[i] = share[i - 1]! + (x[i]! - x[i - 1]!) / step;
  }
  const count = Math.ceil(share[last]!);
  const nodes = new Float64Array(count + 1);
  let i = 1;
  for (let k = 0; k <= count; k++) {
    const wanted = (k * share[last]!) / count;
    while (i < last && share[i]! < wanted) i++;
    const t = (wanted - share[i - 1]!) / (share[i]! - share[i - 1]!);
    nodes[k] = x[i - 1]! + t * (x[i]! - x[i - 1]!);
  }
  nodes[count] = x[last]!;
  return nodes;
}

function magnitudeAt(field: LineField, at: number): number {
  const i = Math.min(STRING_SIZE - 1, Math.max(0, Math.round(at / STRING_STEP + 0.5 * (STRING_SIZE - 1))));
  return MU0 * Math.hypot(field.Hx[i]!, field.Hy[i]!, field.Hz[i]!);
}

function saturationOf(string: MagnetisedString): number {
  let most = 0;
  for (const M of string.state.M) most = Math.max(most, Math.abs(M));
  return most / string.wire.saturation;
}
