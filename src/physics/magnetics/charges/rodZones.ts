/**
 * Alnico rods beyond the chord. The tips of an open rod work past the knee of the curve and its middle before it, so
 * one linear law for the whole rod is 2 % (alnico 5) to 4 % (alnico 2) high near the tip. Here the rod is cut into zones,
 * slices times columns, each with a remanence of its own that puts it on the curve; recoil permeability does the rest.
 *
 * The rod is solved in the field that everything else makes where it stands, mean around its axis: neighbours in a row
 * push every zone down the curve, a keeper lifts it, a magnet close by does either.
 *
 * Steel poles that saturate are cut alike: what their zones lack to the linear law is a magnetisation against the field.
 */
import { Anderson } from '../../numerics/anderson.ts';
import { denseLu, denseSolve } from '../../numerics/denseLu.ts';
import type { DenseLu } from '../../numerics/denseLu.ts';
import { symmetricEigen } from '../../numerics/symmetric.ts';
import { ringSelfBlocks } from './assemble.ts';
import { MU0 } from '../../numerics/constants.ts';
import type { ZoneLaw } from '../materials/zoneLaw.ts';
import type { RingMesh } from '../bodies/ringMesh.ts';
import { annulusField, annulusLoad, cut, facesOf, panelField, surfaceLoad } from './rodZoneParts.ts';

/** What a rod's shape and recoil permeability make of it; zones k, l and panels i. */
interface ZonedRod {
  readonly mesh: RingMesh;
  readonly recoil: number;
  /** Share of the rod's volume in every zone. */
  readonly share: Float64Array;
  /** Surface charges of the rod with its recoil permeability alone. */
  readonly factors: DenseLu;
  /** The charges on the surface whose field inside is one of given normal component there. */
  readonly inside: DenseLu;
  /** zones × panels: H along z at every zone of a density of 1 on every panel. */
  readonly fromPanels: Float64Array;
  /** zones × zones: H along z at zone k of 1 A/m of extra magnetisation in zone l. */
  readonly response: Float64Array;
  /** zones × panels: surface charges with the same field outside as 1 A/m of extra magnetisation in zone l. */
  readonly outside: Float64Array;
}

const known = new WeakMap<RingMesh, Map<string, ZonedRod>>();

function zonedRod(mesh: RingMesh, { mu, slice }: ZoneLaw): ZonedRod {
  let ofMesh = known.get(mesh);
  if (!ofMesh) {
    ofMesh = new Map();
    known.set(mesh, ofMesh);
  }
  const key = `${mu} ${slice}`;
  let rod = ofMesh.get(key);
  if (!rod) {
    rod = cutRod(mesh, mu, slice);
    ofMesh.set(key, rod);
  }
  return rod;
}

/** Where a rod ended. */
export interface RodState {
  /** Surface charges with the rod's field outside it, one a ring, A/m. */
  readonly charges: Float64Array;
  /** Mean over its volume along the sense of magnetisation, T. */
  readonly meanB: number;
  /** The same of H, A/m. */
  readonly meanH: number;
  /** H in every zone, and what it is magnetised beyond its recoil law, A/m. */
  readonly H: Float64Array;
  readonly extra: Float64Array;
  /** For the next time in much the same field. */
  readonly jacobian: DenseLu;
}

/**
 * A rod on its curve in an applied field.
 *
 * @param mesh of the rod, standing along z
 * @param law of its metal, along z; across, its linear part
 * @param applied normal component of the field of everything else, mean over every panel, A/m; its flux through the
 *   whole surface must be zero. The rod is magnetised upwards: turn the sign of `applied` and of the charges for one
 *   that is not.
 * @param start where it ended in a field that was much the same
 * @throws RangeError when the zones' working points do not settle
 * Source: volume charge −∇·M over µ inside a linear body [Brown1962]. Digits: within 0.9 % of pointwise nonlinear finite
 * elements and of cells, for a rod alone and in rows, from 0.5 mm up, and 0.4 % for a saturating slug on a disc (tests).
 */
export function rodOnCurve(mesh: RingMesh, law: ZoneLaw, applied: Float64Array, start?: RodState): RodState {
  const n = mesh.n;
  const rod = zonedRod(mesh, law);
  const { fromPanels, outside, share } = rod;
  const N = share.length;
  const surface = applied.map((h, i) => (law.mu - 1) * h + (law.remanence * mesh.normalZ[i]!) / MU0);
  denseSolve(rod.factors, surface);
  // An applied field inside is that of charges on the surface too: these and the rod's own reach the zones together.
  const seen = applied.slice();
  denseSolve(rod.inside, seen);
  for (let i = 0; i < n; i++) seen[i] = seen[i]! + surface[i]!;
  const H0 = new Float64Array(N);
  for (let k = 0; k < N; k++) {
    for (let i = 0; i < n; i++) H0[k] = H0[k]! + fromPanels[k * n + i]! * seen[i]!;
  }
  const { extra, H, jacobian } =
    settle(law, H0, rod.response, start) ?? settle(law, H0, passive(rod)) ?? notSettled();
  extra.forEach((M, l) => {
    for (let i = 0; i < n; i++) surface[i] = surface[i]! + M * outside[l * n + i]!;
  });
  let meanB = 0;
  let meanH = 0;
  share.forEach((part, k) => {
    meanB += part * law.fluxDensity(H[k]!);
    meanH += part * H[k]!;
  });
  return { charges: surface, meanB, meanH, H, extra, jacobian };
}

function cutRod(mesh: RingMesh, mu: number, slice: number): ZonedRod {
  const n = mesh.n;
  const zones = cut(mesh, slice);
  const N = zones.length;
  const K = ringSelfBlocks(mesh)[0];
  const own = Float64Array.from(K, (value) => -(mu - 1) * value);
  for (let i = 0; i < n; i++) own[i * n + i] = own[i * n + i]! + 0.5 * (mu + 1);
  const factors = denseLu(own, n);
  const fromPanels = panelField(mesh, zones);
  const faces = facesOf(mesh, zones);
  const loads = faces.annuli.map((annulus) => annulusLoad(mesh, annulus, mu));
  const fields = faces.annuli.map((annulus) => zones.map(({ r, z }) => annulusField(annulus, mu, r, z)));
  // Outer normal field of surface charges, (½ + K) τ.
  const outer = K.slice();
  for (let i = 0; i < n; i++) outer[i * n + i] = outer[i * n + i]! + 0.5;
  const outerFactors = denseLu(outer, n);
  const response = new Float64Array(N * N);
  const outside = new Float64Array(N * n);
  zones.forEach((zone, l) => {
    const flux = new Float64Array(n);
    const direct = new Float64Array(N);
    for (const { face, sign } of faces.of[l]!) {
      for (let i = 0; i < n; i++) flux[i] = flux[i]! + sign * loads[face]![i]!;
      for (let k = 0; k < N; k++) direct[k] = direct[k]! + sign * fields[face]![k]!;
    }
    const b = surfaceLoad(mesh, zone);
    for (let i = 0; i < n; i++) b[i] = b[i]! + (mu - 1) * flux[i]!;
    denseSolve(factors, b);
    for (let k = 0; k < N; k++) {
      let h = direct[k]!;
      for (let i = 0; i < n; i++) h += fromPanels[k * n + i]! * b[i]!;
      response[k * N + l] = h;
    }
    // Charges on the surface that stand for the faces: their outer normal field must be the faces'.
    denseSolve(outerFactors, flux);
    for (let i = 0; i < n; i++) outside[l * n + i] = b[i]! + flux[i]!;
  });
  const total = zones.reduce((sum, zone) => sum + zone.volume, 0);
  return {
    mesh,
    recoil: mu,
    share: Float64Array.from(zones, (zone) => zone.volume / total),
    factors,
    inside: innerFactors(mesh, K),
    fromPanels,
    response,
    outside,
  };
}

/**
 * Factors of (K − ½) τ = g, the inner normal field of surface charges. It determines them up to the charge of an
 * equipotential, which has no field inside; a row of areas picks those without net charge.
 */
function innerFactors(mesh: RingMesh, K: Float64Array): DenseLu {
  const n = mesh.n;
  const whole = mesh.area.reduce((sum, a) => sum + a, 0);
  const a = K.slice();
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) a[i * n + j] = a[i * n + j]! + mesh.area[j]! / whole;
    a[i * n + i] = a[i * n + i]! - 0.5;
  }
  return denseLu(a, n);
}

/**
 * The zones' extra magnetisation by Newton's method: M(H) of the curve less the recoil law; and H there. A Jacobian
 * serves as long as it brings the rest down fast, what its steps have shown taken along.
 * Source: backtracking along Newton's direction, [Nocedal2006] § 11.2; steps with an old Jacobian combined, [Walker2011].
 */
function settle(
  law: ZoneLaw,
  H0: Float64Array,
  response: Float64Array,
  start?: RodState,
): Pick<RodState, 'extra' | 'H' | 'jacobian'> | null {
  const N = H0.length;
  // A rod of another mesh tells nothing.
  const from = start?.extra.length === N ? start : undefined;
  const extra = from?.extra.slice() ?? new Float64Array(N);
  let jacobian = from?.jacobian;
  const H = new Float64Array(N);
  const goal = 1e-5 * law.scale;
  const linear = (h: number): number => MU0 * law.mu * h + law.remanence;
  const missing = (h: number): number => (law.fluxDensity(h) - linear(h)) / MU0;
  const rest = new Float64Array(N);
  let pace = new Pace(N);
  let tried: Tried | undefined;
  for (let round = 0; round < MOST_ROUNDS; round++) {
    let worst = 0;
    let square = 0;
    for (let k = 0; k < N; k++) {
      let h = H0[k]!;
      for (let l = 0; l < N; l++) h += response[k * N + l]! * extra[l]!;
      H[k] = h;
      rest[k] = missing(h) - extra[k]!;
      worst = Math.max(worst, Math.abs(rest[k]!));
      square += rest[k]! ** 2;
    }
    if (worst < goal && jacobian) return { extra, H, jacobian };
    if (tried && !(square < tried.square)) {
      // Least of all here, and not enough: there is no way on.
      if (tried.share <= LEAST_STEP) return null;
      // Too far: half as far along the same way, where less is left at last.
      tried.share *= 0.5;
      for (let k = 0; k < N; k++) extra[k] = tried.extra[k]! + tried.share * tried.way[k]!;
      continue;
    }
    const free = round < FREE_STEPS;
    if (!jacobian || !free || !pace.serves(worst, goal)) {
      jacobian = jacobianAt(H, missing, law.scale, response);
      pace = new Pace(N);
    }
    denseSolve(jacobian, rest);
    if (free) {
      extra.set(
        pace.told.next(
          extra,
          extra.map((value, k) => value + rest[k]!),
        ),
      );
      continue;
    }
    tried = { extra: extra.slice(), way: rest.slice(), square, share: 1 };
    for (let k = 0; k < N; k++) extra[k] = extra[k]! + rest[k]!;
  }
  return null;
}

/** What steps with one Jacobian have come to. */
class Pace {
  /** Steps that the next is told of. */
  readonly told = new Anderson(STEPS_TOLD);
  private readonly worsts: number[] = [];
  private readonly price: number;

  /** @param N number of zones */
  constructor(N: number) {
    this.price = N / STEPS_A_JACOBIAN;
  }

  /** Whether the Jacobian brings the rest, A/m, to the goal in fewer steps than a new one costs. */
  serves(worst: number, goal: number): boolean {
    this.worsts.push(worst);
    const steps = this.worsts.length - 1;
    if (steps < 1) return true;
    const before = this.worsts[Math.max(0, steps - 3)]!;
    const rate = (worst / before) ** (1 / Math.min(3, steps));
    if (!(rate < 1)) return false;
    return Math.log(goal / worst) / Math.log(rate) < Math.max(4, this.price);
  }
}

/** Zones of a rod find no state on its curve. */
export class NotSettled extends RangeError {}

function notSettled(): never {
  throw new NotSettled(
    'A rod’s zones must settle on its curve; these did not. Check proportions and magnetisation.',
  );
}

const passives = new WeakMap<ZonedRod, Float64Array>();

/**
 * The response as it is without the error of the mesh: symmetric, and no magnetisation has a field along with it. Where the curve is
 * steep, past the coercivity, that error alone may leave the zones without an answer; with a curve that rises throughout
 * there is always one to this.
 * Source: the energy of a magnetisation's own field, −µ0/2 ∫ M·H dV, is not negative, [Brown1962] ch. 4.
 */
function passive(rod: ZonedRod): Float64Array {
  const known = passives.get(rod);
  if (known) return known;
  const N = rod.share.length;
  const root = rod.share.map(Math.sqrt);
  const a = new Float64Array(N * N);
  for (let k = 0; k < N; k++) {
    for (let l = 0; l < N; l++)
      a[k * N + l] =
        0.5 *
        ((rod.response[k * N + l]! * root[k]!) / root[l]! + (rod.response[l * N + k]! * root[l]!) / root[k]!);
  }
  const vectors = symmetricEigen(a, N);
  const out = new Float64Array(N * N);
  for (let m = 0; m < N; m++) {
    const value = Math.min(0, a[m * N + m]!);
    for (let k = 0; k < N; k++) {
      const part = (value * vectors[k * N + m]!) / root[k]!;
      for (let l = 0; l < N; l++) out[k * N + l] = out[k * N + l]! + part * vectors[l * N + m]! * root[l]!;
    }
  }
  passives.set(rod, out);
  return out;
}

/** A new Jacobian costs as much as so many steps for each zone. */
const STEPS_A_JACOBIAN = 6;
/** Steps with one Jacobian from which the next is told. */
const STEPS_TOLD = 6;
const MOST_ROUNDS = 200;
/**
 * Steps that may leave more than there was: a rod that settles at all freely does so in fewer. Those that swing across the knee, or from
 * one end of the curve to the other, take steps along Newton's way that leave less every time.
 */
const FREE_STEPS = 10;
/** Share of a step below which it is rounding that leaves more. */
const LEAST_STEP = 1e-4;

/** A step from where less was left. */
interface Tried {
  readonly extra: Float64Array;
  readonly way: Float64Array;
  /** Sum of squares of what was left there. */
  readonly square: number;
  share: number;
}

/** Factors of 1 − M′(H) · response. */
function jacobianAt(
  H: Float64Array,
  missing: (h: number) => number,
  coercivity: number,
  response: Float64Array,
): DenseLu {
  const N = H.length;
  const jacobian = new Float64Array(N * N);
  // A step for the slope, far below the coercivity and far above rounding.
  const small = 1e-4 * coercivity;
  for (let k = 0; k < N; k++) {
    const slope = (missing(H[k]! + small) - missing(H[k]! - small)) / (2 * small);
    for (let l = 0; l < N; l++) jacobian[k * N + l] = (k === l ? 1 : 0) - slope * response[k * N + l]!;
  }
  return denseLu(jacobian, N);
}
