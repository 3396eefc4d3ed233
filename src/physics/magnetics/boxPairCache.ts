/** A bar and a row of poles: poles that mirror each other across the bar's middle share one computation. */
import type { BoxBody, RingBody } from './body.ts';
import { boxRingBlocks } from './boxCoupling.ts';
import type { BoxRingBlocks } from './boxCoupling.ts';
import type { BoxMesh } from './boxMesh.ts';

interface Kept {
  readonly box: BoxBody;
  readonly ring: RingBody;
  readonly blocks: BoxRingBlocks;
}

/** Lengths that differ by less are equal, m. */
const SAME = 1e-12;

export class BoxPairCache {
  private readonly kept: Kept[] = [];

  get(box: BoxBody, ring: RingBody): BoxRingBlocks {
    const twin = this.kept.find(
      (pair) =>
        pair.box === box &&
        pair.ring.mesh === ring.mesh &&
        Math.abs(pair.ring.x - ring.x) < SAME &&
        Math.abs(pair.ring.z - ring.z) < SAME &&
        Math.abs(pair.ring.y + ring.y - 2 * box.y) < SAME,
    );
    if (twin) return mirrored(twin.blocks, box.mesh, ring.mesh.n);
    const blocks = boxRingBlocks(box, ring);
    this.kept.push({ box, ring, blocks });
    return blocks;
  }
}

/** Both blocks seen in a mirror at the bar's middle, across y: sine changes sign, rectangles change places. */
function mirrored(blocks: BoxRingBlocks, mesh: BoxMesh, n: number): BoxRingBlocks {
  const partner = mirrorImages(mesh);
  const toRing = new Float64Array(blocks.toRing.length);
  const toBox = new Float64Array(blocks.toBox.length);
  for (let i = 0; i < 3 * n; i++) {
    const sign = i < 2 * n ? 1 : -1;
    for (let j = 0; j < mesh.n; j++) {
      toRing[i * mesh.n + partner[j]!] = sign * blocks.toRing[i * mesh.n + j]!;
      toBox[partner[j]! * 3 * n + i] = sign * blocks.toBox[j * 3 * n + i]!;
    }
  }
  return { toRing, toBox };
}

const images = new WeakMap<BoxMesh, Int32Array>();

/** Index of every rectangle's mirror image; faces are cut symmetrically, so that there is one. */
function mirrorImages(mesh: BoxMesh): Int32Array {
  let partner = images.get(mesh);
  if (!partner) {
    const name = (j: number, flip: 1 | -1): string => {
      const [x, y, z] = [mesh.centre[3 * j]!, flip * mesh.centre[3 * j + 1]!, mesh.centre[3 * j + 2]!];
      // To a nanometre, and without a sign on zero.
      return [mesh.axis[j]!, x, y, z]
        .map((value, k) => (k === 0 ? value : Math.round(value * 1e9) + 0))
        .join(' ');
    };
    const places = new Map<string, number>();
    for (let j = 0; j < mesh.n; j++) places.set(name(j, 1), j);
    partner = Int32Array.from({ length: mesh.n }, (_, j) => places.get(name(j, -1))!);
    images.set(mesh, partner);
  }
  return partner;
}
