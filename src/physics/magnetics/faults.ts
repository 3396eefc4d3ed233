/** Faults of a build as they are collected. */

export interface BuildFault {
  /** Where in the build, for instance `rows[0].winding.turns`. */
  readonly path: string;
  /** What must be; what it is; what to do. */
  readonly message: string;
}

export class Faults {
  readonly list: BuildFault[] = [];

  must(holds: boolean, path: string, message: string): boolean {
    if (!holds) this.list.push({ path, message });
    return holds;
  }

  /** Finite and within limits; metres are shown as millimetres. */
  length(value: number, path: string, what: string, least: number, most: number, open = true): boolean {
    const above = open ? value > least : value >= least;
    return this.must(
      Number.isFinite(value) && above && value <= most,
      path,
      `${what} must be ${open ? 'above' : 'at least'} ${mm(least)} and at most ${mm(most)}; got ${mm(value)}.`,
    );
  }
}

export function mm(metres: number): string {
  return `${String(Number((1e3 * metres).toPrecision(4))).replace('-', '−')} mm`;
}
