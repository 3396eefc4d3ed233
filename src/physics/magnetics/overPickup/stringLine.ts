/** Where the strings run over a pickup, and what the magnets make of them there. */
import { chargeCloud } from '../charges/chargeCloud.ts';
import type { ChargeCloud, Line } from '../charges/chargeCloud.ts';
import { topDiameter } from '../../../shape/pole.ts';
import { polesStanding } from '../../../shape/poleRow.ts';
import { poleUnder } from '../../../shape/singlePole.ts';
import { blockTop } from '../../../shape/faces.ts';
import { blocksOf } from '../../../shape/parts.ts';
import { highestPart } from './stringHeights.ts';
import type { BuiltPickup } from '../build/build.ts';
import { coverTop } from '../../../shape/cover.ts';
import { mm, type BuildFault } from '../build/faults.ts';
import { addCloudField, emptyLineField, resample } from './lineField.ts';
import type { LineField } from './lineField.ts';
import { sourcesOf, type ChargedPickup, type Charges } from '../pickup/chargedPickup.ts';
import { magnetiseString } from './fieldReach.ts';
import type { MagnetisedString } from './fieldReach.ts';
import { makeWire } from '../../string/magnetisation.ts';
import type { Wire } from '../../string/magnetisation.ts';
import type { WrapMetal } from '../../../sheet/sheet.ts';
import type { Stretched } from './pull.ts';
import { STRING_STEEL, WRAPS } from '../../string/metals.ts';
import { Kept } from '../../numerics/kept.ts';
import { plainMetal, woundMetal } from '../../string/stringMetal.ts';

/** A string over the pickup; string 1 first. */
export interface StringAbove extends Stretched {
  /** Place across, m, in the instrument's frame (the pickup's centre is 0; larger is treble). */
  readonly y: number;
  /** m. */
  readonly coreDiameter: number;
  readonly outerDiameter: number;
  /** Of what it is wound; null for a plain string. */
  readonly wrap: WrapMetal | null;
}

/** Sampling of a string: 256 samples over 128 mm, where the field of a pickup has died away. */
export const STRING_STEP = 0.5e-3;
export const STRING_SIZE = 256;

/** Samples of every string's x, m; they lie evenly about the pickup's centre, so that a symmetric field stays one. */
export function stringSamples(): Float64Array {
  return Float64Array.from({ length: STRING_SIZE }, (_, i) => (i - 0.5 * (STRING_SIZE - 1)) * STRING_STEP);
}

/** As in checkPlaces: nearer, the rings' charges show one by one. */
const NEAREST = 2e-4;

/**
 * Whether the strings clear poles and cover.
 *
 * @param heights of the strings' axes as stringHeights gives them, m
 * @returns faults with paths in the build, or `strings[i]`; empty when all is well
 */
export function checkHeights(
  build: BuiltPickup,
  strings: readonly StringAbove[],
  heights: readonly number[],
): readonly BuildFault[] {
  const faults: BuildFault[] = [];
  const lid = coverTop(build);
  strings.forEach(({ y, coreDiameter, outerDiameter }, i) => {
    if (!(coreDiameter > 0 && outerDiameter >= coreDiameter)) {
      const message = `String ${i + 1} must have a core within its diameter; got ${mm(coreDiameter)} in ${mm(outerDiameter)}.`;
      faults.push({ path: `strings[${i}]`, message });
    }
    const above = heights[i]! - 0.5 * outerDiameter - lid;
    if (above < NEAREST) {
      const message = `The cover must stay ${mm(NEAREST)} below string ${i + 1}; got ${mm(above)}. Lower the pickup, or the cover.`;
      faults.push({ path: 'cover.clearance', message });
    }
    checkUnder(faults, build, i, y, heights[i]! - 0.5 * outerDiameter);
    build.rows.forEach((row, r) =>
      polesStanding(row).forEach(({ y: place, k, top }) => {
        const wide = topDiameter(poleUnder(row, k));
        const left = heights[i]! - 0.5 * outerDiameter - top;
        if (Math.abs(place - y) < 0.5 * wide && left < NEAREST) {
          const message = `Pole ${k + 1} must stay ${mm(NEAREST)} below string ${i + 1}; got ${mm(left)}. Lower the pole or the pickup.`;
          faults.push({ path: `rows[${r}].heights[${k}]`, message });
        }
      }),
    );
  });
  return faults;
}

/** @param under z of the string's underside, m */
function checkUnder(faults: BuildFault[], build: BuiltPickup, i: number, y: number, under: number): void {
  const names = [['bars', 'A bar', build.bars] as const, ['steel', 'Steel', build.steel ?? []] as const];
  for (const [name, what, blocks] of names)
    blocks.forEach((block, b) => {
      const left = under - blockTop({ rows: [], bars: [block] }, y);
      if (left >= NEAREST) return;
      const message = `${what} must stay ${mm(NEAREST)} below string ${i + 1}; got ${mm(left)}. Lower it or the pickup.`;
      faults.push({ path: `${name}[${b}].centre.z`, message });
    });
}

/** A string in the magnets' field, with what is needed to add the coils' fields at the same points. */
export interface StringOverPickup {
  readonly line: Line;
  /** Where each row's centre line crosses it, m from the pickup's centre. */
  readonly centres: readonly number[];
  /** Points at which fields are evaluated, and those to which they are interpolated. */
  readonly nodes: Float64Array;
  readonly x: Float64Array;
  /** Charges of the magnets (set 0) and, when asked for, of every coil. */
  readonly cloud: ChargeCloud;
  readonly magnetised: MagnetisedString;
}

/** What the magnets make of a string is the same whatever coil is wound beside them, and kept as long as they are; at so many places. */
const magnetisedOf = new WeakMap<Charges, Kept<MagnetisedString>>();
const KEPT_STRINGS = 16;

/**
 * @param slant as the sheet's pickups have it, rad
 * @param withCoils whether the cloud is to hold the coils' charges
 */
export function stringOverPickup(
  pickup: ChargedPickup,
  string: StringAbove,
  height: number,
  slant: number,
  withCoils: boolean,
): StringOverPickup {
  const { build } = pickup;
  const x = stringSamples();
  const line: Line = { y: string.y, z: height, turn: -slant };
  const centres = build.rows.map((row) => row.offset / Math.cos(slant) - string.y * Math.tan(slant));
  const nodes = fieldNodes([...centres, ...edgesNear(build, line)], height - highestPart(build), x);
  const cloud = chargeCloud(sourcesOf(pickup, withCoils), line);
  const kept = magnetisedOf.get(pickup.magnets) ?? new Kept<MagnetisedString>(KEPT_STRINGS);
  magnetisedOf.set(pickup.magnets, kept);
  const magnetised = kept.of(JSON.stringify([line, string]), () =>
    magnetiseString(wireFor(string), resample(fieldOfSet(cloud, 0, line, nodes), nodes, x)),
  );
  return { line, centres, nodes, x, cloud, magnetised };
}

/** Of a bar or steel that reaches farther than this to either side, and closer than this under the string, the edges count, m. */
const WIDE = 5e-3;
const NEAR = 8e-3;

/** Where edges of blocks cross under a line, m along it: as over a bar that lies alone on the bench. */
const edgesNear = (build: BuiltPickup, { y, z, turn }: Line): readonly number[] =>
  blocksOf(build).flatMap(({ size, centre }) =>
    0.5 * size.x > WIDE && z - centre.z - 0.5 * size.z < NEAR
      ? [-1, 1].map((side) => (centre.x + 0.5 * side * size.x) / Math.cos(turn) + y * Math.tan(turn))
      : [],
  );

/** Field of one set of a cloud at the nodes. */
function fieldOfSet(cloud: ChargeCloud, set: number, line: Line, nodes: Float64Array): LineField {
  const field = emptyLineField(nodes.length);
  addCloudField(cloud, set, line, nodes, field);
  return field;
}

/** Of the last strings. */
const wires = new Kept<Wire>(24);

function wireFor({ coreDiameter, outerDiameter, wrap }: StringAbove): Wire {
  const key = `${coreDiameter} ${outerDiameter} ${wrap ?? ''}`;
  return wires.of(key, () => {
    const { susceptibility, saturation } = STRING_STEEL;
    const core = plainMetal(0.5 * coreDiameter, susceptibility, saturation);
    const metal = wrap ? woundMetal(core, 0.5 * outerDiameter, WRAPS[wrap]) : core;
    return makeWire(metal, STRING_STEP, STRING_SIZE);
  });
}

/**
 * Field points: close over the poles, wider outside, so that a spline loses less than 1e-3 of the peak. They are laid by
 * equal shares of a density, so that a symmetric pickup gets symmetric points.
 *
 * @param coarse how much further apart than that
 */
export function fieldNodes(
  centres: readonly number[],
  gap: number,
  x: Float64Array,
  coarse = 1,
): Float64Array {
  const close = Math.min(1e-3, Math.max(0.4e-3, 0.35 * gap));
  const last = x.length - 1;
  const share = new Float64Array(x.length);
  for (let i = 1; i <= last; i++) {
    const middle = 0.5 * (x[i]! + x[i - 1]!);
    let away = Infinity;
    for (let k = 0; k < centres.length; k++) away = Math.min(away, Math.abs(middle - centres[k]!));
    const step = coarse * Math.max(close, Math.min(8e-3, 0.14 * (away - 5e-3) + close));
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
