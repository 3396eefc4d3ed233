/**
 * A plain guitar loudspeaker's roll-off, so that a cable's bare signal can be heard about as it is used. ILLUSTRATIVE: a
 * second-order low cut at 75 Hz, a broad rise of 4 dB at 2.6 kHz and a fourth-order fall from 5 kHz on. That
 * shape is common practice; no particular loudspeaker is meant, and neither cabinet nor distortion is in it.
 */

const LOW_CUT = { frequency: 75, q: 0.9 };
const PRESENCE = { frequency: 2600, q: 1.1, gain: 10 ** (4 / 20) };
/** Two sections of the same frequency: 24 dB an octave. */
const HIGH_CUT = { frequency: 5000, q: [0.6, 1.2] } as const;

/** Transfer at f (Hz, ≥ 0), without unit. */
export function loudspeaker(f: number): { re: number; im: number } {
  // With s = jf/f0: s²/(s² + s/q + 1), (s² + gain s/q + 1)/(s² + s/q + 1), 1/(s² + s/q + 1).
  const low = f / LOW_CUT.frequency;
  const middle = f / PRESENCE.frequency;
  const high = f / HIGH_CUT.frequency;
  let re = 1;
  let im = 0;
  const times = (numRe: number, numIm: number, denRe: number, denIm: number) => {
    const size = denRe * denRe + denIm * denIm;
    const qRe = (numRe * denRe + numIm * denIm) / size;
    const qIm = (numIm * denRe - numRe * denIm) / size;
    const was = re;
    re = re * qRe - im * qIm;
    im = was * qIm + im * qRe;
  };
  times(-low * low, 0, 1 - low * low, low / LOW_CUT.q);
  const rest = 1 - middle * middle;
  times(rest, (PRESENCE.gain * middle) / PRESENCE.q, rest, middle / PRESENCE.q);
  for (const q of HIGH_CUT.q) times(1, 0, 1 - high * high, high / q);
  return { re, im };
}

/** Its curve for drawing, dB; −∞ at 0 Hz. */
export function loudspeakerDb(f: number): number {
  const { re, im } = loudspeaker(f);
  return 20 * Math.log10(Math.hypot(re, im));
}
