/**
 * Magnetic surface charges of permeable and magnetised bodies:
 *
 *     σ (µr + 1)/2 = (µr − 1) (K σ + H·n) + M·n
 *
 * with M the remanence (A/m) and H the applied field. A chain of small dense factors, one a body, does most of the
 * work; GMRES settles what the bodies do to each other.
 */
import { denseLu, denseSolve } from '../numerics/denseLu.ts';
import type { DenseLu } from '../numerics/denseLu.ts';
import { boxSelfBlock, ringSelfBlocks } from './assemble.ts';
import type { Coupling } from './assemble.ts';
import type { BoxMesh } from './boxMesh.ts';
import { gmres } from './gmres.ts';
import type { RingMesh } from './ringMesh.ts';

/** Relative residual of the charges; fields then carry about as many digits, far more than the mesh does. */
const TOLERANCE = 1e-7;
/** Far more than the ten or so that pickups take; bodies in contact take some thirty. */
const MOST_STEPS = 200;

/** Factors of (µ+1)/2 − (µ−1) K for a body alone, by mesh and permeability. */
class Factors {
  private readonly known = new Map<RingMesh | BoxMesh, Map<string, DenseLu>>();

  get(mesh: RingMesh | BoxMesh, mode: 0 | 1, mu: number): DenseLu {
    // A pickup asks for some ten; a curved magnet's chord adds one a round.
    let ofMesh = this.known.get(mesh);
    if (!ofMesh) {
      ofMesh = new Map();
      this.known.set(mesh, ofMesh);
    }
    const key = `${mode} ${mu}`;
    let factors = ofMesh.get(key);
    if (!factors) {
      const block = 'nodeR' in mesh ? ringSelfBlocks(mesh)[mode] : boxSelfBlock(mesh);
      const a = new Float64Array(block.length);
      for (let i = 0; i < a.length; i++) a[i] = -(mu - 1) * block[i]!;
      for (let i = 0; i < mesh.n; i++) a[i * mesh.n + i] = a[i * mesh.n + i]! + 0.5 * (mu + 1);
      factors = denseLu(a, mesh.n);
      ofMesh.set(key, factors);
    }
    return factors;
  }
}

const factorsOf = new WeakMap<Coupling, Factors>();

/**
 * @param coupling the bodies' matrix
 * @param mu relative permeability of every body, above 0
 * @param load right-hand side, (µr − 1) H·n + M·n on every unknown, A/m
 * @param start charges to start from, for instance those of a slightly different µ
 * @param tolerance relative residual
 * @returns density of every unknown, A/m
 * @throws RangeError when the iteration does not converge, which means overlapping bodies
 */
export function solveCharges(
  coupling: Coupling,
  mu: ArrayLike<number>,
  load: Float64Array,
  start?: Float64Array,
  tolerance = TOLERANCE,
): Float64Array {
  const { bodies, offsets, matrix } = coupling;
  const size = load.length;
  let factors = factorsOf.get(coupling);
  if (!factors) {
    factors = new Factors();
    factorsOf.set(coupling, factors);
  }
  const known = factors;
  const precondition = (v: Float64Array): void => {
    bodies.forEach((body, b) => {
      const at = offsets[b]!;
      if (body.kind === 'box') denseSolve(known.get(body.mesh, 0, mu[b]!), v, at);
      else {
        const n = body.mesh.n;
        denseSolve(known.get(body.mesh, 0, mu[b]!), v, at);
        denseSolve(known.get(body.mesh, 1, mu[b]!), v, at + n);
        denseSolve(known.get(body.mesh, 1, mu[b]!), v, at + 2 * n);
      }
    });
  };
  const apply = (v: Float64Array, out: Float64Array): void => {
    for (let b = 0; b < bodies.length; b++) {
      const gain = mu[b]! - 1;
      const diagonal = 0.5 * (mu[b]! + 1);
      for (let i = offsets[b]!; i < offsets[b + 1]!; i++) {
        const row = i * size;
        let sum = 0;
        for (let j = 0; j < size; j++) sum += matrix[row + j]! * v[j]!;
        out[i] = diagonal * v[i]! - gain * sum;
      }
    }
    precondition(out);
  };
  const b = load.slice();
  precondition(b);
  const x = start ? start.slice() : b.slice();
  const residual = gmres(apply, b, x, tolerance, MOST_STEPS);
  // Rounding of an ill-conditioned contact may stop it a little short of the goal; the field does not notice.
  if (!(residual <= 1e3 * tolerance)) {
    throw new RangeError(`The bodies must not overlap; the field did not settle (residual ${residual}).`);
  }
  return x;
}
