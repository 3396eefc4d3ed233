/** Estimate of a signal's peaks between its samples. Source: [BS1770], annex 2: four phases of a 48-tap interpolator. */

/** Taps to a phase; the estimate belongs to the signal six samples earlier. */
export const TRUE_PEAK_TAPS = 12;

const PHASE_0 = [
  0.001708984375, 0.010986328125, -0.0196533203125, 0.033203125, -0.0594482421875, 0.1373291015625,
  0.97216796875, -0.102294921875, 0.047607421875, -0.026611328125, 0.014892578125, -0.00830078125,
];
const PHASE_1 = [
  -0.0291748046875, 0.029296875, -0.0517578125, 0.089111328125, -0.16650390625, 0.465087890625, 0.77978515625,
  -0.2003173828125, 0.1015625, -0.0582275390625, 0.0330810546875, -0.0189208984375,
];
/** The other two phases are these read backwards. */
const EARLY = Float64Array.from(PHASE_0);
const MIDDLE = Float64Array.from(PHASE_1);

/** The most by which the estimate may exceed the largest sample: the sum of a phase's sizes, 2.03. */
export const TRUE_PEAK_EXCESS = Math.max(
  ...[PHASE_0, PHASE_1].map((phase) => phase.reduce((sum, tap) => sum + Math.abs(tap), 0)),
);

/** The largest of the four interpolated values round the middle of the twelve samples from `at` on, without sign. */
export function truePeakAt(samples: Float64Array, at: number): number {
  let p0 = 0;
  let p1 = 0;
  let p2 = 0;
  let p3 = 0;
  for (let i = 0; i < TRUE_PEAK_TAPS; i++) {
    const x = samples[at + i]!;
    const j = TRUE_PEAK_TAPS - 1 - i;
    p0 += EARLY[j]! * x;
    p1 += MIDDLE[j]! * x;
    p2 += MIDDLE[i]! * x;
    p3 += EARLY[i]! * x;
  }
  return Math.max(Math.abs(p0), Math.abs(p1), Math.abs(p2), Math.abs(p3));
}

/** The true peak of a whole signal, as digital amplitude: 1 is full scale. */
export function truePeak(samples: Float64Array): number {
  const padded = new Float64Array(samples.length + 2 * TRUE_PEAK_TAPS);
  padded.set(samples, TRUE_PEAK_TAPS);
  let peak = 0;
  for (let i = 0; i + TRUE_PEAK_TAPS <= padded.length; i++) peak = Math.max(peak, truePeakAt(padded, i));
  for (let i = 0; i < samples.length; i++) peak = Math.max(peak, Math.abs(samples[i]!));
  return peak;
}
