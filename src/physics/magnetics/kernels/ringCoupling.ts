/** How one round pole acts on another whose axis stands beside it: both as points around their rings. */
import { balanceFlux } from './fluxBalance.ts';
import { addSlopes, panelPoints } from '../bodies/ringPoints.ts';
import type { RingMesh } from '../bodies/ringMesh.ts';

/**
 * Five blocks, each target.n × source.n, in the frame whose first axis points from the target's axis to the
 * source's. Mirror symmetry leaves these: uniform and cosine couple with each other, sine only with sine.
 */
export interface PairBlocks {
  readonly uu: Float64Array;
  readonly uc: Float64Array;
  readonly cu: Float64Array;
  readonly cc: Float64Array;
  readonly ss: Float64Array;
}

/** Points around a ring of radius a seen from at least `distance`: the first missed harmonic is below 1e-3. */
function pointsAround(a: number, distance: number): number {
  const wanted = 1 + Math.log(1e-3) / Math.log(a / distance);
  return 2 * Math.ceil(0.5 * Math.min(24, Math.max(4, wanted)));
}

/** Panel points of a whole mesh: one on short panels, two on those longer than 0.3 of the gap. */
function allPoints(mesh: RingMesh, gap: number) {
  const panel: number[] = [];
  const r: number[] = [];
  const z: number[] = [];
  const weight: number[] = [];
  const along: number[] = [];
  for (let j = 0; j < mesh.n; j++) {
    const points = panelPoints(mesh, j, mesh.length[j]! > 0.3 * gap ? 2 : 1, false);
    for (let k = 0; k < points.r.length; k++) {
      panel.push(j);
      r.push(points.r[k]!);
      z.push(points.z[k]!);
      weight.push(points.weight[k]!);
      along.push(points.along[k]!);
    }
  }
  return { count: panel.length, panel, r, z, weight, along };
}

/**
 * @param distance between the axes, m; more than the sum of the radii
 * @param rise height of the source's frame above the target's, m
 * Source: Coulomb's law; the trapezoidal rule around a ring converges geometrically [TrefethenWeideman2014].
 */
export function ringCoupling(target: RingMesh, source: RingMesh, distance: number, rise: number): PairBlocks {
  const gap = distance - target.radius - source.radius;
  const nt = target.n;
  const ns = source.n;
  const even = Array.from({ length: 5 }, () => new Float64Array(nt * ns));
  const odd = Array.from({ length: 5 }, () => new Float64Array(nt * ns));
  const onTarget = allPoints(target, gap);
  const onSource = allPoints(source, gap);
  const around = Math.max(
    pointsAround(source.radius, distance - target.radius),
    pointsAround(target.radius, distance - source.radius),
  );
  const half = around / 2;
  const cos = new Float64Array(around);
  const sin = new Float64Array(around);
  for (let k = 0; k < around; k++) {
    cos[k] = Math.cos((2 * Math.PI * (k + 0.5)) / around);
    sin[k] = Math.sin((2 * Math.PI * (k + 0.5)) / around);
  }
  for (let p = 0; p < onTarget.count; p++) {
    const i = onTarget.panel[p]!;
    const rt = onTarget.r[p]!;
    const nr = target.normalR[i]!;
    const nz = target.normalZ[i]!;
    // Mean over the ring; the target's half circle counts twice by symmetry.
    const share = onTarget.weight[p]! / (target.area[i]! * half * around * 4 * Math.PI);
    for (let q = 0; q < onSource.count; q++) {
      const j = onSource.panel[q]!;
      const rs = onSource.r[q]!;
      const dz = onTarget.z[p]! - onSource.z[q]! - rise;
      const axial = nz * dz;
      let uu = 0;
      let uc = 0;
      let cu = 0;
      let cc = 0;
      let ss = 0;
      for (let k = 0; k < half; k++) {
        const ct = cos[k]!;
        const st = sin[k]!;
        const x = rt * ct - distance;
        const y = rt * st;
        let fu = 0;
        let fc = 0;
        let fs = 0;
        for (let l = 0; l < around; l++) {
          const cl = cos[l]!;
          const sl = sin[l]!;
          const dx = x - rs * cl;
          const dy = y - rs * sl;
          const d2 = dx * dx + dy * dy + dz * dz;
          const normal = (nr * (dx * ct + dy * st) + axial) / (d2 * Math.sqrt(d2));
          fu += normal;
          fc += normal * cl;
          fs += normal * sl;
        }
        uu += fu;
        uc += fc;
        cu += fu * ct;
        cc += fc * ct;
        ss += fs * st;
      }
      const at = i * ns + j;
      const scale = share * onSource.weight[q]!;
      const lean = scale * onSource.along[q]!;
      even[0]![at] = even[0]![at]! + scale * uu;
      even[1]![at] = even[1]![at]! + scale * uc;
      even[2]![at] = even[2]![at]! + 2 * scale * cu;
      even[3]![at] = even[3]![at]! + 2 * scale * cc;
      even[4]![at] = even[4]![at]! + 2 * scale * ss;
      odd[0]![at] = odd[0]![at]! + lean * uu;
      odd[1]![at] = odd[1]![at]! + lean * uc;
      odd[2]![at] = odd[2]![at]! + 2 * lean * cu;
      odd[3]![at] = odd[3]![at]! + 2 * lean * cc;
      odd[4]![at] = odd[4]![at]! + 2 * lean * ss;
    }
  }
  even.forEach((block, m) => addSlopes(block, odd[m]!, source));
  for (let j = 0; j < ns; j++) {
    balanceFlux(even[0]!, j, ns, target.area);
    balanceFlux(even[1]!, j, ns, target.area);
  }
  return { uu: even[0]!, uc: even[1]!, cu: even[2]!, cc: even[3]!, ss: even[4]! };
}
