/** Blocks of boxes: each computed once, and turned for boxes that stand to each other as others do or as their mirror images. */
import type { BoxBody } from '../bodies/body.ts';
import { boxImage } from '../bodies/boxImage.ts';
import type { BoxMesh } from '../bodies/boxMesh.ts';
import { boxBlock } from '../kernels/boxCoupling.ts';

// A mesh is immutable, so what it does to itself is computed once for all its uses.
const selves = new WeakMap<BoxMesh, Map<boolean, Float64Array>>();

/** Block of a bar with itself, 1 (A/m for each A/m), n × n, row-major; see boxBlock. */
export function boxSelfBlock({ mesh, joins = false }: BoxBody): Float64Array {
  const ofMesh = knownOf(mesh);
  let block = ofMesh.get(joins);
  if (!block) {
    block = boxBlock(mesh, mesh, 0, 0, 0, true, joins);
    ofMesh.set(joins, block);
  }
  return block;
}

function knownOf(mesh: BoxMesh): Map<boolean, Float64Array> {
  let ofMesh = selves.get(mesh);
  if (!ofMesh) {
    ofMesh = new Map();
    selves.set(mesh, ofMesh);
  }
  return ofMesh;
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

/** Blocks, 1, of all pairs. @param boxes that act on each other and on themselves; @param felt whether the block of this target is wanted */
export function boxBlocks(
  boxes: readonly BoxBody[],
  felt: (target: number) => boolean,
  place: PlaceBlock,
): void {
  const left: Pair[] = [];
  for (let target = 0; target < boxes.length; target++) {
    if (felt(target)) for (let source = 0; source < boxes.length; source++) left.push({ target, source });
  }
  while (left.length > 0) {
    const pair = left.shift()!;
    const block = blockOf(boxes[pair.target]!, boxes[pair.source]!);
    place(pair, block, null, null);
    for (let k = left.length - 1; k >= 0; k--) {
      const turn = turned(boxes, pair, left[k]!);
      if (!turn) continue;
      place(left[k]!, block, turn.rows, turn.columns);
      left.splice(k, 1);
    }
  }
}

function blockOf(target: BoxBody, source: BoxBody): Float64Array {
  if (target === source) return boxSelfBlock(target);
  const size = target.mesh.n * source.mesh.n;
  if (room.length < size) room = new Float64Array(size);
  const { mesh, x, y, z } = target;
  const close = isClose(target, source);
  const into = room.subarray(0, size);
  return boxBlock(mesh, source.mesh, source.x - x, source.y - y, source.z - z, false, close, into);
}

const isClose = (target: BoxBody, source: BoxBody): boolean => target.joins === true || source.joins === true;

/** Places nearer than this are one, m. */
const SAME = 1e-12;

interface Turn {
  readonly rows: Int32Array | null;
  readonly columns: Int32Array | null;
}

/** How the block of a pair holds that of another: as it is, or as its image across an axis; null when it doesn't. */
function turned(boxes: readonly BoxBody[], known: Pair, pair: Pair): Turn | null {
  const [t, s] = [boxes[known.target]!, boxes[known.source]!];
  const [target, source] = [boxes[pair.target]!, boxes[pair.source]!];
  if (isClose(t, s) !== isClose(target, source) || (t === s) !== (target === source)) return null;
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
