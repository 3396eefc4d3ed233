/** Everything about a pickup that does not depend on the strings: charges, coils, inductance, resistance. */
import type { Coupling } from '../charges/assemble.ts';
import { mutualInductance } from '../coil/airInductance.ts';
import { isWound, type BuiltPickup, type WoundRow } from '../build/build.ts';
import { isThreaded } from '../../../shape/steel.ts';
import { coreMetal, woundWindow } from './buildBodies.ts';
import type { BuiltBodies } from './buildBodies.ts';
import { solveCharges, solveManyCharges } from '../charges/chargeSolver.ts';
import { BuildError, checkBuild } from '../build/checkBuild.ts';
import { coilLoad, linkageWeights } from '../coil/coilCore.ts';
import { coilInAir } from '../coil/coilInAir.ts';
import { MU0 } from '../../numerics/constants.ts';
import { Kept } from '../../numerics/kept.ts';
import { solveCover, type SolvedCover } from './cover.ts';
import { solveBodies } from './solveBodies.ts';
import { fewerBodies } from '../charges/fewerBodies.ts';
import { fitCore } from '../coil/eddy.ts';
import type { CoreFit, PoleMetal } from '../coil/eddy.ts';
import { inducedLoad } from '../charges/load.ts';
import type { MagnetSolution } from '../charges/magnetSolve.ts';
import { meanTurn, overallDiameter, resistancePerMetre, selfCapacitance } from '../coil/wire.ts';
import { secondHarmonic } from '../charges/secondHarmonic.ts';
import { cellFilaments, fieldFilaments } from '../coil/winding.ts';
import type { Filaments, WindingWindow } from '../coil/winding.ts';
import { dot } from '../../numerics/vector.ts';

/** What a coil is to the circuit. */
export interface CoilFigures {
  readonly turns: number;
  /** Ω at 20 °C. */
  readonly resistance: number;
  /** H without cores, and at low frequency with them. */
  readonly airInductance: number;
  readonly inductance: number;
  /** How the cores' share follows the frequency, per turn²; see coreInductanceAt. */
  readonly core: CoreFit;
  readonly metal: PoleMetal;
  /** Of the bare winding, F; see selfCapacitance. */
  readonly capacitance: number;
  /** m. */
  readonly meanTurn: number;
}

/** A coil with its cores; figures of the whole winding. */
export interface SolvedCoil {
  readonly figures: CoilFigures;
  readonly filaments: Filaments;
  /** Charges for one ampere-turn at low frequency, A/m. */
  readonly density: Float64Array;
  readonly second: Float64Array;
  /** 1 or −1. */
  readonly direction: 1 | -1;
}

/** Everything that does not depend on strings and gaps; coils in the order of the rows, none of magnets and steel alone. */
export interface SolvedPickup {
  readonly build: BuiltPickup;
  readonly built: BuiltBodies;
  readonly coupling: Coupling;
  readonly magnets: MagnetSolution;
  readonly coils: readonly SolvedCoil[];
  /** Low-frequency inductance between two coils, H, in the sense of their directions; 0 for one coil. */
  readonly mutual: number;
  /** Eddy currents in cover and base plate; null without any. */
  readonly cover: SolvedCover | null;
}

/** What a coil without cores has of them, H per turn²: a ten millionth of its own, so that nothing is divided by nothing. */
const LEAST_CORE = 1e-15;

/** Filaments of a coil round a blade, whose flat sides come close to the wire. */
const ROUND_BLADE = [3, 4] as const;

/** The second solve of a fit is made at this share of the susceptibility: far enough on the curve to fix both numbers. */
const SECOND_CHI = 0.1;
/** Residual of that second solve: the fit has 1e-3 at best. */
const SECOND_TOLERANCE = 1e-5;

/**
 * @throws BuildError naming every fault of the build
 */
export function solvePickup(build: BuiltPickup, fineness = 1): SolvedPickup {
  const faults = checkBuild(build);
  if (faults.length > 0) throw new BuildError(faults);
  const { built, coupling, magnets } = solveBodies(build, fineness);
  const rows = build.rows.filter(isWound);
  if (rows.length === 0) return { build, built, coupling, magnets, coils: [], mutual: 0, cover: null };
  const windows = rows.map(woundWindow);
  const fields = windows.map((window, r) =>
    (build.steel ?? []).some((piece) => isThreaded(piece, rows[r]!))
      ? fieldFilaments(window, ...ROUND_BLADE)
      : fieldFilaments(window),
  );
  const weights = fields.map((coil) => linkageWeights(coupling, coil));
  const applied = fields.map((coil) => coilLoad(coupling, coil));
  const densities = coilDensities(coupling, built, applied);
  const bars = barsOf(coupling, built);
  const coils = rows.map((row, i) => {
    const solved: CoilSolution = { filaments: fields[i]!, weights: weights[i]!, ...densities[i]! };
    const metal = coreMetal(build, i);
    const rest = bars ? barsAlone(bars, applied[i]!, weights[i]!) : 0;
    return describeCoil(row, windows[i]!, solved, coupling, built, metal, rest);
  });
  const mutual = coils.length < 2 ? 0 : mutualOf(coils, windows, weights);
  return { build, built, coupling, magnets, coils, mutual, cover: solveCover(build, coupling, coils) };
}

/** Charges for one ampere-turn at the true susceptibilities, and at SECOND_CHI of them. */
interface CoilDensities {
  readonly full: Float64Array;
  readonly weak: Float64Array;
}

interface CoilSolution extends CoilDensities {
  readonly filaments: Filaments;
  readonly weights: Float64Array;
}

function coilDensities(
  coupling: Coupling,
  built: BuiltBodies,
  fields: readonly Float64Array[],
): readonly CoilDensities[] {
  const problems = fields.flatMap((applied) => {
    return [1, SECOND_CHI].map((share) => {
      // Only the cores are weakened: a bar's share, and a keeper's, does not follow their eddy currents.
      const mu = built.alternating.map((law, b) => 1 + (built.cores[b] ? share : 1) * (law.mu - 1));
      const tolerance = share === 1 ? undefined : SECOND_TOLERANCE;
      return { mu, load: inducedLoad(coupling, { mu }, applied), tolerance };
    });
  });
  const solved = solveManyCharges(coupling, problems);
  return fields.map((_, i) => ({ full: solved[2 * i]!, weak: solved[2 * i + 1]! }));
}

function describeCoil(
  row: WoundRow,
  window: WindingWindow,
  { filaments, weights, full, weak }: CoilSolution,
  coupling: Coupling,
  built: BuiltBodies,
  metal: PoleMetal,
  ofBars: number,
): SolvedCoil {
  const core = MU0 * dot(weights, full);
  const chi = metal.mu - 1;
  const { turns, wire, enamel } = row.winding;
  const air = airInductance(window);
  const mu = built.alternating.map((law) => law.mu);
  return {
    figures: {
      turns,
      resistance: turns * meanTurn(window) * resistancePerMetre(wire),
      airInductance: turns * turns * air,
      inductance: turns * turns * (air + core),
      core:
        chi > 0 && core > ofBars && built.cores.includes(true)
          ? fitCore(chi, core, SECOND_CHI * chi, MU0 * dot(weights, weak), ofBars)
          : { a: 0, N: 0, rest: Math.max(LEAST_CORE, core) },
      metal,
      capacitance: selfCapacitance(window, turns, wire, overallDiameter(wire, enamel)),
      meanTurn: meanTurn(window),
    },
    filaments,
    density: full,
    second: secondHarmonic(coupling, mu, full, coilInAir(filaments, built.bodies).field),
    direction: row.winding.direction,
  };
}

interface Bars {
  readonly coupling: Coupling;
  /** Which of all unknowns are theirs. */
  readonly unknowns: readonly number[];
  readonly mu: readonly number[];
}

/** Bars and steel that no coil is wound round, by themselves; null when there are none. */
function barsOf(coupling: Coupling, { alternating, cores }: BuiltBodies): Bars | null {
  const mu = alternating.flatMap((law, b) => (cores[b] ? [] : [law.mu]));
  if (mu.length === 0) return null;
  const { offsets, bodies } = coupling;
  const ofBody = (b: number): readonly number[] =>
    Array.from({ length: offsets[b + 1]! - offsets[b]! }, (_, i) => offsets[b]! + i);
  const unknowns = [...bodies.keys()].flatMap((b) => (cores[b] ? [] : ofBody(b)));
  return { coupling: fewerBodies(coupling, (b) => !cores[b]), unknowns, mu };
}

/**
 * Inductance that they add to a coil, H per turn².
 * @param applied what the coil does to every unknown of all bodies, A/m; weights: what charges there make of its flux
 */
function barsAlone({ coupling, unknowns, mu }: Bars, applied: Float64Array, weights: Float64Array): number {
  const field = Float64Array.from(unknowns, (i) => applied[i]!);
  const flux = Float64Array.from(unknowns, (i) => weights[i]!);
  return MU0 * dot(flux, solveCharges(coupling, mu, inducedLoad(coupling, { mu }, field)));
}

/** Of the last windows: magnets and poles change more often than coils, and a search winds the same on many poles. */
const airKept = new Kept<number>(256);

/** Of a coil by itself, H per turn². @param window that its wire fills, m */
export function airInductance(window: WindingWindow): number {
  const key = [window.straight, window.inner, window.outer, window.top - window.bottom].join(' ');
  return airKept.of(key, () => {
    const cells = cellFilaments(window);
    return mutualInductance(cells, cells);
  });
}

function mutualOf(
  coils: readonly SolvedCoil[],
  windows: readonly WindingWindow[],
  weights: readonly Float64Array[],
): number {
  const [first, second] = coils as readonly [SolvedCoil, SolvedCoil];
  // Side by side, a filament's own cell does not matter: the field's few filaments will do.
  const air = mutualInductance(fieldFilaments(windows[0]!, 1, 2, 8), fieldFilaments(windows[1]!, 1, 2, 8));
  const core = MU0 * dot(weights[1]!, first.density);
  const turns = first.figures.turns * second.figures.turns * first.direction * second.direction;
  return turns * (air + core);
}
