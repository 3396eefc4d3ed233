/** Figures that are read, not typed, as a maker writes them. */

/** «880 Hz», «3.90 kHz». */
export function hertz(value: number): string {
  return value >= 999.5 ? `${(value / 1000).toPrecision(3)} kHz` : `${value.toPrecision(3)} Hz`;
}

/** One decimal, with its sign: «+4.1 dB», «−0.3 dB». */
export function decibels(value: number): string {
  const figure = Math.abs(value).toFixed(1);
  return `${Number(figure) === 0 ? '' : value < 0 ? '−' : '+'}${figure} dB`;
}

/** Three digits that matter, of what is not below 0: 8.43, 56.2, 131. */
export const threeDigits = (value: number): string =>
  value.toFixed(value >= 99.95 ? 0 : value >= 9.995 ? 1 : 2);
