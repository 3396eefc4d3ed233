/**
 * Charges of a body, or of a part of it, gathered on a few points: from far away they have the same field. Along each direction the
 * points are Chebyshev's, and every charge goes to them by the polynomials that are 1 at one of them: the field of a far charge
 * is so smooth across the body that these reach it.
 *
 * Source: interpolation of a kernel at Chebyshev points and its error, ρ^−n for a function that is analytic within the ellipse of
 * parameter ρ about the interval [Trefethen2013] ch. 8.
 */
import type { BoxBody, RingBody } from '../bodies/body.ts';
import type { BoxMesh } from '../bodies/boxMesh.ts';
import { panelPoints, slopeAt } from '../bodies/ringPoints.ts';
import { faceSlopeAt } from '../kernels/boxPoint.ts';
import { gaussLegendre } from '../../numerics/quadrature.ts';
import type { Coupling } from './assemble.ts';

/** Points in the pickup's frame, m, and their charges, A·m over 4π, a list for every set of densities. */
export interface GatheredCharges {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly z: Float64Array;
  readonly q: readonly Float64Array[];
}

/** What the polynomials may miss, of the field of the charges that they gather. */
const MISSED = 3e-4;
/** Points around a pole, and one more on its axis: they have all its moments of first and second order. */
const AROUND = 6;
export const PER_HEIGHT = AROUND + 1;
/** See #gatherRings. */
const HARMONICS = 6;
/** More points than this along an interval are not worth it. */
const MOST = 40;

/**
 * Points along an interval of half the length `half` (m) that charges on it are gathered on, for a field that is asked for at `ahead` of
 * its middle along its direction and `aside` of it across (m, from 0); Infinity where it is asked for too close.
 */
export function pointsFor(half: number, ahead: number, aside: number): number {
  const [re, im] = [Math.abs(ahead) / half, aside / half];
  // ρ = |w + √(w² − 1)|, w where the kernel is singular, in units of half the interval.
  const [u, v] = [re * re - im * im - 1, 2 * re * im];
  const root = Math.hypot(u, v);
  const [a, b] = [Math.sqrt(0.5 * (root + u)), Math.sqrt(Math.max(0, 0.5 * (root - u)))];
  const rho = Math.hypot(re + a, im + b);
  const count = Math.ceil(-Math.log(MISSED) / Math.log(rho));
  return rho > 1 && count <= MOST ? Math.max(2, count) : Infinity;
}

/** Chebyshev's points of the first kind on an interval, m, and the polynomials that are 1 at one of them and 0 at the others. */
class Interval {
  readonly places: Float64Array;
  readonly #weights: Float64Array;
  readonly #at: Float64Array;

  constructor(middle: number, half: number, count: number) {
    const angle = (k: number): number => ((2 * k + 1) * Math.PI) / (2 * count);
    this.places = Float64Array.from({ length: count }, (_, k) => middle + half * Math.cos(angle(k)));
    this.#weights = Float64Array.from({ length: count }, (_, k) => (k % 2 ? -1 : 1) * Math.sin(angle(k)));
    this.#at = new Float64Array(count);
  }

  /** The polynomials' values at a place, m; good until the next call. Barycentric form [Trefethen2013] ch. 5. */
  at(place: number): Float64Array {
    const out = this.#at;
    let sum = 0;
    for (let k = 0; k < out.length; k++) {
      const away = place - this.places[k]!;
      if (away === 0) return out.fill(0).fill(1, k, k + 1);
      sum += out[k] = this.#weights[k]! / away;
    }
    for (let k = 0; k < out.length; k++) out[k] = out[k]! / sum;
    return out;
  }
}

/** Solutions of one matrix, and what was gathered of them. */
export class ChargeSources {
  readonly bodies: Coupling['bodies'];
  readonly offsets: Coupling['offsets'];
  readonly densities: readonly Float64Array[];
  readonly seconds: readonly Float64Array[] | undefined;
  /** Where every body's second harmonics begin. */
  readonly secondOffsets: readonly number[];
  readonly #gathered = new Map<string, GatheredCharges>();

  /**
   * @param densities solutions of solveCharges, A/m
   * @param seconds of secondHarmonic, one for each of the densities; left out, they are taken as zero
   */
  constructor(
    { bodies, offsets }: Pick<Coupling, 'bodies' | 'offsets'>,
    densities: readonly Float64Array[],
    seconds?: readonly Float64Array[],
  ) {
    this.bodies = bodies;
    this.offsets = offsets;
    this.densities = densities;
    this.seconds = seconds;
    let at = 0;
    this.secondOffsets = bodies.map((body) => {
      const begin = at;
      if (body.kind === 'ring') at += 2 * body.mesh.n;
      return begin;
    });
  }

  /** The lowest panels of round body b, `panels` of them, on `count` heights. */
  rings(b: number, panels: number, count: number): GatheredCharges {
    return this.#kept(`${b} ${panels} ${count}`, () => this.#gatherRings(b, panels, count));
  }

  /** A whole box, on so many points along x, y and z. */
  box(b: number, counts: readonly [number, number, number]): GatheredCharges {
    return this.#kept(`${b} ${counts.join(' ')}`, () => this.#gatherBox(b, counts));
  }

  #kept(key: string, gather: () => GatheredCharges): GatheredCharges {
    const found = this.#gathered.get(key) ?? gather();
    this.#gathered.set(key, found);
    return found;
  }

  /** Rings of all radii stand on one radius: with the axis they keep the moments of zeroth, first and second order. */
  #gatherRings(b: number, panels: number, count: number): GatheredCharges {
    const body = this.bodies[b] as RingBody;
    const { mesh } = body;
    const { n, radius } = mesh;
    const at = this.offsets[b]!;
    const at2 = this.secondOffsets[b]!;
    const [bottom, top] = [mesh.nodeZ[0]!, mesh.nodeZ[panels]!];
    const heights = new Interval(0.5 * (bottom + top), 0.5 * (top - bottom), count);
    const size = count * PER_HEIGHT;
    const q = this.densities.map(() => new Float64Array(size));
    const angle = Float64Array.from({ length: AROUND }, (_, l) => (2 * Math.PI * (l + 0.5)) / AROUND);
    const [cos, sin] = [angle.map(Math.cos), angle.map(Math.sin)];
    // On every height first what each harmonic has there: 1 around the radius, cos φ, sin φ, cos 2φ, sin 2φ, and 1 on the axis.
    const onHeights = this.densities.map(() => new Float64Array(HARMONICS * count));
    const here = new Float64Array(HARMONICS);
    for (let j = 0; j < panels; j++) {
      const points = panelPoints(mesh, j, 2, false);
      for (let k = 0; k < 2; k++) {
        const share = heights.at(points.z[k]!);
        const out = points.r[k]! / radius;
        const along = points.along[k]!;
        const weight = points.weight[k]! / (4 * Math.PI);
        for (let s = 0; s < q.length; s++) {
          const density = this.densities[s]!;
          const second = this.seconds?.[s];
          const q0 = weight * (density[at + j]! + along * slopeAt(mesh, density, at, j));
          for (let h = 1; h < 3; h++)
            here[h] =
              out * weight * (density[at + h * n + j]! + along * slopeAt(mesh, density, at + h * n, j));
          const twice = out * out * weight;
          here[0] = q0 * out * out;
          here[3] = second ? twice * second[at2 + j]! : 0;
          here[4] = second ? twice * second[at2 + n + j]! : 0;
          here[5] = q0 * (1 - out * out);
          const sums = onHeights[s]!;
          for (let i = 0, to = 0; i < count; i++) {
            for (let h = 0; h < HARMONICS; h++, to++) sums[to] = sums[to]! + share[i]! * here[h]!;
          }
        }
      }
    }
    onHeights.forEach((sums, s) => {
      const charges = q[s]!;
      for (let i = 0, from = 0; i < count; i++, from += HARMONICS) {
        for (let l = 0; l < AROUND; l++) {
          const [c, d] = [cos[l]!, sin[l]!];
          charges[i * PER_HEIGHT + l] =
            (sums[from]! +
              sums[from + 1]! * c +
              sums[from + 2]! * d +
              sums[from + 3]! * (c * c - d * d) +
              2 * sums[from + 4]! * c * d) /
            AROUND;
        }
        charges[i * PER_HEIGHT + AROUND] = sums[from + 5]!;
      }
    });
    const place = (values: (l: number, i: number) => number): Float64Array =>
      Float64Array.from({ length: size }, (_, p) => values(p % PER_HEIGHT, Math.floor(p / PER_HEIGHT)));
    return {
      x: place((l) => body.x + radius * (cos[l] ?? 0)),
      y: place((l) => body.y + radius * (sin[l] ?? 0)),
      z: place((_, i) => body.z + heights.places[i]!),
      q,
    };
  }

  /** Face by face: what its rectangles have goes to the points of the face's plane first, and from there to those of the box. */
  #gatherBox(b: number, counts: readonly [number, number, number]): GatheredCharges {
    const body = this.bodies[b] as BoxBody;
    const { mesh } = body;
    const edges = [mesh.size.x, mesh.size.y, mesh.size.z];
    const along = edges.map((edge, k) => new Edge(edge, counts[k]!));
    const strides = [1, counts[0], counts[0] * counts[1]];
    const size = counts[0] * counts[1] * counts[2];
    const q = this.densities.map(() => new Float64Array(size));
    for (const { axis, at: place, rectangles } of planesOf(mesh)) {
      const [u, v] = [(axis + 1) % 3, (axis + 2) % 3];
      const deep = along[axis]!.at(place);
      this.densities.forEach((density, s) => {
        const flat = this.#gatherFace(b, density, rectangles, along[u]!, along[v]!);
        const charges = q[s]!;
        for (let i = 0; i < deep.length; i++) {
          for (let l = 0; l < counts[v]!; l++) {
            let p = i * strides[axis]! + l * strides[v]!;
            for (let m = 0, at = l * counts[u]!; m < counts[u]!; m++, at++, p += strides[u]!)
              charges[p] = charges[p]! + deep[i]! * flat[at]!;
          }
        }
      });
    }
    const places = (k: 0 | 1 | 2, middle: number): Float64Array =>
      Float64Array.from(
        { length: size },
        (_, p) => middle + along[k]!.places[Math.floor(p / strides[k]!) % counts[k]]!,
      );
    return { x: places(0, body.x), y: places(1, body.y), z: places(2, body.z), q };
  }

  /** Charges of rectangles on the points of their plane, those along u one after another; A·m over 4π. */
  #gatherFace(
    b: number,
    density: Float64Array,
    rectangles: readonly number[],
    alongU: Edge,
    alongV: Edge,
  ): Float64Array {
    const { mesh } = this.bodies[b] as BoxBody;
    const first = this.offsets[b]!;
    const [nu, nv] = [alongU.places.length, alongV.places.length];
    const flat = new Float64Array(nu * nv);
    for (const j of rectangles) {
      const axis = mesh.axis[j]!;
      const [a, c] = [mesh.halfU[j]!, mesh.halfV[j]!];
      const share = mesh.area[j]! / (4 * Math.PI);
      const even = share * density[first + j]!;
      const slopeU = share * a * faceSlopeAt(mesh.slopeU, density, first, j);
      const slopeV = share * c * faceSlopeAt(mesh.slopeV, density, first, j);
      const overU = alongU.over(mesh.centre[3 * j + ((axis + 1) % 3)]!, a);
      const overV = alongV.over(mesh.centre[3 * j + ((axis + 2) % 3)]!, c);
      for (let l = 0, at = 0; l < nv; l++) {
        const plain = even * overV.mean[l]! + slopeV * overV.slope[l]!;
        const sloped = slopeU * overV.mean[l]!;
        for (let m = 0; m < nu; m++, at++)
          flat[at] = flat[at]! + plain * overU.mean[m]! + sloped * overU.slope[m]!;
      }
    }
    return flat;
  }
}

/** Rectangles in one plane: a face's, or a sheet's. */
interface Plane {
  readonly axis: number;
  /** Where it lies along the axis, from the box's centre, m. */
  readonly at: number;
  readonly rectangles: number[];
}

function planesOf(mesh: BoxMesh): readonly Plane[] {
  const planes: Plane[] = [];
  for (let j = 0; j < mesh.n; j++) {
    const axis = mesh.axis[j]!;
    const at = mesh.centre[3 * j + axis]!;
    const last = planes.at(-1);
    if (last && last.axis === axis && last.at === at) last.rectangles.push(j);
    else planes.push({ axis, at, rectangles: [j] });
  }
  return planes;
}

/** What the polynomials are over a piece of an interval. */
interface Over {
  /** Their means, and those of their products with the place, which is −1 to 1 over the piece. */
  readonly mean: Float64Array;
  readonly slope: Float64Array;
}

/** A box's edge about its middle, and the pieces of it that rectangles have. */
class Edge extends Interval {
  readonly #pieces = new Map<number, Map<number, Over>>();

  constructor(edge: number, count: number) {
    super(0, 0.5 * edge, count);
  }

  /** @param middle half of the piece, m */
  over(middle: number, half: number): Over {
    let there = this.#pieces.get(middle);
    if (!there) this.#pieces.set(middle, (there = new Map<number, Over>()));
    let piece = there.get(half);
    if (!piece) there.set(half, (piece = this.#integrated(middle, half)));
    return piece;
  }

  #integrated(middle: number, half: number): Over {
    const count = this.places.length;
    const mean = new Float64Array(count);
    const slope = new Float64Array(count);
    // As many as sum the polynomials, which are of degree count − 1, and their products exactly.
    const { x, w } = gaussLegendre(Math.ceil(0.5 * (count + 1)));
    for (let k = 0; k < x.length; k++) {
      const here = this.at(middle + half * x[k]!);
      for (let i = 0; i < count; i++) {
        const part = 0.5 * w[k]! * here[i]!;
        mean[i] = mean[i]! + part;
        slope[i] = slope[i]! + part * x[k]!;
      }
    }
    return { mean, slope };
  }
}
