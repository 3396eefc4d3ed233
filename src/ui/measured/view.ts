/** Where a pickup by itself is drawn: |Z| or level over frequency, the measured one over the predicted one; px. */
import { crosses } from '../../plot/crosses.ts';
import { curvePath } from '../../plot/path.ts';
import { linearScale, linearTicks, logScale, logTicks, type Scale, type Tick } from '../../plot/scale.ts';
import type { MeasuredCurve } from '../../sheet/measuredCurve.ts';
import type { Figures } from '../../state/measured.svelte.ts';

/** A line with its crosses, as SVG paths. */
export interface Drawn {
  readonly line: string;
  readonly marks: string;
}

/** px between crosses, and how far an arm of one reaches. */
const APART = 34;
const ARM = 3;

/** A measured curve on a paper of any scales, moved by so many dB. @param clip y between which it is drawn */
export function drawn(
  { frequencies, decibels }: Pick<MeasuredCurve, 'frequencies' | 'decibels'>,
  shift: number,
  f: Scale,
  db: Scale,
  clip: readonly [number, number],
): Drawn {
  const inside = Array.from(frequencies.keys()).filter((i) => f.clamp(frequencies[i]!) === frequencies[i]!);
  const hz = inside.map((i) => frequencies[i]!);
  const levels = inside.map((i) => decibels[i]! + shift);
  const y = levels.map((level) => db.to(level));
  return {
    line: curvePath(hz, levels, f, db, { clip }),
    marks: crosses(
      hz.map((v) => f.to(v)),
      y,
      { size: ARM, apart: APART, clip },
    ),
  };
}

export interface PaperView {
  readonly height: number;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
  readonly frequencies: readonly (Tick & { readonly at: number })[];
  /** Of |Z| in Ω, of a level in dB. */
  readonly values: readonly (Tick & { readonly at: number })[];
  readonly unit: 'Ω' | 'dB';
  readonly predicted: string;
  readonly measured: Drawn;
}

/** dB kept free above and below. */
const ROOM = 4;
/** A level is drawn so far down from its highest place, |Z| as far as it goes. */
const DEEPEST = 60;
/** px of a decade in which only its beginning has room for its figure. */
const NARROW = 95;

/** @param width px */
export function paperView(curve: MeasuredCurve, figures: Figures, width: number): PaperView {
  const height = width < 560 ? 240 : 280;
  const [left, right, top, bottom] = [44, Math.max(104, width - 10), 24, height - 30];
  const { frequencies, predicted, shift, wish } = figures;
  const ends = [frequencies[0]!, frequencies.at(-1)!] as const;
  const within = Array.from(curve.decibels, (level) => level + shift).filter(
    (_, i) => curve.frequencies[i]! >= ends[0] && curve.frequencies[i]! <= ends[1],
  );
  const most = Math.max(...predicted, ...within) + ROOM;
  const least = Math.max(most - DEEPEST, Math.min(...predicted, ...within) - ROOM);
  const f = logScale(ends, [left, right]);
  const db = linearScale([least, most], [bottom, top]);
  const decade = f.to(10 * ends[0]) - f.to(ends[0]);
  const ohms = wish.of === 'impedance';
  const ticks = ohms
    ? logTicks(10 ** (least / 20), 10 ** (most / 20)).map((t) => ({
        ...t,
        at: db.to(20 * Math.log10(t.value)),
      }))
    : linearTicks(least, most, { step: 12 }).map((t) => ({ ...t, at: db.to(t.value) }));
  return {
    height,
    left,
    right,
    top,
    bottom,
    frequencies: logTicks(...ends).map((t) => ({
      ...t,
      label: decade < NARROW && !t.label.startsWith('1') ? '' : t.label,
      at: f.to(t.value),
    })),
    values: ticks,
    unit: ohms ? 'Ω' : 'dB',
    predicted: curvePath(frequencies, predicted, f, db, { clip: [top, bottom] }),
    measured: drawn(curve, shift, f, db, [top, bottom]),
  };
}
