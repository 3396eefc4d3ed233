/** A measured curve beside the predicted one, in sentences. Pure. */
import { computed } from '../benchSheet/shown.ts';
import type { JobValue } from '../jobs/protocol.ts';
import { formatFigure } from '../sheet/format.ts';
import { decibels, hertz } from '../sheet/shown.ts';
import type { Pickup } from '../sheet/sheet.ts';

type Figures = JobValue['measured'];

/** Less than this is what two meters differ by, a share. */
const SAME = 0.005;

/** «4.2 % below»; empty where it is as good as the same. */
function against(ratio: number): string {
  const by = 100 * Math.abs(ratio - 1);
  if (by < 100 * SAME) return '';
  return `${by.toFixed(by < 9.95 ? 1 : 0)} % ${ratio < 1 ? 'below' : 'above'}`;
}

/** How far the two lie apart, and where each peaks. */
export function measuredWords({ wish, shift, band, largest, rms, peaks, asIf, read }: Figures): string[] {
  const span = `${hertz(band[0])} to ${hertz(band[1])}`;
  const words = [
    wish.of === 'impedance'
      ? `Compared from ${span}.`
      : `Shifted by ${decibels(shift)} to lie on the predicted one: least squares of dB from ${span}.`,
    Math.abs(largest.db) < 0.05
      ? 'Nowhere a tenth of a dB apart.'
      : `${Math.abs(largest.db).toFixed(1)} dB apart at most, at ${hertz(largest.frequency)}, where the measured one is ${largest.db < 0 ? 'lower' : 'higher'}; ${rms.toFixed(1)} dB root mean square.`,
  ];
  const { measured, predicted } = peaks;
  if (measured !== null && predicted !== null) {
    const off = against(measured / predicted);
    words.push(
      off === ''
        ? `Both peak at ${hertz(measured)}.`
        : `The measured peak lies at ${hertz(measured)}, ${off} the predicted one at ${hertz(predicted)}.`,
    );
  } else if (wish.of !== 'placed')
    words.push(
      measured === null
        ? 'The measured curve has no peak within.'
        : `The measured peak lies at ${hertz(measured)}; the predicted curve has none within.`,
    );
  if (asIf && against((measured ?? 1) / (predicted ?? 1)) !== '') words.push(...asIfWords(asIf));
  if (read) words.push(...readWords(read, wish));
  return words;
}

/** «That is as if 124 pF more lay beside the cable, or inductance were 9 % more.» */
function asIfWords({ capacitance, inductance }: NonNullable<Figures['asIf']>): string[] {
  const more = (value: number): string => (value < 0 ? 'less' : 'more');
  const either = [
    capacitance === null
      ? ''
      : `${computed(Math.abs(capacitance), 'coilCapacitance')} ${more(capacitance)} lay on it, of coil, cable and input together`,
    inductance === null
      ? ''
      : `inductance were ${(100 * Math.abs(inductance - 1)).toFixed(0)} % ${more(inductance - 1)}`,
  ].filter((words) => words !== '');
  return either.length === 0 ? [] : [`That is as if ${either.join(', or ')}.`];
}

/** «On meters this would read R 7.42 kΩ, …»: only what the curve determines. */
function readWords(read: NonNullable<Figures['read']>, { of, bridge }: Figures['wish']): string[] {
  if (of !== 'impedance') return [];
  const { resistance, inductance, capacitance } = read;
  const all = [
    resistance === null ? '' : `R ${computed(resistance, 'coilResistance')}`,
    inductance === null
      ? ''
      : `L ${computed(inductance, 'coilInductance')} at ${formatFigure(bridge, 'bridge')}`,
    capacitance === null ? '' : `C ${computed(capacitance, 'coilCapacitance')}`,
  ].filter((words) => words !== '');
  return all.length === 0
    ? ['It says too little of R, L or C to tell them apart.']
    : [`Meters would read ${all.join(', ')}, by the coil that comes closest to the curve.`];
}

/** Said where figures that were typed in stand in the way of those that the build gives. */
export const setAside = ({ build, rows }: Pickup): readonly string[] =>
  build &&
  rows.some(({ coil }) =>
    [coil.resistance, coil.inductance, coil.capacitance].some((value) => value !== null),
  )
    ? ['All this is against what the build gives; the figures that are typed in are set aside.']
    : [];
