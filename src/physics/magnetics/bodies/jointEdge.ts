/** One edge of a face of a box: where it must be cut, and how finely between. */
import { SAME } from './facings.ts';
import { evened, stepped } from './steps.ts';

/** Stretches in which the steps are counted. */
const COUNTED = 256;

export class Edge {
  /** Places that must be cuts, ascending, m. */
  readonly stops: number[];
  /** Where a magnet's face begins or ends on steel: much of its flux goes past there; m. */
  readonly hot: number[] = [];
  /** Stops where two zones meet: nothing crowds there, and next to one a stretch may have a single step. */
  private readonly zoned: number[] = [];
  /** Inner cuts of every stretch between two stops, as shares of it. */
  private inner: Float64Array[] = [];

  /** @param ends m */
  constructor(ends: readonly [number, number]) {
    this.stops = [...ends];
  }

  get isCut(): boolean {
    return this.inner.length > 0;
  }

  /** As stop, at a place that was none, where two zones meet. */
  zone(at: number): boolean {
    const isNew = this.stop(at);
    if (isNew) this.zoned.push(at);
    return isNew;
  }

  isZoned(at: number): boolean {
    return this.zoned.some((end) => Math.abs(end - at) < SAME);
  }

  /** @param at m; @returns whether it is a new one */
  stop(at: number): boolean {
    const after = this.stops.findIndex((known) => known > at - SAME);
    if (after <= 0 || this.stops[after]! < at + SAME) return false;
    this.stops.splice(after, 0, at);
    return true;
  }

  /** Cuts every stretch. @param step m, at a place in m; null where one rectangle a stretch will do */
  cut(step: ((at: number) => number) | null): void {
    const least = (...ends: number[]): number => (ends.some((at) => this.isZoned(at)) ? 1 : 2);
    this.inner = this.stops.slice(1).map((to, i) => {
      const from = this.stops[i]!;
      return step ? stepped(from, to, step, COUNTED, least(from, to)) : new Float64Array(0);
    });
  }

  /** Gives both the finer cuts of either on the stretches that they share. */
  share(other: Edge): void {
    for (let i = 0; i + 1 < this.stops.length; i++) {
      const k = other.stops.findIndex((at) => Math.abs(at - this.stops[i]!) < SAME);
      if (k < 0 || !(Math.abs((other.stops[k + 1] ?? Infinity) - this.stops[i + 1]!) < SAME)) continue;
      const finer = this.inner[i]!.length >= other.inner[k]!.length ? this.inner[i]! : other.inner[k]!;
      this.inner[i] = finer;
      other.inner[k] = finer;
    }
  }

  /** All cuts, from −½ to ½ of an edge of this length about `centre` (m), and which of them are inner stops other than between zones. */
  cuts(centre: number, length: number): readonly [Float64Array, ReadonlySet<number>] {
    const all: number[] = [];
    const breaks = new Set<number>();
    this.inner.forEach((shares, i) => {
      const [from, to] = [this.stops[i]!, this.stops[i + 1]!];
      // From zone to zone σ runs on: it is B·n/µ0 but for a hundredth.
      if (i > 0 && !this.isZoned(from)) breaks.add(all.length);
      all.push(from, ...Array.from(shares, (share) => from + share * (to - from)));
    });
    all.push(this.stops.at(-1)!);
    return [
      evened(
        Float64Array.from(all, (at) => (at - centre) / length),
        1e-7,
      ),
      breaks,
    ];
  }
}
