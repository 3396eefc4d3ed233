/** Where flux lines meet the bodies: along their outlines, so that neighbours enclose equal shares of flux. */
import type { Body } from '../magnetics/bodies/body.ts';
import type { Lattice } from '../../shape/lattice.ts';
import { outlineOf } from './outline.ts';
import type { FieldSources } from './sources.ts';
import type { SectionPicture } from './types.ts';

/** Flux of the tube between neighbouring lines, Wb: of the whole ring for a round pole. */
const SHARE = 0.7e-6;
/** A bar's flux is counted over this length along it, m: the part that faces one pole. */
const DEPTH = 10e-3;
/** Samples lie this far outside the surface, and apart along it, m. */
const OFF = 1.5e-4;
const APART = 4e-4;

type NodeComponents = Lattice & Pick<SectionPicture, 'bu' | 'bv'>;

/** For every start u, v (m), and 1 where flux leaves the body or −1 where it enters. */
export function fluxStarts(sources: FieldSources, y: number, field: NodeComponents): Float64Array {
  const starts: number[] = [];
  for (const body of sources.bodies) {
    const outline = outlineOf(body, y);
    if (!outline) continue;
    for (const way of waysRound(body, outline)) {
      // Outflow and inflow share the way, each with its own count; the first line stands at half a share.
      const passed = [0.5 * SHARE, 0.5 * SHARE];
      alongWay(way, (u, v, nu, nv, length) => {
        const normal = between(field, field.bu, u, v) * nu + between(field, field.bv, u, v) * nv;
        const width = body.kind === 'ring' ? 2 * Math.PI * Math.abs(u - body.x) : DEPTH;
        const flux = normal * width * length;
        // Beyond the lattice nothing is known, and nothing drawn.
        if (Number.isNaN(flux)) return;
        const side = flux > 0 ? 0 : 1;
        passed[side] = passed[side]! + Math.abs(flux);
        if (passed[side] < SHARE) return;
        passed[side] %= SHARE;
        starts.push(u, v, flux > 0 ? 1 : -1);
      });
    }
  }
  return Float64Array.from(starts);
}

/** Corners in turn: both halves of a round pole from the middle of its top down, a bar once round. */
function waysRound(body: Body, outline: Float64Array): readonly (readonly (readonly [number, number])[])[] {
  const corners = Array.from({ length: outline.length / 2 }, (_, k): readonly [number, number] => [
    outline[2 * k]!,
    outline[2 * k + 1]!,
  ]);
  if (body.kind === 'box') return [[...corners, corners[0]!]];
  const half = corners.slice(0, corners.length / 2).toReversed();
  const right = [[body.x, half[0]![1]] as const, ...half, [body.x, half.at(-1)![1]] as const];
  return [right, right.map(([u, v]) => [2 * body.x - u, v] as const)];
}

/** Calls at the middle of every piece of the way: place, outward normal, length. */
function alongWay(
  way: readonly (readonly [number, number])[],
  visit: (u: number, v: number, nu: number, nv: number, length: number) => void,
): void {
  // Twice the area that the way encloses tells which side is outwards.
  let turn = 0;
  for (let k = 1; k <= way.length; k++) {
    const a = way[k - 1]!;
    const b = way[k % way.length]!;
    turn += a[0] * b[1] - b[0] * a[1];
  }
  const out = turn > 0 ? 1 : -1;
  for (let k = 1; k < way.length; k++) {
    const [u1, v1] = way[k - 1]!;
    const [u2, v2] = way[k]!;
    const whole = Math.hypot(u2 - u1, v2 - v1);
    if (whole === 0) continue;
    const pieces = Math.ceil(whole / APART);
    const nu = (out * (v2 - v1)) / whole;
    const nv = (-out * (u2 - u1)) / whole;
    for (let i = 0; i < pieces; i++) {
      const t = (i + 0.5) / pieces;
      visit(u1 + t * (u2 - u1) + OFF * nu, v1 + t * (v2 - v1) + OFF * nv, nu, nv, whole / pieces);
    }
  }
}

/** Bilinear; NaN beyond the lattice and where a node has no value. */
function between({ u0, v0, step, nu, nv }: Lattice, values: Float32Array, u: number, v: number): number {
  const p = (u - u0) / step;
  const q = (v - v0) / step;
  if (!(p >= 0 && q >= 0 && p < nu - 1 && q < nv - 1)) return NaN;
  const k = Math.floor(q) * nu + Math.floor(p);
  const s = p % 1;
  const t = q % 1;
  const low = values[k]! * (1 - s) + values[k + 1]! * s;
  const high = values[k + nu]! * (1 - s) + values[k + nu + 1]! * s;
  return low * (1 - t) + high * t;
}
