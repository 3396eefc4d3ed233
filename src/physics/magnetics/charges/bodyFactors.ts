/** Factors of bodies by themselves, which the solver works with. */
import { denseLu, denseSolve } from '../../numerics/denseLu.ts';
import type { DenseLu } from '../../numerics/denseLu.ts';
import { ringSelfBlocks } from './assemble.ts';
import type { Coupling } from './assemble.ts';
import { boxImage } from '../bodies/boxImage.ts';
import type { BoxMesh } from '../bodies/boxMesh.ts';
import type { Parity } from '../bodies/mirror.ts';
import type { RingMesh } from '../bodies/ringMesh.ts';

/** Logarithmic step of the permeabilities for which factors are made; those of a bar cost more than the passes they save. */
const STEP = 0.15;
const BOX_STEP = 1.5;

/** Factors of about (µ+1)/2 − (µ−1) K for a body alone, by mesh and permeability. */
export class Factors {
  private readonly known = new Map<RingMesh | BoxMesh, Map<string, DenseLu>>();
  private readonly halves = new Map<Parity, Factors>();

  /** Those for charges of one parity in a further mirror. */
  halved(parity: Parity): Factors {
    const half = this.halves.get(parity) ?? new Factors();
    this.halves.set(parity, half);
    return half;
  }

  ring(mesh: RingMesh, mode: 0 | 1, mu: number, hidden: readonly number[]): DenseLu {
    return this.get(mesh, `${mode} ${hidden.join(' ')}`, mu, STEP, () =>
      hide(ringSelfBlocks(mesh)[mode], hidden),
    );
  }

  /**
   * On `count` values of v from `first` on, the box's own unknowns or, where it is its own mirror image and halved already,
   * their representatives; `inside` are those on sheets between zones, which are taken as those of one permeability. Nothing where the
   * box is hardly permeable, for then its charges are what drives them.
   */
  solveBox(
    mesh: BoxMesh,
    mu: number,
    own: () => Float64Array,
    v: Float64Array,
    first: number,
    count: number,
    hidden: readonly number[],
    inside: readonly number[] = [],
  ): void {
    if (Math.abs(Math.log(mu)) < 0.5 * BOX_STEP) return;
    // A box may have the mirror symmetry, whatever stands around it: two halves cost a quarter of the whole.
    const image = count < mesh.n ? null : boxImage(mesh, mesh, 1);
    if (!image) {
      denseSolve(
        this.get(mesh, `${count} ${hidden.join(' ')}`, mu, BOX_STEP, () =>
          quiet(hide(own(), hidden), inside),
        ),
        v,
        first,
      );
      return;
    }
    const halves = (name: string, half: typeof evenBlock): DenseLu =>
      this.get(mesh, `${name} ${hidden.join(' ')}`, mu, BOX_STEP, () =>
        half(quiet(hide(own(), hidden), inside), image),
      );
    const even = halves('even', evenBlock);
    const odd = halves('odd', oddBlock);
    const sums = new Float64Array(even.n);
    const differences = new Float64Array(odd.n);
    let e = 0;
    let o = 0;
    image.forEach((to, j) => {
      if (to < j) return;
      sums[e++] = 0.5 * (v[first + j]! + v[first + to]!);
      if (to > j) differences[o++] = 0.5 * (v[first + j]! - v[first + to]!);
    });
    denseSolve(even, sums);
    denseSolve(odd, differences);
    e = 0;
    o = 0;
    image.forEach((to, j) => {
      if (to < j) return;
      const difference = to > j ? differences[o++]! : 0;
      v[first + to] = sums[e]! - difference;
      v[first + j] = sums[e++]! + difference;
    });
  }

  private get(
    mesh: RingMesh | BoxMesh,
    name: string,
    mu: number,
    step: number,
    block: () => Float64Array,
  ): DenseLu {
    let ofMesh = this.known.get(mesh);
    if (!ofMesh) {
      ofMesh = new Map();
      this.known.set(mesh, ofMesh);
    }
    // A preconditioner may be a little off: chords that settle share one.
    const near = Math.exp(step * Math.round(Math.log(mu) / step));
    const key = `${name} ${near}`;
    let factors = ofMesh.get(key);
    if (!factors) {
      const a = block().slice();
      for (let i = 0; i < a.length; i++) a[i] = -(near - 1) * a[i]!;
      const n = Math.round(Math.sqrt(a.length));
      for (let i = 0; i < n; i++) a[i * n + i] = a[i * n + i]! + 0.5 * (near + 1);
      factors = denseLu(a, n);
      ofMesh.set(key, factors);
    }
    return factors;
  }
}

/** A square block without the field of the σ of contacts but what it is to itself. */
function hide(block: Float64Array, hidden: readonly number[]): Float64Array {
  if (hidden.length === 0) return block;
  const n = Math.round(Math.sqrt(block.length));
  const left = block.slice();
  for (const j of hidden) {
    for (let i = 0; i < n; i++) left[i * n + j] = i === j ? 0.5 : 0;
  }
  return left;
}

/** A square block whose sheets feel nothing: between equal zones they have no charge, and µ is what they are divided by. */
function quiet(block: Float64Array, inside: readonly number[]): Float64Array {
  if (inside.length === 0) return block;
  const n = Math.round(Math.sqrt(block.length));
  const left = block.slice();
  // (µ + 1)/2 − (µ − 1) times this is µ.
  for (const i of inside) left.fill(0, i * n, (i + 1) * n)[i * n + i] = -0.5;
  return left;
}

/** Of a box's block, what densities do to each other that are equal on images: on those rectangles that come first. */
function evenBlock(block: Float64Array, image: Int32Array): Float64Array {
  const n = image.length;
  const first = Int32Array.from(image.keys()).filter((j) => image[j]! >= j);
  const out = new Float64Array(first.length ** 2);
  let at = 0;
  for (const i of first) {
    for (const j of first) {
      const to = image[j]!;
      out[at++] = block[i * n + j]! + (to > j ? block[i * n + to]! : 0);
    }
  }
  return out;
}

/** The same of densities that are opposite on images; rectangles that are their own have none. */
function oddBlock(block: Float64Array, image: Int32Array): Float64Array {
  const n = image.length;
  const first = Int32Array.from(image.keys()).filter((j) => image[j]! > j);
  const out = new Float64Array(first.length ** 2);
  let at = 0;
  for (const i of first) {
    for (const j of first) out[at++] = block[i * n + j]! - block[i * n + image[j]!]!;
  }
  return out;
}

/** The square of the matrix (1) from representative `first` up to `end`. */
export function ownBlock(coupling: Coupling, first: number, end: number): Float64Array {
  const { count } = coupling.representatives;
  const n = end - first;
  const block = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    const row = (first + i) * count + first;
    block.set(coupling.matrix.subarray(row, row + n), i * n);
  }
  return block;
}
