/**
 * Where the faces of steel boxes and of what lies against them are cut. Two faces that touch, or nearly, get the same cuts
 * where they cover each other: their charges are nearly opposite and equal there, and only alike meshes leave the rest.
 */
import type { CutFace, Neighbour } from './boxCuts.ts';
import { extent, facings, overlap, three } from './facings.ts';
import type { PlacedBox } from './facings.ts';
import { sheets, zoneEnds } from './boxZones.ts';
import { Edge } from './jointEdge.ts';
import { END_STEP, LEAST_STEP } from './steps.ts';

/**
 * Steps begin with END_STEP at an edge, with this share of the thickness where a magnet ends on steel, and grow by as much
 * as lies behind them, a little less than those of a bar without steel. All found against finite elements: six rods on a plate, in a channel, and a blade between bars.
 */
const MAGNET_STEP = 0.4;
const GROWTH = 0.45;
/** No step need be shorter than this share of how far a string may be, which is so much above the highest body, m. */
const FLOOR = 0.16;
const STRING = 2e-3;
/** None is longer than this share of the box's longest edge: what goes into a blade here comes out of it over there. */
const LONGEST = 0.08;
/** Steps in how far a pole is. */
const AWAY = 0.5;

/** A pole as an edge of a face sees it, m. */
interface Seen {
  readonly at: number;
  readonly half: number;
  readonly least: number;
}

class BoxEdges {
  private readonly edges = new Map<string, Edge>();
  /** Where zones meet, from −½ to ½. */
  private inner: readonly number[] = [];

  /** @param highest z of all bodies, m */
  constructor(
    private readonly box: PlacedBox,
    private readonly highest: number,
  ) {}

  edge(normal: number, side: number, along: number): Edge {
    const key = `${normal} ${side} ${along}`;
    let edge = this.edges.get(key);
    if (!edge) {
      edge = new Edge(extent(this.box, along));
      this.edges.set(key, edge);
    }
    return edge;
  }

  /**
   * A magnet lies against this face: much of its flux goes into the faces about it as well, close to that edge. Where those were cut for
   * strings alone a blade of 1 mm on a strong bar was 3.6 % low; so it is within 1 %.
   */
  warm(normal: number, side: number): void {
    const at = extent(this.box, normal)[side > 0 ? 1 : 0];
    for (const about of [(normal + 1) % 3, (normal + 2) % 3]) {
      for (const face of [-1, 1]) this.edge(about, face, normal).hot.push(at);
    }
  }

  cut(poles: readonly Neighbour[], fineness: number): void {
    for (const normal of [0, 1, 2]) {
      for (const side of [-1, 1]) {
        for (const along of [(normal + 1) % 3, (normal + 2) % 3]) {
          const edge = this.edge(normal, side, along);
          if (!edge.isCut) edge.cut(this.box.stiff ? null : this.steps(normal, side, along, poles, fineness));
        }
      }
    }
  }

  private steps(
    normal: number,
    side: number,
    along: number,
    poles: readonly Neighbour[],
    fineness: number,
  ): (at: number) => number {
    const { box, highest } = this;
    const size = three(box.size);
    const thickness = Math.min(...size);
    const most = LONGEST * Math.max(...size);
    const edge = this.edge(normal, side, along);
    const { hot } = edge;
    const stops = edge.stops.filter((at) => !edge.isZoned(at));
    const near = poles.map((pole) => seen(box, pole, normal, side, along));
    // A face that stands upright is as near to a string as its top.
    const top = box.centre.z + (normal === 2 ? 0.5 * side : 0.5) * box.size.z;
    return (at) => {
      let step = most;
      for (const stop of stops) step = Math.min(step, END_STEP * thickness + GROWTH * Math.abs(at - stop));
      for (const pole of near) {
        const away = Math.max(0, Math.abs(at - pole.at) - pole.half);
        step = Math.min(step, Math.max(pole.least, AWAY * away));
      }
      step = Math.max(step, FLOOR * (highest + STRING - (along === 2 ? at : top)));
      for (const stop of hot) step = Math.min(step, MAGNET_STEP * thickness + GROWTH * Math.abs(at - stop));
      return step / fineness;
    };
  }

  faces(fineness: number): readonly CutFace[] {
    const surface = [0, 1, 2].flatMap((normal) =>
      ([-1, 1] as const).map((side): CutFace => {
        const [u, breaksU] = this.cuts(normal, side, (normal + 1) % 3);
        const [v, breaksV] = this.cuts(normal, side, (normal + 2) % 3);
        return { normal, side, u, v, breaksU, breaksV };
      }),
    );
    return [...surface, ...sheets(this.box, this.inner, fineness)];
  }

  private cuts(normal: number, side: number, along: number): readonly [Float64Array, ReadonlySet<number>] {
    const { size, centre } = this.box;
    return this.edge(normal, side, along).cuts(three(centre)[along]!, three(size)[along]!);
  }

  /** Where its zones end, from −½ to ½, by the cuts that it has. */
  zones(): readonly number[] {
    const { size } = this.box;
    return zoneEnds(this.cuts(size.x < size.y ? 0 : 1, 1, 2)[0]);
  }

  /** Has its upright faces end where zones do. @param inner from −½ to ½ */
  zone(inner: readonly number[]): void {
    const { size, centre } = this.box;
    this.inner = inner;
    for (const normal of [0, 1]) {
      for (const side of [-1, 1]) {
        for (const share of inner) {
          this.edge(normal, side, 2).zone(centre.z + share * size.z);
        }
      }
    }
  }
}

function seen(box: PlacedBox, pole: Neighbour, normal: number, side: number, along: number): Seen {
  const low = [pole.x - pole.radius, pole.y - pole.radius, pole.bottom];
  const high = [pole.x + pole.radius, pole.y + pole.radius, pole.top];
  const plane = three(box.centre)[normal]! + 0.5 * side * three(box.size)[normal]!;
  const across = 3 - normal - along;
  const [from, to] = extent(box, across);
  const gap = Math.hypot(
    Math.max(0, low[normal]! - plane, plane - high[normal]!),
    Math.max(0, low[across]! - to, from - high[across]!),
  );
  return {
    at: 0.5 * (low[along]! + high[along]!),
    half: 0.5 * (high[along]! - low[along]!),
    least: Math.max(LEAST_STEP * pole.radius, AWAY * gap),
  };
}

/**
 * Cuts of boxes of which some are of steel, in their order, for meshOfFaces.
 *
 * @param boxes must not overlap; m
 * @param poles in the same frame, m, that some faces may be close to
 * @param fineness multiplies the divisions along each edge
 * Zones end at cuts that are there without any.
 */
export function jointFaces(
  boxes: readonly PlacedBox[],
  poles: readonly Neighbour[],
  fineness = 1,
): readonly (readonly CutFace[])[] {
  let edges = cutEdges(boxes, poles, fineness, []);
  if (boxes.some(({ zoned }) => zoned)) {
    const zones = edges.map((box, b) => (boxes[b]!.zoned ? box.zones() : []));
    edges = cutEdges(boxes, poles, fineness, zones);
  }
  return edges.map((box) => box.faces(fineness));
}

/** @param zones of every box that has some, from −½ to ½ */
function cutEdges(
  boxes: readonly PlacedBox[],
  poles: readonly Neighbour[],
  fineness: number,
  zones: readonly (readonly number[])[],
): readonly BoxEdges[] {
  const highest = Math.max(...boxes.map((box) => extent(box, 2)[1]), ...poles.map(({ top }) => top));
  const edges = boxes.map((box) => new BoxEdges(box, highest));
  zones.forEach((inner, b) => {
    edges[b]!.zone(inner);
  });
  const against = facings(boxes);
  const pairs = against.flatMap(({ a, b, axis, side }) =>
    [(axis + 1) % 3, (axis + 2) % 3].map((along) => ({
      one: edges[a]!.edge(axis, side, along),
      other: edges[b]!.edge(axis, -side, along),
      ends: overlap(boxes[a]!, boxes[b]!, along)!,
      magnet: !boxes[a]!.joins || !boxes[b]!.joins,
    })),
  );
  for (const { one, other, ends, magnet } of pairs) {
    if (magnet) for (const edge of [one, other]) edge.hot.push(...ends);
  }
  for (const { a, b, axis, side } of against) {
    if (boxes[a]!.joins && boxes[b]!.joins) continue;
    if (boxes[a]!.joins) edges[a]!.warm(axis, side);
    if (boxes[b]!.joins) edges[b]!.warm(axis, -side);
  }
  // Until every stop of a face is one on all faces that lie against it there.
  for (let moved = true; moved;) {
    moved = false;
    for (const { one, other, ends } of pairs) {
      for (const at of [...ends, ...one.stops, ...other.stops]) {
        if (at < ends[0] || at > ends[1]) continue;
        const zoned = one.isZoned(at) || other.isZoned(at);
        for (const edge of [one, other]) moved = (zoned ? edge.zone(at) : edge.stop(at)) || moved;
      }
    }
  }
  for (const box of edges) box.cut(poles, fineness);
  for (let pass = 0; pass < boxes.length; pass++) for (const { one, other } of pairs) one.share(other);
  return edges;
}
