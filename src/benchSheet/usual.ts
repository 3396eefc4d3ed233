/** What a page begins with. */
import type { BenchWish } from '../physics/benchFigures.ts';

/** A divider probe, a bridge at its usual frequency, an element well inside its tip: common practice. */
export const USUAL_WISH: Omit<BenchWish, 'pickup'> = {
  probe: { resistance: 10e6, capacitance: 12e-12 },
  bridge: 1000,
  depth: 0.8e-3,
  celsius: 20,
  read: { resistance: null, inductance: null, capacitance: null, peak: null },
};

/** «27 November 2026», in this machine's time zone. */
export const dayOf = (date = new Date()): string =>
  date.toLocaleDateString('en-GB', { day: 'numeric', month: 'long', year: 'numeric' });
