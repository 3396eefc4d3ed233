/** Which rectangles of a box are the mirror images of which. */
import type { BoxMesh } from './boxMesh.ts';

/** Places that differ by less are one, m. */
const SAME = 1e-9;

const known = new WeakMap<BoxMesh, WeakMap<BoxMesh, (Int32Array | null)[]>>();

/**
 * For every rectangle of `mesh` the number of that rectangle of `other` which is its image in a mirror across an axis (0, 1, 2 for
 * x, y, z) through the boxes' middles; null where a face of one is cut otherwise than its image, and across z for boxes in zones, whose sheets all look upwards. Places count as
 * one to 1e-9 m.
 */
export function boxImage(mesh: BoxMesh, other: BoxMesh, across: 0 | 1 | 2): Int32Array | null {
  let ofMesh = known.get(mesh);
  if (!ofMesh) {
    ofMesh = new WeakMap();
    known.set(mesh, ofMesh);
  }
  let images = ofMesh.get(other);
  if (!images) {
    images = [];
    ofMesh.set(other, images);
  }
  let image = images[across];
  if (image === undefined) {
    image = findImage(mesh, other, across);
    images[across] = image;
  }
  return image;
}

function findImage(mesh: BoxMesh, other: BoxMesh, across: number): Int32Array | null {
  if (mesh.n !== other.n || (across === 2 && (mesh.zones || other.zones))) return null;
  const image = new Int32Array(mesh.n);
  const others = grids(other);
  for (const { axis, sign, first, along, across: across1 } of grids(mesh)) {
    const at = mesh.centre[3 * first + axis]!;
    const side = axis === across ? -sign : sign;
    const there = others.find(
      (grid) =>
        grid.axis === axis &&
        grid.sign === side &&
        Math.abs(other.centre[3 * grid.first + axis]! - (axis === across ? -at : at)) < SAME,
    );
    if (!there || there.along !== along || there.across !== across1) return null;
    const turnU = (axis + 1) % 3 === across;
    const turnV = (axis + 2) % 3 === across;
    for (let i = 0; i < along; i++) {
      for (let j = 0; j < across1; j++) {
        const from = first + i * across1 + j;
        const to = there.first + (turnU ? along - 1 - i : i) * across1 + (turnV ? across1 - 1 - j : j);
        if (!areImages(mesh, from, other, to, across)) return null;
        image[from] = to;
      }
    }
  }
  return image;
}

function areImages(mesh: BoxMesh, from: number, other: BoxMesh, to: number, across: number): boolean {
  for (let k = 0; k < 3; k++) {
    const place = mesh.centre[3 * from + k]!;
    if (!(Math.abs((k === across ? -place : place) - other.centre[3 * to + k]!) < SAME)) return false;
  }
  return (
    Math.abs(mesh.halfU[from]! - other.halfU[to]!) < SAME &&
    Math.abs(mesh.halfV[from]! - other.halfV[to]!) < SAME
  );
}

/** A face's or a sheet's rectangles, which stand in rows: `along` rows along u of `across` each along v. */
interface Grid {
  readonly axis: number;
  readonly sign: number;
  readonly first: number;
  readonly along: number;
  readonly across: number;
}

function grids(mesh: BoxMesh): readonly Grid[] {
  const found: Grid[] = [];
  for (let first = 0; first < mesh.n;) {
    const [axis, sign] = [mesh.axis[first]!, mesh.sign[first]!];
    let end = first + 1;
    const at = mesh.centre[3 * first + axis]!;
    const inPlane = (j: number): boolean =>
      mesh.axis[j] === axis && mesh.sign[j] === sign && mesh.centre[3 * j + axis] === at;
    while (end < mesh.n && inPlane(end)) end++;
    const across = mesh.slopeU.stride[first]!;
    found.push({ axis, sign, first, along: (end - first) / across, across });
    first = end;
  }
  return found;
}
