/** Faults of a build as they are collected. */

/** One thing that keeps a build from being computed. */
export interface BuildFault {
  /** Where in the build, for instance `rows[0].winding.turns`. */
  readonly path: string;
  /** What must be; what it is; what to do. */
  readonly message: string;
}

/** All faults in the order in which they are found. */
export class Faults {
  readonly list: BuildFault[] = [];

  /** Adds a fault unless something holds; returns whether it does. @param message a whole sentence */
  must(holds: boolean, path: string, message: string): boolean {
    if (!holds) this.list.push({ path, message });
    return holds;
  }

  /**
   * Finite and within limits, m, shown as millimetres; `open`: `least` itself is too little.
   * @param why a sentence on where the limits come from, or what to do; empty where they speak for themselves
   */
  length(
    value: number,
    path: string,
    what: string,
    least: number,
    most: number,
    open = true,
    why = '',
  ): boolean {
    const above = open ? value > least : value >= least;
    return this.must(
      Number.isFinite(value) && above && value <= most,
      path,
      `${what} must be ${open ? 'above' : 'at least'} ${mm(least)} and at most ${mm(most)}; got ${mm(value)}.${why && ` ${why}`}`,
    );
  }
}

/** A length in m as text, to four digits: «4.85 mm», «−0.2 mm». */
export function mm(metres: number): string {
  return `${String(Number((1e3 * metres).toPrecision(4))).replace('-', '−')} mm`;
}
