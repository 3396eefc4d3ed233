/**
 * A pole's flat end close over a steel box. Rectangles are too coarse to hold the edge of a disc, so the charge on the end and what it
 * draws to the steel under it are taken as one, as where they touch (contacts): on a wide face of high permeability that is
 *
 *     −2 F σ, F the share of the end's flux that meets a place
 *
 * which acts on the pole as the end's image on the other side of the face, and on the steel takes away what the end itself does there.
 *
 * Source: image in a permeable half-space, [Jackson1999] § 4.4 with µ in place of ε; F by the solid angle of discs (discFlux). What the
 * gap does to other bodies, a few thousandths of what the pole does, is left out.
 */
import { Kept } from '../../numerics/kept.ts';
import type { BoxBody, RingBody } from '../bodies/body.ts';
import type { RingMesh } from '../bodies/ringMesh.ts';
import { ringBlock0 } from '../kernels/ringBlock.ts';
import { discFlux } from '../kernels/ringKernel.ts';

/** Nearer than this, in radii, an end is taken so. */
export const NARROW = 0.35;

/** An end over a face. */
interface End {
  readonly panels: readonly number[];
  /** Side of the box that it is close to. */
  readonly side: 1 | -1;
  /** m, above 0. */
  readonly gap: number;
}

/**
 * What an end and its image do to the pole, less what they do where nothing is between: mesh.n × mesh.n, row-major, 1 (A/m for each A/m),
 * in the columns of the end; the others are 0.
 * @param own block of the pole with itself
 */
export function gapBlock(mesh: RingMesh, { panels, side, gap }: End, own: Float64Array): Float64Array {
  const { n } = mesh;
  const image = ringBlock0(mesh, mesh, -2 * side * gap, false);
  const out = new Float64Array(n * n);
  for (const j of panels) {
    for (let i = 0; i < n; i++) out[i * n + j] = own[i * n + j]! - image[i * n + j]! - (i === j ? 0.5 : 0);
  }
  return out;
}

/** As far as F is followed, radii of the pole, and places on the way. */
const REACH = 4;
const PLACES = 320;
/** Points along a rectangle's edge. */
const POINTS = 8;

const known = new WeakMap<RingMesh, Kept<Float64Array>>();

/** 2 F of every panel at PLACES from the axis on, row after row, 1. */
function shares(mesh: RingMesh, { panels, gap }: End): Float64Array {
  let ofMesh = known.get(mesh);
  if (!ofMesh) {
    ofMesh = new Kept<Float64Array>(4);
    known.set(mesh, ofMesh);
  }
  return ofMesh.of(`${panels.join(' ')} ${gap}`, () => {
    const out = new Float64Array(panels.length * PLACES);
    panels.forEach((p, k) => {
      const [one, other] = [mesh.nodeR[p]!, mesh.nodeR[p + 1]!];
      for (let i = 0; i < PLACES; i++) {
        // Never on the axis itself.
        const place = ((i + 1e-6) / (PLACES - 1)) * REACH * mesh.radius;
        out[k * PLACES + i] = 2 * Math.abs(discFlux(one, gap, place) - discFlux(other, gap, place));
      }
    });
    return out;
  });
}

/**
 * What of σ on each panel of the end lies on each rectangle of the face, as a share of its density: panels × rectangles, row-major. All of
 * a panel's charge lies there.
 * @param face the face's rectangles, by their numbers
 */
export function spread(box: BoxBody, ring: RingBody, end: End, face: readonly number[]): Float64Array {
  const { mesh } = ring;
  const { panels } = end;
  const table = shares(mesh, end);
  const [dx, dy] = [box.x - ring.x, box.y - ring.y];
  const perPlace = (PLACES - 1) / (REACH * mesh.radius);
  const out = new Float64Array(panels.length * face.length);
  face.forEach((j, f) => {
    for (let point = 0; point < POINTS ** 2; point++) {
      const u = ((2 * (point % POINTS) + 1) / POINTS - 1) * box.mesh.halfU[j]!;
      const v = ((2 * Math.floor(point / POINTS) + 1) / POINTS - 1) * box.mesh.halfV[j]!;
      const at =
        perPlace * Math.hypot(dx + box.mesh.centre[3 * j]! + u, dy + box.mesh.centre[3 * j + 1]! + v);
      const i = Math.floor(at);
      if (i + 1 >= PLACES) continue;
      for (let k = 0; k < panels.length; k++) {
        const here = table[k * PLACES + i]!;
        const share = here + (at - i) * (table[k * PLACES + i + 1]! - here);
        out[k * face.length + f] = out[k * face.length + f]! + share / POINTS ** 2;
      }
    }
  });
  panels.forEach((p, k) => {
    let whole = 0;
    face.forEach((j, f) => (whole += out[k * face.length + f]! * box.mesh.area[j]!));
    for (let f = 0; f < face.length; f++)
      out[k * face.length + f] = (out[k * face.length + f]! * mesh.area[p]!) / whole;
  });
  return out;
}
