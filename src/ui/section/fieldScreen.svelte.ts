import type { ToScreen } from '../../plot/filings.ts';
import type { Scale } from '../../plot/scale.ts';
import type { Workbench } from '../../state/workbench.svelte.ts';

/** The section's scales: metres from the saddle, and above the plane of the nominal pole tops, to px. */
interface Scales {
  readonly bench: Workbench;
  readonly x: Scale;
  readonly z: Scale;
}

/** Hundredths of a px are not seen. */
const hundredths = (px: number): number => Math.round(100 * px) / 100;

/**
 * Where the section's field lies on the screen. Each figure is a plain number of its own: what leaves it as it is draws
 * nothing anew, and who reads the shape alone is not told of a shift.
 */
export function fieldScreen(scales: () => Scales): ToScreen {
  const { bench, x, z } = $derived(scales());
  const origin = $derived(bench.pictures.origin);
  const x0 = $derived(hundredths(x.to(origin)));
  const perU = $derived(hundredths(x.to(origin + 1) - x.to(origin)));
  const y0 = $derived(hundredths(z.to(0)));
  const perV = $derived(hundredths(z.to(1) - z.to(0)));
  return {
    get x0() {
      return x0;
    },
    get perU() {
      return perU;
    },
    get y0() {
      return y0;
    },
    get perV() {
      return perV;
    },
  };
}
