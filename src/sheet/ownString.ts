/**
 * One string changed by hand: a gauge brings the core and the weight that it usually has with it, a core or a metal the
 * weight. Pure.
 */
import { MOST_STRINGS } from '../shape/strings.ts';
import { clampFigure } from './figures.ts';
import type { StringSpec, WrapMetal } from './sheet.ts';
import { familyOf, plainString, woundString, wrappedIn } from './strings.ts';

/** Wound, by the same weight for every metal. */
const again = (spec: StringSpec, fresh: StringSpec): StringSpec => wrappedIn(fresh, spec.wrap);

/** Another outer diameter, m. */
export function withGauge(spec: StringSpec, diameter: number): StringSpec {
  if (spec.construction === 'plain') return { ...plainString(spec.midi, diameter), wrap: spec.wrap };
  return again(spec, woundString(spec.midi, diameter));
}

/** Another core under the same outer diameter, m; no thicker than the string. A plain string has none to change. */
export function withCore(spec: StringSpec, core: number): StringSpec {
  if (spec.construction === 'plain') return spec;
  return again(spec, woundString(spec.midi, spec.diameter, Math.min(core, spec.diameter)));
}

/** Plain or wound, as thick as it was. */
export function withConstruction(spec: StringSpec, construction: StringSpec['construction']): StringSpec {
  return construction === spec.construction ? spec : withGauge({ ...spec, construction }, spec.diameter);
}

/** Wound of another metal. */
export const withWrap = (spec: StringSpec, wrap: WrapMetal): StringSpec => wrappedIn(spec, wrap);

/** A fourth, semitones: what lies between the strings of nearly every tuning. */
const FOURTH = 5;
/** A string a fourth lower is so much thicker, as sets go on in practice. */
const THICKER = 1.27;
/** A guitar's strings are plain up to this, m: 0.020 in, common practice. */
const PLAIN = 0.508e-3;
/** Gauges go in steps of half a thousandth of an inch, m. */
const HALF_THOU = 12.7e-6;

/** The next string beside an outer one: a fourth away, and as much thicker or thinner as sets usually go on. */
function beside(strings: readonly StringSpec[], side: 'lower' | 'higher'): StringSpec {
  const lower = side === 'lower';
  const next = strings.at(lower ? -1 : 0)!;
  const thick = next.diameter * (lower ? THICKER : 1 / THICKER);
  const diameter = clampFigure(Math.round(thick / HALF_THOU) * HALF_THOU, 'stringDiameter');
  const midi = clampFigure(next.midi + (lower ? -FOURTH : FOURTH), 'midi');
  const wound = familyOf(strings) === 'bass' || diameter > PLAIN;
  return wound
    ? again(next, woundString(midi, diameter))
    : { ...plainString(midi, diameter), wrap: next.wrap };
}

/** One string more on the low or the high side; the very same strings where there are eight. */
export function withStringBeside(
  strings: readonly StringSpec[],
  side: 'lower' | 'higher',
): readonly StringSpec[] {
  if (strings.length >= MOST_STRINGS) return strings;
  const added = beside(strings, side);
  return side === 'lower' ? [...strings, added] : [added, ...strings];
}
