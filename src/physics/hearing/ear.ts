/** What the head, the ear canal and the middle ear do to a sound from ahead, and what is too soft to be heard. */

/** f in Hz; dB from a free field to the eardrum; dB through the middle ear. */
const TRANSMISSION: readonly (readonly [f: number, outer: number, middle: number])[] = [
  [20, 0, -39.6],
  [25, 0, -32],
  [31.5, 0, -25.85],
  [40, 0, -21.4],
  [50, 0, -18.5],
  [63, 0, -15.9],
  [80, 0, -14.1],
  [100, 0, -12.4],
  [125, 0.1, -11],
  [160, 0.3, -9.6],
  [200, 0.5, -8.3],
  [250, 0.9, -7.4],
  [315, 1.4, -6.2],
  [400, 1.6, -4.8],
  [500, 1.7, -3.8],
  [630, 2.5, -3.3],
  [750, 2.7, -2.9],
  [800, 2.6, -2.6],
  [1000, 2.6, -2.6],
  [1250, 3.2, -4.5],
  [1500, 5.2, -5.4],
  [1600, 6.6, -6.1],
  [2000, 12, -8.5],
  [2500, 16.8, -10.4],
  [3000, 15.3, -7.3],
  [3150, 15.2, -7],
  [4000, 14.2, -6.6],
  [5000, 10.7, -7],
  [6000, 7.1, -9.2],
  [6300, 6.4, -10.2],
  [8000, 1.8, -12.2],
  [9000, -0.9, -10.8],
  [10000, -1.6, -10.1],
  [11200, 1.9, -12.7],
  [12500, 4.9, -15],
  [14000, 2, -18.2],
  [15000, -2, -23.8],
  [16000, 2.5, -32.3],
];

/** f in Hz; dB of excitation at the threshold of hearing: 3.6 dB from 500 Hz on, more below, where the inner ear is less keen. */
const THRESHOLD: readonly (readonly [f: number, dB: number])[] = [
  [50, 28.2],
  [63, 23.9],
  [80, 19.2],
  [100, 15.7],
  [125, 12.7],
  [160, 10.1],
  [200, 8.1],
  [250, 6.3],
  [315, 5.3],
  [400, 4.5],
  [500, 3.6],
];

const outerAndMiddle = TRANSMISSION.map(([f, outer, middle]) => [f, outer + middle] as const);

/** From a free field to the inner ear at f (Hz), dB. Source: [ANSIS34], tables 1 and 3 (from memory). */
export const transmissionDb = (f: number): number => between(outerAndMiddle, f);

/** Excitation at the threshold of hearing at f (Hz), dB. Source: [ANSIS34], [MooreGlasbergBaer1997] (from memory). */
export const thresholdDb = (f: number): number => between(THRESHOLD, f);

/** Straight over the logarithm of the frequency; beyond the ends as at them. */
function between(table: readonly (readonly [f: number, dB: number])[], f: number): number {
  const next = table.findIndex(([at]) => at >= f);
  if (next < 0) return table.at(-1)![1];
  if (next === 0) return table[0]![1];
  const [f0, low] = table[next - 1]!;
  const [f1, high] = table[next]!;
  return low + (high - low) * (Math.log(f / f0) / Math.log(f1 / f0));
}
