/** What one rectangle of a box does to another: mean normal field, for a uniform density and its two slopes. */
import { rectangleLinearField, rectangleNormalField } from './rectangle.ts';
import { gaussLegendre } from '../../numerics/quadrature.ts';

/**
 * Mean field on the target, along its axis, of densities 1, u′ and v′ on the source (1, m, m), after every call of betweenRectangles.
 * u and v are the axes that follow that of the source's normal w in the order x, y, z, x, y.
 */
export const pairField = new Float64Array(3);

/** Places and weights of the rules of one, two and three points on −1 to 1; n points begin at n (n − 1)/2. */
const PLACES = new Float64Array(6);
const SHARES = new Float64Array(6);
for (let n = 1, at = 0; n <= 3; n++) {
  const { x, w } = gaussLegendre(n);
  for (let k = 0; k < n; k++, at++) {
    PLACES[at] = x[k]!;
    SHARES[at] = 0.5 * w[k]!;
  }
}

/**
 * Edges over the gap between two rectangles up to which so many points along an edge serve: one on the source (its density's slope is
 * lost then), one on the target, two and three on either. Errors at each limit: 1e-2 of a pair for one
 * point, 2e-3 for more. Not round, so that no mesh's own
 * proportions fall on them and rounding decides.
 */
const ONE = 0.0973;
const ONE_FELT = 0.1963;
const TWO = 0.6937;
const THREE = 1.2971;

/** @param ratio edge over gap; @param one up to where one point serves */
const pointsFar = (ratio: number, one: number): number => (ratio < one ? 1 : ratio < TWO ? 2 : 3);

/** What byPoints is given, as farPair is: numbers handed to a function that is not written out where it is called are boxed, each. */
const given = new Float64Array(9);

/**
 * @param u v w the source's middle from the target's, m, along the source's axes
 * @param a b half edges of the source along u and v, m
 * @param eu ev ew those of the target along the same axes, m; 0 along its normal
 * @param normal that axis of the target: 0, 1, 2 for w, u, v
 * @param gap between the two, m
 * @returns false, with nothing done, where they are too close for points
 */
export function farPair(
  u: number,
  v: number,
  w: number,
  a: number,
  b: number,
  eu: number,
  ev: number,
  ew: number,
  normal: number,
  gap: number,
): boolean {
  const per = 2 / gap;
  const source = Math.max(a, b) * per;
  const target = Math.max(eu, ev, ew) * per;
  if (!(source < THREE && target < THREE)) return false;
  if (source < ONE && target < ONE_FELT) {
    const d2 = u * u + v * v + w * w;
    const along = normal === 0 ? w : normal === 1 ? u : v;
    pairField[0] = (-a * b * along) / (Math.PI * d2 * Math.sqrt(d2));
    pairField[1] = 0;
    pairField[2] = 0;
    return true;
  }
  given[0] = u;
  given[1] = v;
  given[2] = w;
  given[3] = a;
  given[4] = b;
  given[5] = eu;
  given[6] = ev;
  given[7] = ew;
  given[8] = per;
  byPoints(normal);
  return true;
}

function byPoints(normal: number): void {
  const u = given[0]!;
  const v = given[1]!;
  const w = given[2]!;
  const a = given[3]!;
  const b = given[4]!;
  const eu = given[5]!;
  const ev = given[6]!;
  const ew = given[7]!;
  const per = given[8]!;
  const na = pointsFar(a * per, ONE);
  const nb = pointsFar(b * per, ONE);
  const nu = pointsFar(eu * per, ONE_FELT);
  const nv = pointsFar(ev * per, ONE_FELT);
  const nw = pointsFar(ew * per, ONE_FELT);
  const atA = first(na);
  const atB = first(nb);
  const atU = first(nu);
  const atV = first(nv);
  const atW = first(nw);
  let sum = 0;
  let sumU = 0;
  let sumV = 0;
  for (let iw = atW; iw < atW + nw; iw++) {
    const dw = w - ew * PLACES[iw]!;
    for (let iv = atV; iv < atV + nv; iv++) {
      const dv = v - ev * PLACES[iv]!;
      for (let iu = atU; iu < atU + nu; iu++) {
        const share = SHARES[iu]! * SHARES[iv]! * SHARES[iw]!;
        const du = u - eu * PLACES[iu]!;
        for (let k = 0; k < na; k++) {
          const pu = a * PLACES[atA + k]!;
          const qu = du + pu;
          const left = qu * qu + dw * dw;
          const shareU = share * SHARES[atA + k]!;
          for (let l = 0; l < nb; l++) {
            const pv = b * PLACES[atB + l]!;
            const qv = dv + pv;
            const d2 = left + qv * qv;
            const along = normal === 0 ? dw : normal === 1 ? qu : qv;
            const part = (shareU * SHARES[atB + l]! * along) / (d2 * Math.sqrt(d2));
            sum += part;
            sumU += part * pu;
            sumV += part * pv;
          }
        }
      }
    }
  }
  const scale = -(a * b) / Math.PI;
  pairField[0] = scale * sum;
  pairField[1] = scale * sumU;
  pairField[2] = scale * sumV;
}

const first = (count: number): number => (count * (count - 1)) >> 1;

/** The closed form of the target at points on the source; arguments as in farPair, m. @param na nb points along u and v */
export function targetClosed(
  u: number,
  v: number,
  w: number,
  a: number,
  b: number,
  eu: number,
  ev: number,
  ew: number,
  normal: number,
  na: number,
  nb: number,
): void {
  const ruleU = gaussLegendre(na);
  const ruleV = gaussLegendre(nb);
  let sum = 0;
  let sumU = 0;
  let sumV = 0;
  for (let k = 0; k < na; k++) {
    const pu = a * ruleU.x[k]!;
    for (let l = 0; l < nb; l++) {
      const pv = b * ruleV.x[l]!;
      // The target's tangents follow its normal.
      const flux =
        normal === 0
          ? rectangleNormalField(u + pu, v + pv, w, eu, ev)
          : normal === 1
            ? rectangleNormalField(v + pv, w, u + pu, ev, ew)
            : rectangleNormalField(w, u + pu, v + pv, ew, eu);
      const part = ruleU.w[k]! * ruleV.w[l]! * flux;
      sum += part;
      sumU += part * pu;
      sumV += part * pv;
    }
  }
  // Of area over area; weights sum to 4.
  const felt = normal === 0 ? eu * ev : normal === 1 ? ev * ew : ew * eu;
  const scale = -(0.25 * a * b) / felt;
  pairField[0] = scale * sum;
  pairField[1] = scale * sumU;
  pairField[2] = scale * sumV;
}

const field = new Float64Array(9);

/** The closed form of the source at points on the target; arguments as in farPair, m. @param nu nv nw points along u, v and w */
export function sourceClosed(
  u: number,
  v: number,
  w: number,
  a: number,
  b: number,
  eu: number,
  ev: number,
  ew: number,
  normal: number,
  nu: number,
  nv: number,
  nw: number,
): void {
  const ruleU = gaussLegendre(nu);
  const ruleV = gaussLegendre(nv);
  const ruleW = gaussLegendre(nw);
  const along = normal === 0 ? 2 : normal - 1;
  pairField.fill(0);
  for (let i = 0; i < nu; i++) {
    for (let j = 0; j < nv; j++) {
      for (let k = 0; k < nw; k++) {
        rectangleLinearField(eu * ruleU.x[i]! - u, ev * ruleV.x[j]! - v, ew * ruleW.x[k]! - w, a, b, field);
        const share = 0.125 * ruleU.w[i]! * ruleV.w[j]! * ruleW.w[k]!;
        pairField[0] = pairField[0]! + share * field[along]!;
        pairField[1] = pairField[1]! + share * field[3 + along]!;
        pairField[2] = pairField[2]! + share * field[6 + along]!;
      }
    }
  }
}
