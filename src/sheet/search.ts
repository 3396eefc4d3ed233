/** What is wanted of a pickup, and of what it may be built: kept with the document only where its maker has set it. */
import { gaugeDiameter } from '../shape/gauges.ts';
import type { ChosenGrade } from '../shape/materials.ts';
import type { Wire } from './build.ts';
import type { FigureKey } from './figures.ts';

/** Figures that may be wanted, SI, dB, cents; an absent one is not asked for. */
export interface Wants {
  /** Hz, into the search's load, and how high (dB) and sharp it is. */
  readonly resonance?: number;
  readonly height?: number;
  readonly q?: number;
  /** At the pickup's own leads, H and Ω. */
  readonly inductance?: number;
  readonly resistance?: number;
  /** By how much louder than the other trial, or than the sheet as it is, dB. */
  readonly level?: number;
  /** Width of the reach on the chosen string, m. */
  readonly reach?: number;
  /** Between the loudest and the softest open string, for the same movement, dB at most. */
  readonly balance?: number;
  /** Of the open string that it shifts most, moving towards the pickup or across it, cents at most. */
  readonly pull?: number;
  /** What is heard of it beside the other trial, at equal loudness, dB at most. */
  readonly alike?: number;
}
export type WantKey = keyof Wants;

/** In the order in which they are asked: which figure each is, what it is called, and whether it is a most. */
export const WANTS: readonly (readonly [key: WantKey, figure: FigureKey, name: string, atMost: boolean])[] = [
  ['resonance', 'targetPeak', 'resonance', false],
  ['height', 'wantedHeight', 'height of the resonance', false],
  ['q', 'wantedQ', 'Q of the resonance', false],
  ['inductance', 'coilInductance', 'inductance', false],
  ['resistance', 'coilResistance', 'DC resistance', false],
  ['level', 'wantedLevel', 'level', false],
  ['reach', 'focus', 'reach', false],
  ['balance', 'wantedWithin', 'balance of the strings', true],
  ['pull', 'detuning', 'pull', true],
  ['alike', 'wantedWithin', 'sounds like the other', true],
];

export const ENAMELS = ['single', 'heavy'] as const satisfies readonly Wire['enamel'][];

/** What there is; an absent list leaves that as it is. Turns and gaps are between two. */
export interface Stock {
  /** Bare diameters, m. */
  readonly wires?: readonly number[];
  readonly enamels?: readonly Wire['enamel'][];
  /** Of rods and bars. */
  readonly grades?: readonly ChosenGrade[];
  /** Of rods and slugs, and of rods, m. */
  readonly diameters?: readonly number[];
  readonly lengths?: readonly number[];
  readonly turns?: readonly [least: number, most: number];
  /** At the bass and the treble side, m; both move alike. */
  readonly gap?: readonly [least: number, most: number];
}
export type StockKey = keyof Stock;

/** What stands at the pickup's leads, Ω (null: nothing) and F. */
export interface SearchLoad {
  readonly resistance: number | null;
  readonly capacitance: number;
}

/** Nothing at all, and a divider probe as is common. */
export const NO_LOAD: SearchLoad = { resistance: null, capacitance: 0 };
export const USUAL_PROBE: SearchLoad = { resistance: 10e6, capacitance: 12e-12 };

export interface Search {
  readonly wants: Wants;
  readonly stock: Stock;
  /** Into which the resonance is, with the pickup off its guitar; absent: the pots and the cable that are there. */
  readonly load?: SearchLoad;
}

/** Of one list. */
export const MOST_OF_A_LIST = 12;

/** Turns that common bobbins take. */
export const USUAL_TURNS = [3000, 12_000] as const;

/** Where nobody has said: common wire and turns. */
export const USUAL_STOCK: Stock = { wires: [42, 43, 44].map(gaugeDiameter), turns: USUAL_TURNS };
