/**
 * Thin metal plates cut into panels. Currents in them have no sources, so that a stream function ψ (A) on the nodes
 * describes them: K = ∇ψ × n. It is zero along every free edge and constant round every hole.
 *
 * All plates are their own mirror image across y = 0, as what the coils do to them is; only y ≥ 0 is meshed.
 */

export interface PlateMesh {
  readonly nodeCount: number;
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly z: Float64Array;
  /** Unknown of every node; −1 on a free edge, where ψ = 0. The corners of a hole share one. */
  readonly unknown: Int32Array;
  readonly unknowns: number;
  readonly panelCount: number;
  /** Four nodes a panel, anticlockwise seen from the side to which its normal points; a triangle repeats the last. */
  readonly panels: Int32Array;
  /** Which plate each panel belongs to. */
  readonly plate: Int8Array;
}

/** Index of the unknown at a corner (0 to 3, anticlockwise) of panel p; an index, −1 on a free edge. */
export const unknownAt = ({ unknown, panels }: PlateMesh, p: number, corner: number): number =>
  unknown[panels[4 * p + corner]!]!;

/** A square hole in a horizontal plate, centred at (x, ±y). */
export interface PlateHole {
  readonly x: number;
  /** 0 or above. */
  readonly y: number;
  /** Edge, m. */
  readonly width: number;
}

/** A box without a floor, or flat when it has no walls; centred about x = 0 and y = 0, m. */
export interface PlateShape {
  readonly halfX: number;
  readonly halfY: number;
  /** Middle of the top's thickness. */
  readonly top: number;
  /** Down to where the walls reach; the same as `top` for a flat one. */
  readonly bottom: number;
  readonly holes: readonly PlateHole[];
}

/** Joins nodes at one place, and names unknowns. */
export class PlateMeshBuilder {
  private readonly at = new Map<string, number>();
  private readonly xs: number[] = [];
  private readonly ys: number[] = [];
  private readonly zs: number[] = [];
  private readonly edge = new Set<number>();
  private readonly tied = new Map<number, number>();
  private readonly quads: number[] = [];
  private readonly plates: number[] = [];

  /** The node at a place of a plate, to a nanometre; plates never share nodes. */
  node(plate: number, x: number, y: number, z: number): number {
    const key = `${plate} ${Math.round(1e9 * x)} ${Math.round(1e9 * y)} ${Math.round(1e9 * z)}`;
    let node = this.at.get(key);
    if (node === undefined) {
      node = this.xs.length;
      this.at.set(key, node);
      this.xs.push(x);
      this.ys.push(y);
      this.zs.push(z);
    }
    return node;
  }

  /** @param nodes anticlockwise as its normal points; a triangle repeats the last */
  panel(plate: number, nodes: readonly [number, number, number, number]): void {
    this.quads.push(...nodes);
    this.plates.push(plate);
  }

  /** The node lies on a free edge: ψ is 0 there. */
  free(node: number): void {
    this.edge.add(node);
  }

  /** Gives all of these one unknown. */
  tie(nodes: readonly number[]): void {
    for (const node of nodes) this.tied.set(node, nodes[0]!);
  }

  /** What has been joined so far, lengths in m; unknown −1 where ψ is 0. */
  build(): PlateMesh {
    const nodeCount = this.xs.length;
    const unknown = new Int32Array(nodeCount).fill(-1);
    let unknowns = 0;
    for (let node = 0; node < nodeCount; node++) {
      if (this.edge.has(node)) continue;
      const first = this.tied.get(node) ?? node;
      if (unknown[first] === -1) unknown[first] = unknowns++;
      unknown[node] = unknown[first]!;
    }
    return {
      nodeCount,
      x: Float64Array.from(this.xs),
      y: Float64Array.from(this.ys),
      z: Float64Array.from(this.zs),
      unknown,
      unknowns,
      panelCount: this.plates.length,
      panels: Int32Array.from(this.quads),
      plate: Int8Array.from(this.plates),
    };
  }
}

/** Largest panel along x, y and down the walls, m; found by halving them (DEVELOPERS.md). */
const STEP = { x: 3.6e-3, y: 4e-3, z: 4.5e-3 };

/** Panels of a mesh of fineness 1; those of a large box under a large plate are wider. */
const MOST_PANELS = 640;
/** Share of the fineness that is left when there are too many. */
const COARSER = 0.92;

/**
 * @param fineness of the mesh; 1 meets the accuracy that the tests state
 */
export function plateMesh(shapes: readonly PlateShape[], fineness = 1): PlateMesh {
  let fine = fineness;
  // Holes are cut around whatever the steps: below a tenth nothing gets coarser.
  while (panelsAt(shapes, fine) > MOST_PANELS * fineness ** 2 && fine > 0.1 * fineness) fine *= COARSER;
  const builder = new PlateMeshBuilder();
  shapes.forEach((shape, plate) => addShape(builder, plate, shape, fine));
  return builder.build();
}

function panelsAt(shapes: readonly PlateShape[], fineness: number): number {
  return shapes.reduce((sum, shape) => {
    const [nx, ny, nz] = linesOf(shape, fineness).map((lines) => lines.length - 1) as [
      number,
      number,
      number,
    ];
    return sum + nx * ny + 2 * ny * nz + nx * nz;
  }, 0);
}

/** Where a plate is cut along x, y and down its walls; one line for a flat one. */
function linesOf({ halfX, halfY, top, bottom, holes }: PlateShape, fineness: number) {
  const sides = holes.flatMap(({ x, width }) => [x - 0.5 * width, x + 0.5 * width]);
  const ends = holes.flatMap(({ y, width }) => [Math.max(0, y - 0.5 * width), y + 0.5 * width]);
  return [
    divided([-halfX, halfX, ...sides], STEP.x / fineness),
    divided([0, halfY, ...ends], STEP.y / fineness),
    top > bottom ? divided([bottom, top], STEP.z / fineness) : [top],
  ] as const;
}

function addShape(to: PlateMeshBuilder, plate: number, shape: PlateShape, fineness: number): void {
  const { halfX, halfY, top, bottom, holes } = shape;
  const [xs, ys, zs] = linesOf(shape, fineness);
  const walls = zs.length > 1;
  const { node, face } = facesOf(to, plate);
  face(xs, ys, (x, y) => [x, y, top]);
  for (const hole of holes) {
    const within = (at: number, centre: number): boolean => Math.abs(at - centre) < 0.5 * hole.width + SAME;
    const inX = xs.filter((x) => within(x, hole.x));
    const inY = ys.filter((y) => within(y, hole.y));
    to.tie(inX.flatMap((x) => inY.map((y) => node(x, y, top))));
  }
  if (walls) {
    face(ys, zs, (y, z) => [halfX, y, z]);
    face(zs, ys, (z, y) => [-halfX, y, z]);
    face(zs, xs, (z, x) => [x, halfY, z]);
  }
  const rim = walls ? bottom : top;
  for (const y of ys) for (const x of [-halfX, halfX]) to.free(node(x, y, rim));
  for (const x of xs) to.free(node(x, halfY, rim));
}

/** Adds the rectangles between two sets of lines, anticlockwise in the order in which the lines are given. */
function facesOf(to: PlateMeshBuilder, plate: number) {
  const node = (x: number, y: number, z: number): number => to.node(plate, x, y, z);
  const face = (
    us: readonly number[],
    vs: readonly number[],
    place: (u: number, v: number) => readonly [number, number, number],
  ): void => {
    const at = (i: number, j: number): number => node(...place(us[i]!, vs[j]!));
    for (let i = 0; i + 1 < us.length; i++) {
      for (let j = 0; j + 1 < vs.length; j++) {
        to.panel(plate, [at(i, j), at(i + 1, j), at(i + 1, j + 1), at(i, j + 1)]);
      }
    }
  };
  return { node, face };
}

/** Lines nearer than this are one, m. */
const SAME = 1e-8;

/** These places in order, with equal steps of at most `step` between them. */
function divided(places: readonly number[], step: number): number[] {
  const sorted = [...places].sort((a, b) => a - b).filter((at, i, all) => i === 0 || at - all[i - 1]! > SAME);
  return sorted.flatMap((at, i) => {
    const next = sorted[i + 1];
    if (next === undefined) return [at];
    const count = Math.max(1, Math.ceil((next - at) / step - 1e-9));
    return Array.from({ length: count }, (_, k) => at + (k * (next - at)) / count);
  });
}
