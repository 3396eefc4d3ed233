/** Blocks of boxes: each computed once, and turned for boxes that stand to each other as others do or as their mirror images. */
import type { BoxBody } from '../bodies/body.ts';
import { boxImage } from '../bodies/boxImage.ts';
import type { BoxMesh } from '../bodies/boxMesh.ts';
import { boxBlock, completeBlock } from '../kernels/boxCoupling.ts';

interface SelfBlock {
  readonly block: Float64Array;
  /** Whether rows that follow by the mirror across y are there. */
  whole: boolean;
}

// A mesh is immutable, so what it does to itself is computed once for all its uses.
const selves = new WeakMap<BoxMesh, Map<boolean, SelfBlock>>();

/**
 * Block of a bar with itself, 1 (A/m for each A/m), n × n, row-major; see boxBlock.
 * @param half whether rows may be missing that are images across y of earlier ones
 */
export function boxSelfBlock({ mesh, joins = false }: BoxBody, half = false): Float64Array {
  const ofMesh = selves.get(mesh) ?? new Map<boolean, SelfBlock>();
  selves.set(mesh, ofMesh);
  const self = ofMesh.get(joins) ?? {
    block: boxBlock(mesh, mesh, 0, 0, 0, true, joins, half),
    whole: !half,
  };
  ofMesh.set(joins, self);
  if (!half && !self.whole) {
    completeBlock(mesh, self.block);
    self.whole = true;
  }
  return self.block;
}

/** A pair of boxes by their numbers; target and source may be one. */
interface Pair {
  readonly target: number;
  readonly source: number;
}

/** Is told the block of every pair, row-major, good until the next; row i of the pair stands in its row rows[i], columns alike. */
export type PlaceBlock = (
  pair: Pair,
  block: Float64Array,
  rows: Int32Array | null,
  columns: Int32Array | null,
) => void;

/** Kept from pair to pair and from build to build: a dozen blocks of megabytes would have to be cleared away. */
let room = new Float64Array(0);

/**
 * Blocks, 1, of all pairs. @param boxes that act on each other and on themselves; @param felt whether the block of this target is wanted
 * @param half whether rows may be left out that are images across y of earlier ones: of boxes that stand in that mirror
 */
export function boxBlocks(
  boxes: readonly BoxBody[],
  felt: (target: number) => boolean,
  half: boolean,
  place: PlaceBlock,
): void {
  const left: Pair[] = [];
  for (let target = 0; target < boxes.length; target++) {
    if (felt(target)) for (let source = 0; source < boxes.length; source++) left.push({ target, source });
  }
  while (left.length > 0) {
    const pair = left.shift()!;
    const block = blockOf(boxes[pair.target]!, boxes[pair.source]!, half);
    place(pair, block, null, null);
    for (let k = left.length - 1; k >= 0; k--) {
      const turn = turned(boxes, pair, left[k]!, half);
      if (!turn) continue;
      place(left[k]!, block, turn.rows, turn.columns);
      left.splice(k, 1);
    }
  }
}

function blockOf(target: BoxBody, source: BoxBody, halved: boolean): Float64Array {
  const half = halved && isInMirror(target);
  if (target === source) return boxSelfBlock(target, half);
  const size = target.mesh.n * source.mesh.n;
  if (room.length < size) room = new Float64Array(size);
  const { mesh, x, y, z } = target;
  const close = isClose(target, source);
  const into = room.subarray(0, size);
  return boxBlock(mesh, source.mesh, source.x - x, source.y - y, source.z - z, false, close, half, into);
}

const isInMirror = ({ y }: BoxBody): boolean => Math.abs(y) < SAME;

const isClose = (target: BoxBody, source: BoxBody): boolean => target.joins === true || source.joins === true;

/** Places nearer than this are one, m. */
const SAME = 1e-12;

interface Turn {
  readonly rows: Int32Array | null;
  readonly columns: Int32Array | null;
}

/**
 * How the block of a pair holds that of another: as it is, or as its image across an axis; null when it doesn't.
 * @param half whether there may be but half the rows of a box in the mirror
 */
function turned(boxes: readonly BoxBody[], known: Pair, pair: Pair, half: boolean): Turn | null {
  const [t, s] = [boxes[known.target]!, boxes[known.source]!];
  const [target, source] = [boxes[pair.target]!, boxes[pair.source]!];
  if (isClose(t, s) !== isClose(target, source) || (t === s) !== (target === source)) return null;
  if (half && isInMirror(t) !== isInMirror(target)) return null;
  const alike = (k: 'x' | 'y' | 'z', flip: 1 | -1): boolean =>
    Math.abs(source[k] - target[k] - flip * (s[k] - t[k])) < SAME;
  if (t.mesh === target.mesh && s.mesh === source.mesh && alike('x', 1) && alike('y', 1) && alike('z', 1))
    return { rows: null, columns: null };
  for (const across of [0, 1, 2] as const) {
    const flip = (k: 0 | 1 | 2): 1 | -1 => (k === across ? -1 : 1);
    if (!alike('x', flip(0)) || !alike('y', flip(1)) || !alike('z', flip(2))) continue;
    const rows = boxImage(target.mesh, t.mesh, across);
    const columns = rows && boxImage(source.mesh, s.mesh, across);
    if (columns) return { rows, columns };
  }
  return null;
}
