/** Static charges of a set of bodies, with every alnico magnet on its demagnetisation curve. */
import type { Coupling } from './assemble.ts';
import { alnicoRods } from './alnicoRods.ts';
import { meanMagnetisation } from './bodyMean.ts';
import { solveManyCharges } from './chargeSolver.ts';
import { MU0 } from '../../numerics/constants.ts';
import { chordLaw, chordTo } from '../materials/demagnetisation.ts';
import type { LinearLaw } from '../materials/demagnetisation.ts';
import { steelChord } from '../materials/zoneLaw.ts';
import { fieldOfOthers } from './fieldOfOthers.ts';
import { inducedLoad, remanenceLoad } from './load.ts';
import type { BodyMaterial, WorkingPoint } from '../materials/bodyMaterial.ts';
import { secondHarmonic } from './secondHarmonic.ts';
import { steelBoxes } from './steelBoxes.ts';

/** Charges on all bodies, and what the magnets ended on. */
export interface MagnetSolution {
  /** Density of every unknown, A/m. */
  readonly density: Float64Array;
  /** Their second harmonics, see secondHarmonic. */
  readonly second: Float64Array;
  /** The linear law that every body ended on; of an alnico rod, the chord to its mean B and H. */
  readonly laws: readonly LinearLaw[];
  /** Of every body. */
  readonly working: readonly WorkingPoint[];
  /** Bodies of steel that are on their curves, by their numbers; none when left out. */
  readonly onCurve?: readonly number[];
  /** That poles which saturate were left linear, since they did not settle on their curves. */
  readonly overrun?: boolean;
  /** That rods have the chord to their mean B and H alone, since the zones of one did not settle. */
  readonly byMeans?: boolean;
}

/** Where to begin: the law of every body, and charges with these, A/m. */
export interface Begun {
  readonly laws: readonly LinearLaw[];
  readonly density: Float64Array;
}

/** A chord's permeability settles to this; the field follows it some ten times less closely. */
const SETTLED = 1e-4;
/** And those of a box's zones, by change: half a hundredth of a chord, of which the field is a thousandth. */
const ZONES_SETTLED = 5e-4;
/** The chord of a rod only has to be near: its zones see to the rest. */
const NEAR = 0.02;
/** Charges of rods on their curves settle to this share of the largest charge, and the field with them. */
const AGREED = 2e-4;
const MOST_ROUNDS = 80;
/** Rods that all but touch may answer each other's changes with ever greater ones: a change so many times the least ends it. */
const GROWN = 10;

/**
 * Share of the way to the next chord. Pickups settle in three or four whole steps; a weak magnet that a strong one drives
 * past its coercivity swings between two chords, and settles in small ones.
 */
function relaxation(round: number): number {
  return round < 6 ? 1 : round < 12 ? 0.5 : 0.2;
}

/** Residual of the charges before anything has settled, and at last: ten times below what SETTLED sees. */
const ROUGHEST = 1e-3;
const ROUGH = 1e-5;
/** Residual over what still changes. */
const WORTH = 0.02;
/** Load line to start from: a rod four times as long as thick (B/µ0H about −10). */
const FIRST_SLOPE = -10 * MU0;

/**
 * @param begun laws to begin with
 * @param zones whether rods are put on their curves zone by zone
 * @throws RangeError when the bodies overlap, when a magnet's working point does not settle, or rods drive each other on
 * Each round solves a linear problem and moves every curved magnet's chord to its mean load line. Once the chords of the
 * alnico rods are near they stay, and every rod is put on its curve, zone by zone, in the field that all the others make
 * where it stands (alnicoRods); the charges that this adds act on the others in the next round, until nothing changes.
 */
export function solveMagnets(
  coupling: Coupling,
  materials: readonly BodyMaterial[],
  begun?: Pick<Begun, 'laws'>,
  zones = true,
): MagnetSolution {
  let laws = begun?.laws ?? firstLaws(materials);
  const rods = alnicoRods(coupling, materials, zones);
  const boxes = steelBoxes(coupling, materials);
  const curved = materials.some(
    (m) => m.kind === 'steel' || (m.kind === 'magnet' && m.material.law === 'curved'),
  );
  let near = rods.places.length === 0;
  let tolerance = curved ? ROUGHEST : undefined;
  let least = Infinity;
  for (let round = 0; round < MOST_ROUNDS; round++) {
    // While something still moves, a rough solution shows where to.
    let chords = solveLinear(coupling, materials, laws, rods.added, tolerance);
    const solved = chords;
    const working = materials.map((m, b) => workingPoint(coupling, solved, b, m, laws[b]!));
    const ofBoxes = boxes.next(solved, laws);
    const next = materials.map((m, b) =>
      near && rods.places.includes(b)
        ? laws[b]!
        : (ofBoxes.get(b) ?? nextLaw(m, laws[b]!, working[b]!, relaxation(round))),
    );
    const moved = next.map((law, b) => change(laws[b]!, law));
    const ofRods = near ? rods.settle(solved) : Infinity;
    const fine = tolerance === undefined || tolerance <= ROUGH;
    if (
      fine &&
      ofRods <= AGREED &&
      next.every(({ zones: has }, b) => moved[b]! <= (has ? ZONES_SETTLED : SETTLED))
    ) {
      if (curved) chords = solveLinear(coupling, materials, laws, rods.added);
      const density = chords.map((value, i) => value + rods.added[i]!);
      const second = secondHarmonic(
        coupling,
        laws.map((law) => law.mu),
        density,
      );
      return { density, second, ...rods.described(laws, working) };
    }
    // What a rough solution shows may be less by chance.
    if (fine || tolerance! <= WORTH * ofRods) least = Math.min(least, ofRods);
    if (ofRods > Math.max(AGREED, GROWN * least) && ofRods < Infinity)
      throw new RangeError(
        'Every rod must find a working point beside the others; these drive each other on. Leave more room between them.',
      );
    near ||= rods.places.every((b) => moved[b]! <= NEAR);
    const still = Math.max(...moved, ofRods === Infinity ? 0 : ofRods);
    if (curved) tolerance = Math.min(ROUGHEST, Math.max(ROUGH, WORTH * still));
    laws = next;
  }
  throw new RangeError(
    'A magnet must have a working point on its curve; none was found. Check grade and magnetisation.',
  );
}

/**
 * Chords of all magnets near to what they settle on, and the charges with these: what tells whether steel is near its saturation.
 * Null where chords alone find none, which rods on their curves may.
 */
export function roughMagnets(coupling: Coupling, materials: readonly BodyMaterial[]): Begun | null {
  let laws = firstLaws(materials);
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const density = solveLinear(coupling, materials, laws, null, ROUGHEST);
    const next = materials.map((m, b) =>
      nextLaw(m, laws[b]!, workingPoint(coupling, density, b, m, laws[b]!), relaxation(round)),
    );
    if (next.every((law, b) => Math.abs(law.mu / laws[b]!.mu - 1) <= NEAR)) return { laws, density };
    laws = next;
  }
  return null;
}

/** A zone's chord may move by so many times what a whole body's may: the field over a box follows one of its zones so much less. */
const OF_ZONES = 0.1;

function change(from: LinearLaw, to: LinearLaw): number {
  if (!to.zones) return Math.abs(to.mu / from.mu - 1);
  return OF_ZONES * Math.max(...to.zones.map((mu, k) => Math.abs(mu / (from.zones?.[k] ?? from.mu) - 1)));
}

const firstLaws = (materials: readonly BodyMaterial[]): readonly LinearLaw[] =>
  materials.map((m) =>
    m.kind === 'linear'
      ? m.law
      : m.kind === 'steel'
        ? { mu: m.steel.permeability, remanence: 0 }
        : chordLaw(m.material, m.strength, FIRST_SLOPE),
  );

/** A law nearer to the working point, by `share` of the way. */
function nextLaw(
  m: BodyMaterial,
  law: LinearLaw,
  { B, H }: { B: number; H: number },
  share: number,
): LinearLaw {
  if (m.kind === 'linear') return law;
  if (m.kind === 'steel')
    return { mu: steelChord(m.steel, H) ** share * law.mu ** (1 - share), remanence: 0 };
  // In a strong foreign field there is no load line through zero; then the chord simply goes to this H.
  const onCurve =
    H < 0 && B > 0 ? chordLaw(m.material, m.strength, B / H) : chordTo(m.material, m.strength, H);
  return { ...onCurve, mu: onCurve.mu ** share * law.mu ** (1 - share) };
}

/** @param added charges that are there besides, and act on all bodies but their own */
function solveLinear(
  coupling: Coupling,
  materials: readonly BodyMaterial[],
  laws: readonly LinearLaw[],
  added: Float64Array | null,
  tolerance?: number,
): Float64Array {
  const magnetisation = materials.map((m, b) => {
    const M = (m.sign * laws[b]!.remanence) / MU0;
    return { x: m.axis === 'x' ? M : 0, y: m.axis === 'y' ? M : 0, z: m.axis === 'z' ? M : 0 };
  });
  const mu = laws.map((law) => law.mu);
  const zones = laws.map((law) => law.zones);
  const across = materials.map((m, b) => (m.kind === 'magnet' ? m.material.recoil : mu[b]!));
  const load = remanenceLoad(coupling, magnetisation);
  if (added?.some((value) => value !== 0)) {
    const more = inducedLoad(coupling, { mu, across, zones }, fieldOfOthers(coupling, added));
    for (let i = 0; i < load.length; i++) load[i] = load[i]! + more[i]!;
  }
  return solveManyCharges(coupling, [{ mu, across, zones, load, tolerance }])[0]!;
}

function workingPoint(
  coupling: Coupling,
  density: Float64Array,
  b: number,
  material: BodyMaterial,
  law: LinearLaw,
): { B: number; H: number } {
  const mean = meanMagnetisation(coupling, density, b);
  const M = material.sign * mean[material.axis];
  // M = (µ − 1) H + Br/µ0; a law with µ = 1 tells nothing about H, and no magnet has it.
  const H = law.mu === 1 ? 0 : (M - law.remanence / MU0) / (law.mu - 1);
  return { B: MU0 * law.mu * H + law.remanence, H };
}
