/**
 * How wide a pickup's field is over each row of poles: what filings show, and not what the string says, which is the reach.
 */
import { faceUnder } from '../../../shape/faces.ts';
import { polePlaces, polesStanding, type Standing } from '../../../shape/poleRow.ts';
import { poleUnder } from '../../../shape/singlePole.ts';
import type { BuiltPickup, BuiltRow } from '../build/build.ts';
import { chargeCloud, type ChargeCloud, type Line } from '../charges/chargeCloud.ts';
import { sourcesOf, type ChargedPickup } from '../pickup/chargedPickup.ts';
import { cloudFields, spline } from './lineField.ts';

/** Height over a pole's tip at which a probe or a film shows its field, m. */
export const OVER_TIP = 1e-3;

/** Points over a tip: close over the pole and a little beyond it, wider outside, m. */
const CLOSE = 0.7e-3;
const WIDE = 2e-3;
const CLOSE_BESIDE = 3.5e-3;
const WIDE_BESIDE = 10e-3;

/**
 * Full width at half maximum of a component of the field along a line, same unit as x: between the outermost places of a
 * stretch at which it is half as large as its largest value there, in the same sense. Where it is still above half at an end
 * of the stretch it is followed beyond. A dip in the middle takes nothing away.
 *
 * @param x rising; @param values of any unit, one a place
 * @param from @param to of the stretch, unit of x
 * @returns 0 for a field of nothing
 * Digits: by a spline through the samples; of a bell eight samples wide 1e-3.
 */
export function halfMaximumWidth(
  x: Float64Array,
  values: Float64Array,
  from = -Infinity,
  to = Infinity,
): number {
  const fine = between(x);
  const out = new Float64Array(fine.length);
  spline(x, values, fine, out);
  return widthOfSamples(fine, out, from, to);
}

/** Places for a spline's values, so many to a step. */
const FINER = 6;
const between = (x: Float64Array): Float64Array =>
  Float64Array.from({ length: FINER * (x.length - 1) + 1 }, (_, k) => {
    const i = Math.floor(k / FINER);
    const share = (k % FINER) / FINER;
    return share === 0 ? x[i]! : x[i]! + share * (x[i + 1]! - x[i]!);
  });

function widthOfSamples(x: Float64Array, values: Float64Array, from: number, to: number): number {
  const last = x.length - 1;
  let left = 0;
  let right = last;
  while (left < right && x[left]! < from) left++;
  while (right > left && x[right]! > to) right--;
  let peak = 0;
  for (let i = left; i <= right; i++) if (Math.abs(values[i]!) > Math.abs(peak)) peak = values[i]!;
  if (peak === 0) return 0;
  const share = (i: number): number => values[i]! / peak - 0.5;
  while (share(left) < 0) left++;
  while (share(right) < 0) right--;
  while (left > 0 && share(left - 1) >= 0) left--;
  while (right < last && share(right + 1) >= 0) right++;
  const crossing = (inside: number, outside: number): number => {
    const at = x[inside]!;
    const beyond = x[outside];
    if (beyond === undefined) return at;
    return at + (beyond - at) * (share(inside) / (share(inside) - share(outside)));
  };
  return crossing(right, right + 1) - crossing(left, left - 1);
}

/** The part of the string over each row: to half way to the next one, or all of it. @param centres as in StringOverPickup, m */
export const stretchOf = (centres: readonly number[], r: number): readonly [from: number, to: number] => {
  const others = centres.filter((_, other) => other !== r).map((other) => 0.5 * (other + centres[r]!));
  return [
    Math.max(-Infinity, ...others.filter((middle) => middle < centres[r]!)),
    Math.min(Infinity, ...others.filter((middle) => middle >= centres[r]!)),
  ];
};

/** Of the charges alone: asked for again at other gaps. */
const kept = new WeakMap<object, Map<string, readonly number[]>>();

/**
 * Full width at half maximum of Bz `OVER_TIP` above the pole of each row that stands nearest to a string, or above its blade, m, along the string's
 * direction through the pole's middle. Gaps have no part in it.
 *
 * @param y of the string, m; @param slant as the sheet's pickups have it, rad
 * Digits: 1 %, of alnico 1.5 % as its field [tests/physics/magnetics/overPickup/field-width.test.ts].
 */
export function tipWidths(pickup: ChargedPickup, y: number, slant: number): readonly number[] {
  const { build, magnets } = pickup;
  // Over a blade the string itself says where.
  const poles = build.rows.map((row) => (row.heights.length > 0 ? nearestPole(row, y, slant) : -1));
  const known = kept.get(magnets) ?? new Map<string, readonly number[]>();
  kept.set(magnets, known);
  const blades = poles.includes(-1);
  const key = `${slant} ${poles.join(' ')}${blades ? ` ${y}` : ''}`;
  // Most pickups are their own mirror image, and so are their fields.
  const image =
    slant === 0 && !blades && isMirrored(build)
      ? poles.map((k, r) => build.rows[r]!.heights.length - 1 - k)
      : poles;
  const found =
    known.get(key) ?? known.get(`${slant} ${image.join(' ')}`) ?? widthsOver(pickup, poles, y, slant);
  known.set(key, found);
  return found;
}

const isMirrored = ({ rows, bars, steel = [] }: BuiltPickup): boolean =>
  [...bars, ...steel].every(({ centre }) => centre.y === 0) &&
  rows.every((row) => {
    const poles = row.heights.map((height, k) => JSON.stringify([height, poleUnder(row, k)]));
    return poles.every((pole, k) => pole === poles.at(-1 - k));
  });

/** Across the line along the string, as it is in the turned frame of a Line, m. */
const acrossLine = ({ offset }: BuiltRow, place: number, slant: number): number =>
  place * Math.cos(slant) + offset * Math.sin(slant);

function nearestPole(row: BuiltRow, y: number, slant: number): number {
  const away = ({ y: place }: Standing): number => Math.abs(acrossLine(row, place, slant) - y);
  return polesStanding(row).reduce((one, other) => (away(other) < away(one) ? other : one)).k;
}

/** Poles over which one line runs share its cloud. */
function widthsOver(
  pickup: ChargedPickup,
  poles: readonly number[],
  y: number,
  slant: number,
): readonly number[] {
  const { build } = pickup;
  const clouds = new Map<string, ChargeCloud>();
  return build.rows.map((row, r) => {
    const place = polePlaces(row)[poles[r]!] ?? (y - row.offset * Math.sin(slant)) / Math.cos(slant);
    const line: Line = {
      y: acrossLine(row, place, slant),
      z: faceUnder(build, r, poles[r]!, place) + OVER_TIP,
      turn: -slant,
    };
    const key = `${line.y} ${line.z}`;
    const cloud = clouds.get(key) ?? chargeCloud(sourcesOf(pickup, false), line);
    clouds.set(key, cloud);
    const middle = row.offset * Math.cos(slant) - place * Math.sin(slant);
    const x = pointsOver(middle, 0.5 * poleUnder(row, poles[r]!).diameter);
    const [, , Hz] = cloudFields(cloud, line, 0, x);
    const centres = build.rows.map(({ offset }) => middle + (offset - row.offset) / Math.cos(slant));
    return halfMaximumWidth(x, Hz!, ...stretchOf(centres, r));
  });
}

/** Evenly about a pole, so that a symmetric field is met by symmetric points; the middle is one of them. */
function pointsOver(middle: number, radius: number): Float64Array {
  const side: number[] = [];
  for (let d = CLOSE; d < radius + WIDE_BESIDE; d += d < radius + CLOSE_BESIDE ? CLOSE : WIDE) side.push(d);
  return Float64Array.from([...side.toReversed().map((d) => -d), 0, ...side], (d) => middle + d);
}
