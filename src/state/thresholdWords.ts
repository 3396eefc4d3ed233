/** What of two versions was found to be just heard by listeners, each figure by itself, as rows with their sources. Pure. */
import { justHeard, LISTENED_AT, type JustHeard } from '../jobs/justHeard.ts';
import type { Version } from './difference.ts';
import type { Beside } from './louder.svelte.ts';

export interface ThresholdRow {
  /** «a filter’s resonance». */
  readonly name: string;
  /** What lies between the two, and what is just heard, with units. */
  readonly by: string;
  readonly just: string;
  /** «1.7 times what is just heard»; the ratio is above 0. */
  readonly times: string;
  readonly source: string;
}

type Source = JustHeard['source'];

const PAPERS: Readonly<Record<Source, string>> = {
  GagneZurek1988: 'Gagné & Zurek 1988',
  KewleyPortWatson1994: 'Kewley-Port & Watson 1994',
  Woodhouse2012: 'Woodhouse et al. 2012',
  JesteadtWierGreen1977: 'Jesteadt, Wier & Green 1977',
};

/** Of what listeners were asked. */
const ASKED: Readonly<Record<Source, string>> = {
  GagneZurek1988: 'a filter’s',
  KewleyPortWatson1994: 'a vowel’s (trained)',
  Woodhouse2012: 'a plucked guitar’s',
  JesteadtWierGreen1977: 'a tone’s',
};

const signed = (value: number, digits: number): string =>
  `${value < 0 ? '−' : value > 0 ? '+' : ''}${Math.abs(value).toFixed(digits)}`;
const size = ({ what }: JustHeard, value: number, show: (value: number, digits: number) => string): string =>
  what === 'level' ? `${show(value, 1)} dB` : `${show(100 * value, 1)} %`;

/** From `a` to `b`; none where there is nothing to compare. */
export function thresholdRows(a: Version, b: Version, beside: Beside | null): readonly ThresholdRow[] {
  const [from, to] = [a, b].map(({ voice }) => voice.features.resonance);
  return justHeard(from ?? null, to ?? null, beside?.louder ?? null, LISTENED_AT).map((one) => ({
    name: `${ASKED[one.source]} ${one.what}`,
    by: size(one, one.by, signed),
    just: size(one, one.just, (value, digits) => value.toFixed(digits)),
    times: `${(Math.abs(one.by) / one.just).toFixed(1)} ×`,
    source: PAPERS[one.source] + (one.within ? '' : ', asked of lower ones'),
  }));
}
