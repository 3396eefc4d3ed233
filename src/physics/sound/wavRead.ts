/** Reads WAV files (RIFF): a player's own dry recording. Source: [RIFF1991], [MMREG]. */

export interface WavSound {
  /** The only or the first channel, full scale ±1. */
  readonly samples: Float64Array;
  readonly sampleRate: number;
  /** How many channels the file has. */
  readonly channels: number;
}

/** A file that was read, or why not. */
export type WavRead =
  | { readonly ok: true; readonly sound: WavSound }
  /** `message` is a sentence for the screen. */
  | { readonly ok: false; readonly message: string };

const PCM = 1;
const IEEE_FLOAT = 3;
/** The true format stands in the chunk's extension. */
const EXTENSIBLE = 0xfffe;
/** s; a longer file is cut. Ten minutes of 64-bit numbers at 96 kHz are 460 MB: too much; two are not. */
const LONGEST = 120;

interface Layout {
  readonly float: boolean;
  readonly bits: number;
  readonly channels: number;
  readonly sampleRate: number;
}

/** PCM of 16, 24 or 32 bits or 32-bit float, any number of channels, of which the first counts. Never throws. */
export function readWav(bytes: Uint8Array): WavRead {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const word = (at: number) => String.fromCharCode(...bytes.subarray(at, at + 4));
  if (bytes.length < 12 || word(8) !== 'WAVE' || !['RIFF', 'RF64', 'RIFX'].includes(word(0))) {
    return refuse('The file must be a WAV file; got something else. Export the recording as WAV.');
  }
  if (word(0) !== 'RIFF') {
    return refuse(
      `The file must be a plain WAV file (RIFF); got the variant ${word(0)}. Export it as plain WAV.`,
    );
  }
  let layout: Layout | null = null;
  for (let at = 12; at + 8 <= bytes.length;) {
    const size = view.getUint32(at + 4, true);
    const from = at + 8;
    if (word(at) === 'fmt ') {
      const found = readLayout(view, from, Math.min(size, bytes.length - from));
      if (typeof found === 'string') return refuse(found);
      layout = found;
    } else if (word(at) === 'data') {
      if (!layout) return refuse('A WAV file must say its format before its samples; this one does not.');
      // Recorders that were switched off leave a size of 0 or of all ones: what is there counts.
      const there = bytes.length - from;
      return readSamples(view, from, size === 0 || size > there ? there : size, layout);
    }
    // Chunks begin at even places.
    at = from + size + (size % 2);
  }
  return refuse('A WAV file must have samples; got none.');
}

function refuse(message: string): WavRead {
  return { ok: false, message };
}

/** A message when it is a format that can't be read. */
function readLayout(view: DataView, at: number, size: number): Layout | string {
  if (size < 16) return 'The format part of a WAV file must have 16 bytes or more; this file is damaged.';
  let format = view.getUint16(at, true);
  const channels = view.getUint16(at + 2, true);
  const sampleRate = view.getUint32(at + 4, true);
  const bits = view.getUint16(at + 14, true);
  if (format === EXTENSIBLE && size >= 26) format = view.getUint16(at + 24, true);
  if (channels < 1) return 'A WAV file must have a channel or more; got none.';
  if (sampleRate < 8000 || sampleRate > 384000) {
    return `The sample rate of the recording must be 8 to 384 kHz; got ${sampleRate} Hz.`;
  }
  if (format === PCM && (bits === 16 || bits === 24 || bits === 32)) {
    return { float: false, bits, channels, sampleRate };
  }
  if (format === IEEE_FLOAT && bits === 32) return { float: true, bits, channels, sampleRate };
  const kind =
    format === PCM ? `${bits}-bit PCM` : format === IEEE_FLOAT ? `${bits}-bit float` : 'compressed';
  return `The recording must be PCM of 16, 24 or 32 bits or 32-bit float; got ${kind} (format ${format}). Export it again as one of these.`;
}

function readSamples(view: DataView, from: number, size: number, layout: Layout): WavRead {
  const { float, bits, channels, sampleRate } = layout;
  const width = bits / 8;
  const frame = width * channels;
  const count = Math.min(Math.floor(size / frame), LONGEST * sampleRate);
  if (count === 0) return refuse('A WAV file must have samples; got none.');
  const samples = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const at = from + i * frame;
    if (float) samples[i] = view.getFloat32(at, true);
    else if (bits === 16) samples[i] = view.getInt16(at, true) / 2 ** 15;
    else if (bits === 24) samples[i] = (view.getUint16(at, true) + view.getInt8(at + 2) * 2 ** 16) / 2 ** 23;
    else samples[i] = view.getInt32(at, true) / 2 ** 31;
    if (!Number.isFinite(samples[i])) {
      return refuse(`Every sample must be a finite number; sample ${i} is not. Export the recording again.`);
    }
  }
  return { ok: true, sound: { samples, sampleRate, channels } };
}
