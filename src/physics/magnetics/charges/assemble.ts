/** The matrix K of a set of bodies: mean normal field on every element of unit densities on all of them. */
import { offsetsOf, unknowns } from '../bodies/body.ts';
import type { Body, RingBody } from '../bodies/body.ts';
import { boxImage } from '../bodies/boxImage.ts';
import { boxBlocks } from './boxBlocks.ts';
import { findContacts, ringsOn } from './contacts.ts';
import type { Contacts } from './contacts.ts';
import { gapBlock } from './narrowGaps.ts';
import { boxRingBlocks } from '../kernels/boxRing.ts';
import { findMirror, noMirror } from '../bodies/mirror.ts';
import type { Parity, Representatives } from '../bodies/mirror.ts';
import type { NearHarmonics, PoleHarmonics } from '../kernels/poleHarmonics.ts';
import { ringBlock0, ringBlock1 } from '../kernels/ringBlock.ts';
import { ringCoupling } from '../kernels/ringCoupling.ts';
import type { PairBlocks } from '../kernels/ringCoupling.ts';
import type { RingMesh } from '../bodies/ringMesh.ts';

/** K, independent of every material: permeabilities and remanences enter when it is solved. */
export interface Coupling {
  readonly bodies: readonly Body[];
  /** Start of every body's unknowns; the last entry is their number. */
  readonly offsets: Int32Array;
  /** Those unknowns that the matrix is about. */
  readonly representatives: Representatives;
  /**
   * count × count of the representatives, row-major; columns are summed over what each stands for. That of a σ of a contact (see
   * there) has the field that is left of it and its opposite.
   */
  readonly matrix: Float64Array;
  /** What further harmonics of poles close to a bar add to it; by the poles' permeability. */
  readonly harmonics: readonly PoleHarmonics[];
  /** Where bodies touch a steel box, or poles nearly do. */
  readonly contacts: Contacts;
}

// A mesh is immutable, so what it does to itself is computed once for all its uses.
const ringSelf = new WeakMap<RingMesh, readonly [Float64Array, Float64Array]>();

/**
 * Uniform and cosine block of a pole with itself, 1 (A/m for each A/m), n × n each, row-major; as ringBlock0. The sine's
 * is the cosine's.
 */
export function ringSelfBlocks(mesh: RingMesh): readonly [Float64Array, Float64Array] {
  let blocks = ringSelf.get(mesh);
  if (!blocks) {
    blocks = [ringBlock0(mesh, mesh, 0, true), ringBlock1(mesh, mesh, 0, true)];
    ringSelf.set(mesh, blocks);
  }
  return blocks;
}

/** Axes nearer than this share of the radius count as one; two poles side by side are far beyond it. */
const SAME_AXIS = 1e-6;

/**
 * @param bodies may touch, must not overlap
 * @param mirror of what charges a mirror symmetry across y = 0 may halve the unknowns; 0: of none
 * Equal pairs (same meshes, distance and difference in height) are computed once and turned into place.
 */
export function assemble(bodies: readonly Body[], mirror: Parity | 0 = 1): Coupling {
  const offsets = offsetsOf(bodies);
  const representatives = mirror === 0 ? noMirror(bodies, offsets) : findMirror(bodies, offsets, mirror);
  const { count } = representatives;
  const matrix = new Float64Array(count * count);
  const into = new Placer(matrix, representatives);
  const pairs = new PairCache();
  bodies.forEach((target, t) => {
    if (target.kind === 'box' || representatives.body[t] !== t) return;
    const row = offsets[t]!;
    const [uniform, cosine] = ringSelfBlocks(target.mesh);
    const n = target.mesh.n;
    into.copy(uniform, n, n, row, row, 1);
    into.copy(cosine, n, n, row + n, row + n, 1);
    into.copy(cosine, n, n, row + 2 * n, row + 2 * n, 1);
    bodies.forEach((source, s) => {
      if (s !== t && source.kind === 'ring') placePair(into, pairs, target, source, row, offsets[s]!);
    });
  });
  placeBoxes(into, bodies, offsets, representatives);
  const { harmonics, gaps } = placeBoxRings(into, bodies, offsets, representatives);
  const contacts = findContacts(bodies, offsets, representatives);
  for (const hidden of contacts.hidden) {
    for (let at = hidden; at < matrix.length; at += count) matrix[at] = 0;
  }
  for (const place of gaps) place();
  return { bodies, offsets, representatives, matrix, harmonics, contacts };
}

function placeBoxes(
  into: Placer,
  bodies: readonly Body[],
  offsets: Int32Array,
  representatives: Representatives,
): void {
  const boxes = bodies.flatMap((body, b) => (body.kind === 'box' ? [{ body, b }] : []));
  boxBlocks(
    boxes.map(({ body }) => body),
    (target) => representatives.body[boxes[target]!.b] === boxes[target]!.b,
    representatives.symmetric,
    ({ target, source }, block, rows, columns) => {
      const [to, from] = [boxes[target]!, boxes[source]!];
      const [n, m] = [to.body.mesh.n, from.body.mesh.n];
      into.copy(block, n, m, offsets[to.b]!, offsets[from.b]!, 1, rows, columns);
    },
  );
}

/** Bars and poles, both ways from one computation. @returns besides, what is to be placed once contacts have no field */
function placeBoxRings(
  into: Placer,
  bodies: readonly Body[],
  offsets: Int32Array,
  representatives: Representatives,
): { readonly harmonics: readonly PoleHarmonics[]; readonly gaps: readonly (() => void)[] } {
  const all: PoleHarmonics[] = [];
  const gaps: (() => void)[] = [];
  bodies.forEach((box, b) => {
    if (box.kind !== 'box') return;
    bodies.forEach((ring, r) => {
      if (ring.kind !== 'ring') return;
      // The image of a pair is left to the pair: a bar that is its own image sees the image's rectangles instead.
      if (representatives.body[r] !== r && representatives.body[b] === b && Math.abs(box.y) < SAME_PLACE)
        return;
      const on = ringsOn(box, ring, bodies);
      const { toRing, toBox, harmonics } = boxRingBlocks(box, ring, on.panels);
      const n = unknowns(ring);
      into.copy(toRing, n, box.mesh.n, offsets[r]!, offsets[b]!, 1);
      const twice =
        representatives.symmetric && Math.abs(box.y) < SAME_PLACE && Math.abs(ring.y) >= SAME_PLACE;
      into.copy(toBox, box.mesh.n, n, offsets[b]!, offsets[r]!, 1);
      if (harmonics) all.push(placed(harmonics, r, offsets[b]!, representatives, twice));
      if (twice) {
        // What its image does to the bar, told of the pole itself: rectangles change places. (Sine changes sign twice, as a source and
        // as what stands for it.)
        const image = boxImage(box.mesh, box.mesh, 1);
        into.copy(toBox, box.mesh.n, n, offsets[b]!, offsets[r]!, representatives.parity, image);
      }
      if (on.gap === 0) return;
      const gap = gapBlock(ring.mesh, on, ringSelfBlocks(ring.mesh)[0]);
      gaps.push(() => into.copy(gap, ring.mesh.n, ring.mesh.n, offsets[r]!, offsets[r]!, 1));
    });
  });
  return { harmonics: all, gaps };
}

/**
 * @param twice whether the pole stands for its image as well: what that does to an image is done to what stands for it, and what both do to
 *   a rectangle across the mirror is twice what one does
 */
function placed(
  { rectangles, block }: NearHarmonics,
  pole: number,
  first: number,
  { of, sign, unknown, image }: Representatives,
  twice: boolean,
): PoleHarmonics {
  const n = rectangles.length;
  const all = rectangles.map((j) => first + j);
  const scale = (to: number, from: number): number =>
    sign[to]! * sign[from]! * (twice && image[to] === to ? 2 : 1);
  return {
    pole,
    rows: all.map((i) => (twice || unknown[of[i]!] === i ? of[i]! : -1)),
    columns: all.map((i) => of[i]!),
    block: block.map((h, at) => scale(all[Math.floor(at / n)]!, all[at % n]!) * h),
  };
}

/** A bar nearer the middle than this, in metres, is its own mirror image. */
const SAME_PLACE = 1e-12;

class Placer {
  constructor(
    private readonly matrix: Float64Array,
    private readonly representatives: Representatives,
  ) {}

  /**
   * Adds scale × block at (row, column) of all unknowns; rows that represent nothing are dropped.
   * @param rowsOf columnsOf where the block has each row and column, when it is turned
   */
  copy(
    block: Float64Array,
    rows: number,
    columns: number,
    row: number,
    column: number,
    scale: number,
    rowsOf: Int32Array | null = null,
    columnsOf: Int32Array | null = null,
  ): void {
    if (scale === 0) return;
    const { of, sign, unknown, count } = this.representatives;
    // Where every column goes and with what sign; with none where it represents nothing.
    const places = new Int32Array(columns);
    const senses = new Float64Array(columns);
    for (let j = 0; j < columns; j++) {
      places[j] = Math.max(0, of[column + j]!);
      senses[j] = of[column + j]! < 0 ? 0 : scale * sign[column + j]!;
    }
    // Those of poles stand side by side there too.
    const sense = senses[0]!;
    const together =
      !columnsOf && places.every((place, j) => place === places[0]! + j && senses[j] === sense);
    const { matrix } = this;
    for (let i = 0; i < rows; i++) {
      const r = of[row + i]!;
      if (r < 0 || unknown[r] !== row + i) continue;
      const from = (rowsOf ? rowsOf[i]! : i) * columns;
      if (together) {
        const to = r * count + places[0]!;
        for (let j = 0; j < columns; j++) matrix[to + j] = matrix[to + j]! + sense * block[from + j]!;
        continue;
      }
      for (let j = 0; j < columns; j++) {
        const at = r * count + places[j]!;
        matrix[at] = matrix[at]! + senses[j]! * block[from + (columnsOf ? columnsOf[j]! : j)]!;
      }
    }
  }
}

/** Pair blocks by mesh, mesh, distance and height, rounded to a picometre. */
class PairCache {
  private readonly numbers = new Map<RingMesh, number>();
  private readonly blocks = new Map<string, PairBlocks>();

  get(target: RingMesh, source: RingMesh, distance: number, rise: number): PairBlocks {
    const key = [
      this.number(target),
      this.number(source),
      Math.round(distance * 1e12),
      Math.round(rise * 1e12),
    ];
    const name = key.join(' ');
    let pair = this.blocks.get(name);
    if (!pair) {
      pair = ringCoupling(target, source, distance, rise);
      this.blocks.set(name, pair);
    }
    return pair;
  }

  private number(mesh: RingMesh): number {
    let number = this.numbers.get(mesh);
    if (number === undefined) {
      number = this.numbers.size;
      this.numbers.set(mesh, number);
    }
    return number;
  }
}

function placePair(
  into: Placer,
  pairs: PairCache,
  target: RingBody,
  source: RingBody,
  row: number,
  column: number,
): void {
  const nt = target.mesh.n;
  const ns = source.mesh.n;
  const dx = source.x - target.x;
  const dy = source.y - target.y;
  const rise = source.z - target.z;
  const distance = Math.hypot(dx, dy);
  if (distance < SAME_AXIS * target.mesh.radius) {
    into.copy(ringBlock0(target.mesh, source.mesh, rise, false), nt, ns, row, column, 1);
    const cosine = ringBlock1(target.mesh, source.mesh, rise, false);
    into.copy(cosine, nt, ns, row + nt, column + ns, 1);
    into.copy(cosine, nt, ns, row + 2 * nt, column + 2 * ns, 1);
    return;
  }
  const { uu, uc, cu, cc, ss } = pairs.get(target.mesh, source.mesh, distance, rise);
  // The pair's frame is turned by the angle whose cosine and sine these are.
  const c = dx / distance;
  const s = dy / distance;
  into.copy(uu, nt, ns, row, column, 1);
  into.copy(uc, nt, ns, row, column + ns, c);
  into.copy(uc, nt, ns, row, column + 2 * ns, s);
  into.copy(cu, nt, ns, row + nt, column, c);
  into.copy(cu, nt, ns, row + 2 * nt, column, s);
  into.copy(blend(cc, c * c, ss, s * s), nt, ns, row + nt, column + ns, 1);
  const cross = blend(cc, 1, ss, -1);
  into.copy(cross, nt, ns, row + nt, column + 2 * ns, c * s);
  into.copy(cross, nt, ns, row + 2 * nt, column + ns, c * s);
  into.copy(blend(cc, s * s, ss, c * c), nt, ns, row + 2 * nt, column + 2 * ns, 1);
}

/** The sum of two blocks' shares. */
function blend(one: Float64Array, a: number, other: Float64Array, b: number): Float64Array {
  const sum = new Float64Array(one.length);
  for (let i = 0; i < sum.length; i++) sum[i] = a * one[i]! + b * other[i]!;
  return sum;
}
