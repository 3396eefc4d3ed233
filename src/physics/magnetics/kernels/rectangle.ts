/** Closed forms of the uniformly charged rectangle. */

/**
 * asinh(v₁/p) − asinh(v₂/p) for v₁ > v₂, where R² = p² + v², without cancellation for negative v; in line with an edge, beyond its
 * ends, p is 0.
 */
function along(v1: number, R1: number, v2: number, R2: number, p2: number): number {
  if (v1 < 0) return Math.log((R2 - v2) / (R1 - v1));
  return Math.log(v2 < 0 ? ((v1 + R1) * (R2 - v2)) / p2 : (v1 + R1) / (v2 + R2));
}

/** atan of the quotient; where the field point lies in the rectangle's plane it is the mean of both sides, zero. */
function wedge(u: number, v: number, w: number, R: number): number {
  // Never atan2: each of the four angles must stay within ±π/2.
  return w === 0 ? 0 : Math.atan((u * v) / (w * R));
}

/**
 * Field of the rectangle |u| ≤ a, |v| ≤ b, w = 0 for three charge densities: 1 (A/m), u′ and v′ (places on the rectangle
 * from its centre, m).
 *
 * Case 1, in the rectangle's plane: the normal component is the mean of both sides, zero. Case 2, on an edge or a
 * corner: infinite. By reciprocity out[2] times −1 is also the flux through the rectangle, in the direction of +w,
 * of a unit charge at (u, v, w).
 *
 * @param out nine numbers, A/m, local components: H of density 1 (u, v, w), of density u′, of density v′
 * Source: [EngelHerbert2005] eqs. 2–4, one face; the others by parts, e.g. ∬ u′ w/R³ = u H_w − w H_u. Digits: 1e-12.
 */
export function rectangleLinearField(
  u: number,
  v: number,
  w: number,
  a: number,
  b: number,
  out: Float64Array,
): void {
  const u1 = u + a;
  const u2 = u - a;
  const v1 = v + b;
  const v2 = v - b;
  const w2 = w * w;
  const u11 = u1 * u1 + w2;
  const u22 = u2 * u2 + w2;
  const v11 = v1 * v1 + w2;
  const v22 = v2 * v2 + w2;
  const r11 = Math.sqrt(u11 + v1 * v1);
  const r12 = Math.sqrt(u11 + v2 * v2);
  const r21 = Math.sqrt(u22 + v1 * v1);
  const r22 = Math.sqrt(u22 + v2 * v2);
  const scale = 1 / (4 * Math.PI);
  // Differences of asinh(v/√(u²+w²)) at constant u, and of asinh(u/√(v²+w²)) at constant v.
  const alongV1 = along(v1, r11, v2, r12, u11);
  const alongV2 = along(v1, r21, v2, r22, u22);
  const alongU1 = along(u1, r11, u2, r21, v11);
  const alongU2 = along(u1, r12, u2, r22, v22);
  const angle = wedge(u1, v1, w, r11) - wedge(u1, v2, w, r12) - wedge(u2, v1, w, r21) + wedge(u2, v2, w, r22);
  const roots = r11 - r12 - r21 + r22;
  const hu = scale * (alongV2 - alongV1);
  const hv = scale * (alongU2 - alongU1);
  const hw = scale * angle;
  out[0] = hu;
  out[1] = hv;
  out[2] = hw;
  out[3] = u * hu - scale * (v1 * alongU1 - v2 * alongU2 - w * angle);
  out[4] = u * hv + scale * roots;
  out[5] = u * hw - w * hu;
  out[6] = v * hu + scale * roots;
  out[7] = v * hv - scale * (u1 * alongV1 - u2 * alongV2 - w * angle);
  out[8] = v * hw - w * hv;
}

/** The field of density 1 along w alone, 1: the signed solid angle over 4π. Lengths in m. */
export function rectangleNormalField(u: number, v: number, w: number, a: number, b: number): number {
  if (w === 0) return 0;
  const u1 = u + a;
  const u2 = u - a;
  const v1 = v + b;
  const v2 = v - b;
  const w2 = w * w;
  const iw = 1 / w;
  const u11 = u1 * u1 + w2;
  const u22 = u2 * u2 + w2;
  const v11 = v1 * v1;
  const v22 = v2 * v2;
  return (
    (Math.atan((u1 * v1 * iw) / Math.sqrt(u11 + v11)) -
      Math.atan((u1 * v2 * iw) / Math.sqrt(u11 + v22)) -
      Math.atan((u2 * v1 * iw) / Math.sqrt(u22 + v11)) +
      Math.atan((u2 * v2 * iw) / Math.sqrt(u22 + v22))) /
    (4 * Math.PI)
  );
}
