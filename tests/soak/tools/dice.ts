/** Chance that comes out the same for the same seed. */
export class Dice {
  #state: number;

  constructor(seed: number) {
    this.#state = seed >>> 0;
  }

  /** At least 0 and less than 1; mulberry32, from memory. */
  next(): number {
    this.#state = (this.#state + 0x6d2b79f5) >>> 0;
    let t = this.#state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  }

  /** A whole number from 0 to below `count`. */
  below(count: number): number {
    return Math.floor(this.next() * count);
  }

  one<T>(of: readonly T[]): T {
    return of[this.below(of.length)]!;
  }
}
