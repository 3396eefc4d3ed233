/**
 * Bodies that touch a steel box. Where two faces lie against each other their charges are nearly opposite and equal, some ten
 * times what both together are, and with high permeability the rest is lost in the error of two meshes that differ. So the
 * unknowns there are others: on the box τ, what both together are; on the other body its own charge σ, which is then the normal
 * component of its magnetisation,
 *
 *     σ = (µr − 1) H·n + M·n
 *     τ (µ + 1)/2 = (µ − 1) (K τ + H·n) + P σ
 *
 * with K of the charges that are left when every σ has met its opposite, µ the box's permeability, and P σ the mean of σ over
 * each rectangle of the box. Equal permeabilities leave no τ: inside steel there is no charge.
 *
 * A pole's end that is close over the steel is taken so as well; what its gap adds is in narrowGaps.
 *
 * Source: both conditions at a double surface, [Jackson1999] § 5.8, added and subtracted.
 */
import type { Body, BoxBody, RingBody } from '../bodies/body.ts';
import { onSurface } from '../bodies/boxMesh.ts';
import { facings } from '../bodies/facings.ts';
import type { PlacedBox } from '../bodies/facings.ts';
import type { Representatives } from '../bodies/mirror.ts';
import { panelPoints } from '../bodies/ringPoints.ts';
import { NARROW, spread } from './narrowGaps.ts';

/** Contacts among the representatives of all unknowns. */
export interface Contacts {
  /** Those that are a σ. */
  readonly hidden: Int32Array;
  /** P, entry by entry: what of the σ of `from` lies on the rectangle `to`. */
  readonly to: Int32Array;
  readonly from: Int32Array;
  readonly share: Float64Array;
}

/** Bodies nearer than this touch, m. */
const TOUCHING = 1e-7;
/** Points on a ring that tell on which rectangles it lies: along the panel, and around. */
const ALONG = 6;
const AROUND = 96;

/** Adds to P: σ of unknown `from` lies on rectangle `to` with this share of its density. */
type Add = (to: number, from: number, share: number) => void;

/** @param offsets start of every body's unknowns */
export function findContacts(
  bodies: readonly Body[],
  offsets: Int32Array,
  { of, sign, unknown }: Representatives,
): Contacts {
  const hidden = new Set<number>();
  const sums = new Map<number, { to: number; from: number; share: number }>();
  const add: Add = (to, from, share) => {
    if (of[from]! < 0) return;
    hidden.add(of[from]!);
    const row = of[to]!;
    if (unknown[row] !== to) return;
    const key = row * of.length + of[from]!;
    const known = sums.get(key);
    const value = share * sign[from]!;
    if (known) known.share += value;
    else sums.set(key, { to: row, from: of[from]!, share: value });
  };
  bodies.forEach((box, b) => {
    if (box.kind !== 'box' || !box.joins) return;
    bodies.forEach((ring, r) => {
      if (ring.kind === 'ring')
        ringOnBox(box, ring, ringsOn(box, ring, bodies), offsets[b]!, offsets[r]!, add);
    });
  });
  boxesOnBoxes(bodies, offsets, add);
  const all = [...sums.values()];
  return {
    hidden: Int32Array.from(hidden),
    to: Int32Array.from(all, ({ to }) => to),
    from: Int32Array.from(all, ({ from }) => from),
    share: Float64Array.from(all, ({ share }) => share),
  };
}

/** The rings of a pole's flat end that lies against a broad face of a steel box or close over it. */
export interface RingsOn {
  readonly panels: readonly number[];
  /** Side of the box. */
  readonly side: 1 | -1;
  /** 0 where they touch, which is to 1e-7 m; m. */
  readonly gap: number;
}

/** @param bodies where another box lies between, or against the end, the end is that one's */
export function ringsOn(box: BoxBody, ring: RingBody, bodies: readonly Body[]): RingsOn {
  const { size } = box.mesh;
  const { n, nodeZ, nodeR, normalZ } = ring.mesh;
  for (const side of box.joins ? ([-1, 1] as const) : []) {
    // A face that looks up carries a pole's lower end.
    const end = side > 0 ? nodeZ[0]! : nodeZ[n]!;
    const gap = side * (ring.z + end - (box.z + 0.5 * side * size.z));
    if (gap < -TOUCHING || gap > Math.max(TOUCHING, NARROW * ring.mesh.radius)) continue;
    const panels: number[] = [];
    let radius = 0;
    for (let i = 0; i < n; i++) {
      if (nodeZ[i] !== end || nodeZ[i + 1] !== end || normalZ[i]! * side > 0) continue;
      panels.push(i);
      radius = Math.max(radius, nodeR[i]!, nodeR[i + 1]!);
    }
    const inside =
      Math.abs(ring.x - box.x) + radius < 0.5 * size.x + TOUCHING &&
      Math.abs(ring.y - box.y) + radius < 0.5 * size.y + TOUCHING;
    if (!inside || panels.length === 0) continue;
    if (gap <= TOUCHING) return { panels, side, gap: 0 };
    const middle = ring.z + end - 0.5 * side * gap;
    const between = bodies.some(
      (other) =>
        other.kind === 'box' &&
        other !== box &&
        Math.abs(other.z - middle) < 0.5 * (other.mesh.size.z + gap) - TOUCHING &&
        Math.abs(other.x - ring.x) < 0.5 * other.mesh.size.x + radius &&
        Math.abs(other.y - ring.y) < 0.5 * other.mesh.size.y + radius,
    );
    if (!between) return { panels, side, gap };
  }
  return { panels: [], side: 1, gap: 0 };
}

/** Cosine and sine of the angles around. */
const AROUND_PLACES = Array.from({ length: AROUND }, (_, k) => {
  const angle = (2 * Math.PI * (k + 0.5)) / AROUND;
  return [Math.cos(angle), Math.sin(angle)] as const;
});

function ringOnBox(
  box: BoxBody,
  ring: RingBody,
  end: RingsOn,
  toBox: number,
  toRing: number,
  add: Add,
): void {
  const { panels, side, gap } = end;
  if (panels.length === 0) return;
  const { mesh } = ring;
  const face = facePanels(box, 2, side);
  // Its rectangles stand in rows along x, each from low to high y.
  const across = box.mesh.slopeU.stride[face[0]!.panel]!;
  const lowX = Float64Array.from({ length: face.length / across }, (_, k) => face[k * across]!.u[0]);
  const lowY = Float64Array.from({ length: across }, (_, k) => face[k]!.v[0]);
  const [dx, dy] = [ring.x - box.x, ring.y - box.y];
  /** What lies on every rectangle of the face, of a uniform σ, one in cos φ and one in sin φ. */
  const on = new Float64Array(3 * face.length);
  const rectangles = face.map(({ panel }) => panel);
  const apart = gap > 0 ? spread(box, ring, end, rectangles) : null;
  for (const [k, i] of panels.entries()) {
    if (apart) {
      rectangles.forEach((panel, f) => add(toBox + panel, toRing + i, apart[k * face.length + f]!));
    }
    on.fill(0);
    const points = panelPoints(mesh, i, ALONG, false);
    for (let p = 0; p < ALONG; p++) {
      const r = points.r[p]!;
      const weight = points.weight[p]! / AROUND;
      for (const [c, s] of AROUND_PLACES) {
        const at = 3 * (last(lowX, dx + r * c) * across + last(lowY, dy + r * s));
        on[at] = on[at]! + weight;
        on[at + 1] = on[at + 1]! + weight * c;
        on[at + 2] = on[at + 2]! + weight * s;
      }
    }
    face.forEach(({ panel }, k) => {
      if (on[3 * k] === 0) return;
      const area = box.mesh.area[panel]!;
      for (let run = apart ? 1 : 0; run < 3; run++)
        add(toBox + panel, toRing + run * mesh.n + i, on[3 * k + run]! / area);
    });
  }
}

/** Which of ascending places, m, is the last that is not above `at`; the first when all are. */
function last(places: Float64Array, at: number): number {
  let low = 0;
  let high = places.length;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (places[middle]! <= at) low = middle;
    else high = middle;
  }
  return low;
}

interface FacePanel {
  readonly panel: number;
  readonly u: readonly [number, number];
  readonly v: readonly [number, number];
}

/** Rectangles of one face, from the box's centre, m. */
function facePanels({ mesh }: BoxBody, axis: number, side: number): readonly FacePanel[] {
  const found: FacePanel[] = [];
  for (let j = 0; j < onSurface(mesh); j++) {
    if (mesh.axis[j] !== axis || mesh.sign[j] !== side) continue;
    const u = mesh.centre[3 * j + ((axis + 1) % 3)]!;
    const v = mesh.centre[3 * j + ((axis + 2) % 3)]!;
    const [a, b] = [mesh.halfU[j]!, mesh.halfV[j]!];
    found.push({ panel: j, u: [u - a, u + a], v: [v - b, v + b] });
  }
  return found;
}

/** Rectangles that are alike on both, as jointFaces cuts them. */
function boxesOnBoxes(bodies: readonly Body[], offsets: Int32Array, add: Add): void {
  const boxes = bodies.flatMap((body, b) => (body.kind === 'box' ? [{ body, at: offsets[b]! }] : []));
  const placed = boxes.map(({ body: { mesh, joins, x, y, z } }): PlacedBox => ({
    size: mesh.size,
    centre: { x, y, z },
    joins: joins === true,
  }));
  for (const { a, b, axis, side, gap } of facings(placed)) {
    const [first, second] = [boxes[a]!, boxes[b]!];
    if (gap > TOUCHING) continue;
    const swapped = !first.body.joins;
    const owner = swapped ? second : first;
    const other = swapped ? first : second;
    const on = facePanels(owner.body, axis, swapped ? -side : side);
    const shift = (k: number): number => {
      const place = (body: BoxBody): number => [body.x, body.y, body.z][(axis + k) % 3]!;
      return place(other.body) - place(owner.body);
    };
    for (const { panel, u, v } of facePanels(other.body, axis, swapped ? side : -side)) {
      const under = on.find((face) => alike(face.u, u, shift(1)) && alike(face.v, v, shift(2)));
      if (under) add(owner.at + under.panel, other.at + panel, 1);
    }
  }
}

const alike = (one: readonly [number, number], other: readonly [number, number], shift: number): boolean =>
  Math.abs(one[0] - other[0] - shift) < TOUCHING && Math.abs(one[1] - other[1] - shift) < TOUCHING;

/** Charges on both sides of a contact (A/m) from τ and σ, in place: what lies on the box is τ less every σ that it meets. */
export function parted({ to, from, share }: Contacts, v: Float64Array): void {
  for (let k = 0; k < to.length; k++) v[to[k]!] = v[to[k]!]! - share[k]! * v[from[k]!]!;
}

/** The other way round, A/m, in place. */
export function joined({ to, from, share }: Contacts, v: Float64Array): void {
  for (let k = 0; k < to.length; k++) v[to[k]!] = v[to[k]!]! + share[k]! * v[from[k]!]!;
}
