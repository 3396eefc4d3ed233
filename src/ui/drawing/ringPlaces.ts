/**
 * Where rings stand that may stand in several places: the first that is free, so that no two are in each other's way. What finds
 * no place is left out. A ring keeps its place while a gesture lasts, and after it for as long as that is free.
 */
export interface Point {
  readonly x: number;
  readonly y: number;
}

/** px. */
export interface Rect extends Point {
  readonly width: number;
  readonly height: number;
}

/** WCAG 2.2, 2.5.8: targets 24 px apart; and a hair. */
export const APART = 25;
/** Half a ring, with its line; and what a ring keeps from the drawing's edges, px. */
const HALF = 10;

/** What is there already. */
export interface Taken {
  readonly width: number;
  readonly height: number;
  readonly rings: readonly Point[];
  /** Figures and notes. */
  readonly boxes: readonly Rect[];
}

const inside = ({ x, y }: Point, { width, height }: Taken): boolean =>
  x >= HALF && x <= width - HALF && y >= HALF && y <= height - HALF;

const clearOf = ({ x, y }: Point, box: Rect): boolean =>
  x + HALF <= box.x || x - HALF >= box.x + box.width || y + HALF <= box.y || y - HALF >= box.y + box.height;

const isFree = (ring: Point, taken: Taken): boolean =>
  inside(ring, taken) &&
  taken.rings.every(({ x, y }) => Math.hypot(x - ring.x, y - ring.y) >= APART) &&
  taken.boxes.every((box) => clearOf(ring, box));

const meet = (a: Rect, b: Rect): boolean =>
  a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;

/** Whether a figure finds room: within the drawing, over no other and no ring. */
export const figureIsFree = (box: Rect, taken: Taken): boolean =>
  box.x >= 0 &&
  box.y >= 0 &&
  box.x + box.width <= taken.width &&
  box.y + box.height <= taken.height &&
  taken.boxes.every((other) => !meet(box, other)) &&
  taken.rings.every((ring) => clearOf(ring, box));

/** Remembers which place each has. */
export class RingPlaces {
  #of = '';
  #kept = new Map<string, number>();

  /**
   * The number of the place that each takes, by its key; −1 for none.
   * @param of what is drawn: of another all places are found anew
   * @param resting whether no gesture lasts
   */
  find(
    of: string,
    all: readonly { readonly key: string; readonly places: readonly Point[] }[],
    taken: Taken,
    resting: boolean,
  ): ReadonlyMap<string, number> {
    if (of !== this.#of) this.#kept = new Map();
    this.#of = of;
    const found = new Map<string, number>();
    const rings = [...taken.rings];
    for (const { key, places } of all) {
      const before = this.#kept.get(key);
      const held = !resting && before !== undefined;
      const tried = [...(before === undefined || before < 0 ? [] : [before]), ...places.keys()];
      const free = tried.find((i) => places[i] && isFree(places[i], { ...taken, rings }));
      const place = held ? before : (free ?? -1);
      found.set(key, place);
      if (places[place]) rings.push(places[place]);
    }
    this.#kept = new Map(found);
    return found;
  }
}
