/** Other strings on the instrument of a document, each as one step. Loads with the parts list. */
import { DEFAULT_WRAP } from '../../sheet/defaults.ts';
import { restrungWords, retuned, withStrings } from '../../sheet/restring.ts';
import type { StringSpec } from '../../sheet/sheet.ts';
import { rewound, STRING_SETS, wrapOf } from '../../sheet/strings.ts';
import { tuningsFor } from '../../sheet/tunings.ts';
import { WRAP_METALS } from '../../sheet/wrapMetals.ts';
import type { Workbench } from '../../state/workbench.svelte.ts';

/**
 * Other strings: their number goes with them into every trial's builds, the chord and the line. Returns why they were refused,
 * empty when they were not.
 */
export const restring = (bench: Workbench, strings: readonly StringSpec[]): string =>
  bench.restructureAll((sheet) => withStrings(sheet, strings), restrungWords);

/** Puts on one of STRING_SETS, by its name, wound of what the strings before it were. */
export function setStrings(bench: Workbench, name: string): void {
  const set = STRING_SETS.find((s) => s.name === name);
  const wrap = WRAP_METALS.find((metal) => metal === wrapOf(bench.sheet.instrument.strings)) ?? DEFAULT_WRAP;
  if (set) restring(bench, rewound(set.strings, wrap));
}

/** Has the wound strings of one of WRAP_METALS. */
export function setWrap(bench: Workbench, name: string): void {
  const wrap = WRAP_METALS.find((metal) => metal === name);
  if (wrap) restring(bench, rewound(bench.sheet.instrument.strings, wrap));
}

/** Tunes the strings, by the tuning's name. */
export function setTuning(bench: Workbench, name: string): void {
  const { strings } = bench.sheet.instrument;
  const tuning = tuningsFor(strings.length).find((one) => one.name === name);
  if (tuning) restring(bench, retuned(strings, tuning.notes));
}
