/** How bars act on round poles, on each other and on themselves. */
import type { BoxBody, RingBody } from './body.ts';
import type { BoxMesh } from './boxMesh.ts';
import { balanceFlux } from './fluxBalance.ts';
import { gaussLegendre } from '../numerics/quadrature.ts';
import { addFaceSlopes, POINTS_FROM, rectangleAt } from './boxPoint.ts';
import { rectangleNormalField } from './rectangle.ts';
import { panelPoints } from './ringPoints.ts';
import type { RingMesh } from './ringMesh.ts';

/** H at the point of the last call for densities 1, u′ and v′. */
const h = new Float64Array(9);

/** Points around a ring of radius a whose nearest part is `gap` from a rectangle. */
function pointsAround(a: number, gap: number): number {
  const wanted = 1 + Math.log(1e-2) / Math.log(a / (a + gap));
  return 2 * Math.ceil(0.5 * Math.min(16, Math.max(4, wanted)));
}

/** Cosines and sines of equal steps around, half a step off zero; kept for the few counts there are. */
const circles = new Map<number, { readonly cos: Float64Array; readonly sin: Float64Array }>();

function circle(count: number): { readonly cos: Float64Array; readonly sin: Float64Array } {
  let known = circles.get(count);
  if (!known) {
    const angle = Float64Array.from({ length: count }, (_, k) => (2 * Math.PI * (k + 0.5)) / count);
    known = { cos: angle.map(Math.cos), sin: angle.map(Math.sin) };
    circles.set(count, known);
  }
  return known;
}

/** Distance from a point (relative to the box's centre) to rectangle j, m. */
function distanceToRectangle(mesh: BoxMesh, j: number, x: number, y: number, z: number): number {
  const axis = mesh.axis[j]!;
  const a = mesh.halfU[j]!;
  const b = mesh.halfV[j]!;
  const half0 = axis === 0 ? 0 : axis === 2 ? a : b;
  const half1 = axis === 1 ? 0 : axis === 0 ? a : b;
  const half2 = axis === 2 ? 0 : axis === 1 ? a : b;
  const dx = Math.max(0, Math.abs(x - mesh.centre[3 * j]!) - half0);
  const dy = Math.max(0, Math.abs(y - mesh.centre[3 * j + 1]!) - half1);
  const dz = Math.max(0, Math.abs(z - mesh.centre[3 * j + 2]!) - half2);
  return Math.sqrt(dx * dx + dy * dy + dz * dz);
}

/** What a bar and a pole do to each other, row-major. */
export interface BoxRingBlocks {
  /** 3 ring.n × box.n: normal field on the rings (uniform, cos, sin) of unit density on the rectangles. */
  readonly toRing: Float64Array;
  /** box.n × 3 ring.n: mean normal field on the rectangles of unit densities on the rings. */
  readonly toBox: Float64Array;
}

/**
 * Both directions at once: the flux of a charge through a rectangle is the rectangle's field at the charge.
 * Source: [EngelHerbert2005] for the closed form; reciprocity of Coulomb's law.
 */
export function boxRingBlocks(box: BoxBody, ring: RingBody): BoxRingBlocks {
  const nb = box.mesh.n;
  const nr = ring.mesh.n;
  const toRing = new Float64Array(3 * nr * nb);
  const toBox = new Float64Array(nb * 3 * nr);
  const oddU = new Float64Array(3 * nr * nb);
  const oddV = new Float64Array(3 * nr * nb);
  const oddBox = new Float64Array(nb * 3 * nr);
  const ox = ring.x - box.x;
  const oy = ring.y - box.y;
  const oz = ring.z - box.z;
  const mesh = ring.mesh;
  for (let i = 0; i < nr; i++) {
    const middle = 0.5 * (mesh.nodeZ[i]! + mesh.nodeZ[i + 1]!) + oz;
    const rim = Math.max(mesh.nodeR[i]!, mesh.nodeR[i + 1]!);
    const coarse = panelPoints(mesh, i, 1, false);
    const fine = panelPoints(mesh, i, 2, false);
    for (let j = 0; j < nb; j++) {
      // Most pairs are far apart: their distance decides how finely the ring is taken.
      const gap = Math.max(0.05 * rim, distanceToRectangle(box.mesh, j, ox, oy, middle) - rim);
      const around = pointsAround(rim, gap);
      const points = mesh.length[i]! > 0.3 * gap ? fine : coarse;
      const { cos, sin } = circle(around);
      const axis = box.mesh.axis[j]!;
      const row = i * nb + j;
      const at = j * 3 * nr + i;
      for (let p = 0; p < points.r.length; p++) {
        const share = points.weight[p]! / around;
        const perArea = share / mesh.area[i]!;
        const outward = (-box.mesh.sign[j]! * share) / box.mesh.area[j]!;
        for (let k = 0; k < around; k++) {
          const c = cos[k]!;
          const s = sin[k]!;
          rectangleAt(
            box.mesh,
            j,
            ox + points.r[p]! * c,
            oy + points.r[p]! * s,
            oz + points.z[p]!,
            h,
            POINTS_FROM,
          );
          const nx = perArea * mesh.normalR[i]! * c;
          const ny = perArea * mesh.normalR[i]! * s;
          const nz = perArea * mesh.normalZ[i]!;
          const normal = nx * h[0]! + ny * h[1]! + nz * h[2]!;
          toRing[row] = toRing[row]! + normal;
          toRing[row + nr * nb] = toRing[row + nr * nb]! + 2 * normal * c;
          toRing[row + 2 * nr * nb] = toRing[row + 2 * nr * nb]! + 2 * normal * s;
          const normalU = nx * h[3]! + ny * h[4]! + nz * h[5]!;
          oddU[row] = oddU[row]! + normalU;
          oddU[row + nr * nb] = oddU[row + nr * nb]! + 2 * normalU * c;
          oddU[row + 2 * nr * nb] = oddU[row + 2 * nr * nb]! + 2 * normalU * s;
          const normalV = nx * h[6]! + ny * h[7]! + nz * h[8]!;
          oddV[row] = oddV[row]! + normalV;
          oddV[row + nr * nb] = oddV[row + nr * nb]! + 2 * normalV * c;
          oddV[row + 2 * nr * nb] = oddV[row + 2 * nr * nb]! + 2 * normalV * s;
          const flux = outward * h[axis]!;
          toBox[at] = toBox[at]! + flux;
          toBox[at + nr] = toBox[at + nr]! + flux * c;
          toBox[at + 2 * nr] = toBox[at + 2 * nr]! + flux * s;
          const lean = flux * points.along[p]!;
          oddBox[at] = oddBox[at]! + lean;
          oddBox[at + nr] = oddBox[at + nr]! + lean * c;
          oddBox[at + 2 * nr] = oddBox[at + 2 * nr]! + lean * s;
        }
      }
    }
  }
  foldSlopes(toBox, oddBox, mesh, nb);
  addFaceSlopes(toRing, oddU, oddV, box.mesh);
  for (let j = 0; j < nb; j++) balanceFlux(toRing, j, nb, mesh.area);
  for (let i = 0; i < 3 * nr; i++) balanceFlux(toBox, i, 3 * nr, box.mesh.area);
  return { toRing, toBox };
}

/** As addSlopes, for rows that hold three runs of ring densities. */
function foldSlopes(block: Float64Array, odd: Float64Array, mesh: RingMesh, rows: number): void {
  const n = mesh.n;
  const { before, here, after } = mesh.slope;
  for (let run = 0; run < 3 * rows; run++) {
    for (let j = 0; j < n; j++) {
      const at = run * n + j;
      const response = odd[at]!;
      block[at] = block[at]! + response * here[j]!;
      if (before[j] !== 0) block[at - 1] = block[at - 1]! + response * before[j]!;
      if (after[j] !== 0) block[at + 1] = block[at + 1]! + response * after[j]!;
    }
  }
}

/** A source point is moved off its face by this share of the thickness, to say on which side it lies. */
const OFF_FACE = 1e-9;

/**
 * target.n × source.n: mean normal field on the target's rectangles; on a box itself the principal value.
 *
 * @param dx dy dz the source's centre from the target's, m
 */
export function boxBlock(
  target: BoxMesh,
  source: BoxMesh,
  dx: number,
  dy: number,
  dz: number,
  itself: boolean,
): Float64Array {
  const block = new Float64Array(target.n * source.n);
  const oddU = new Float64Array(target.n * source.n);
  const oddV = new Float64Array(target.n * source.n);
  const at = new Float64Array(3);
  // Outside the target in either case, see ringBlock0.
  const off = (itself ? 1 : -1) * OFF_FACE * Math.min(source.size.x, source.size.y, source.size.z);
  const d = new Float64Array(3);
  for (let j = 0; j < source.n; j++) {
    const axis = source.axis[j]!;
    const u = (axis + 1) % 3;
    const v = (axis + 2) % 3;
    const a = source.halfU[j]!;
    const b = source.halfV[j]!;
    for (let i = 0; i < target.n; i++) {
      const normal = target.axis[i]!;
      const tu = (normal + 1) % 3;
      const tv = (normal + 2) % 3;
      d[0] = source.centre[3 * j]! + dx - target.centre[3 * i]!;
      d[1] = source.centre[3 * j + 1]! + dy - target.centre[3 * i + 1]!;
      d[2] = source.centre[3 * j + 2]! + dz - target.centre[3 * i + 2]!;
      d[axis] = d[axis]! + off * source.sign[j]!;
      const far2 = d[0] ** 2 + d[1] ** 2 + d[2] ** 2;
      const edge = 2 * Math.max(a, b);
      const rule = gaussLegendre(far2 > 4 * edge * edge ? 2 : 4);
      let flux = 0;
      let fluxU = 0;
      let fluxV = 0;
      for (let k = 0; k < rule.x.length; k++) {
        for (let l = 0; l < rule.x.length; l++) {
          at.set(d);
          at[u] = at[u]! + a * rule.x[k]!;
          at[v] = at[v]! + b * rule.x[l]!;
          const through =
            rule.w[k]! *
            rule.w[l]! *
            rectangleNormalField(at[tu]!, at[tv]!, at[normal]!, target.halfU[i]!, target.halfV[i]!);
          flux -= through;
          fluxU -= through * a * rule.x[k]!;
          fluxV -= through * b * rule.x[l]!;
        }
      }
      const scale = (0.25 * target.sign[i]! * source.area[j]!) / target.area[i]!;
      block[i * source.n + j] = scale * flux;
      oddU[i * source.n + j] = scale * fluxU;
      oddV[i * source.n + j] = scale * fluxV;
    }
  }
  addFaceSlopes(block, oddU, oddV, source);
  for (let j = 0; j < source.n; j++) {
    balanceFlux(block, j, source.n, target.area);
    if (itself) block[j * source.n + j] = block[j * source.n + j]! + 0.5;
  }
  return block;
}
