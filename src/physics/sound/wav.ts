/** WAV files (RIFF), one channel. Source: [RIFF1991], [MMREG]. */

export type WavFormat = 'float' | '24';

const PCM = 1;
const IEEE_FLOAT = 3;

/** 2²³: a digital amplitude of 1 in 24 bits. */
const FULL_SCALE_24 = 8388608;

/**
 * A WAV file of one channel. 'float': each sample rounded to the nearest 32-bit float. '24': 24-bit PCM, each sample
 * times 2²³ rounded to the nearest whole number (halves up), without dither, held within −2²³ … 2²³ − 1.
 *
 * @param sampleRate Hz, a whole number.
 * @throws RangeError when a sample is not finite: such a file could do harm on a loudspeaker.
 */
export function encodeWav(
  samples: Float64Array,
  sampleRate: number,
  format: WavFormat,
): Uint8Array<ArrayBuffer> {
  const isFloat = format === 'float';
  const width = isFloat ? 4 : 3;
  const dataBytes = samples.length * width;
  // Anything but PCM has an (empty) extension of its format chunk and a fact chunk with the number of samples.
  const header = isFloat ? 58 : 44;
  const bytes = new Uint8Array(header + dataBytes + (dataBytes % 2));
  const view = new DataView(bytes.buffer);
  let at = 0;
  const text = (word: string) => {
    for (const letter of word) view.setUint8(at++, letter.charCodeAt(0));
  };
  const long = (value: number) => {
    view.setUint32(at, value, true);
    at += 4;
  };
  const short = (value: number) => {
    view.setUint16(at, value, true);
    at += 2;
  };

  text('RIFF');
  long(bytes.length - 8);
  text('WAVE');
  text('fmt ');
  long(isFloat ? 18 : 16);
  short(isFloat ? IEEE_FLOAT : PCM);
  short(1);
  long(sampleRate);
  long(sampleRate * width);
  short(width);
  short(8 * width);
  if (isFloat) {
    short(0);
    text('fact');
    long(4);
    long(samples.length);
  }
  text('data');
  long(dataBytes);

  for (let i = 0; i < samples.length; i++) {
    const sample = samples[i]!;
    if (!Number.isFinite(sample)) {
      throw new RangeError(`Every sample must be a finite number; got ${sample} at ${i}.`);
    }
    if (isFloat) {
      view.setFloat32(at, sample, true);
    } else {
      const whole = Math.min(FULL_SCALE_24 - 1, Math.max(-FULL_SCALE_24, Math.round(sample * FULL_SCALE_24)));
      view.setUint16(at, whole & 0xffff, true);
      view.setInt8(at + 2, whole >> 16);
    }
    at += width;
  }
  return bytes;
}
