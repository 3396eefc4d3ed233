/** A recording of one's own, dropped on the sheet. */
import { readWav, type WavRead } from '../physics/sound/wavRead.ts';

export type { WavRead, WavSound } from '../physics/sound/wavRead.ts';

/** Bytes; a bigger file is refused before it is read. Two minutes of two channels in 32 bits at 192 kHz. */
const LARGEST = 200e6;

/** Never rejects; trouble is a sentence. */
export async function openRecording(file: Blob): Promise<WavRead> {
  if (file.size > LARGEST) {
    const size = (file.size / 1e6).toFixed(0);
    return {
      ok: false,
      message: `The recording must be at most 200 MB; got ${size} MB. Cut it to the part you need.`,
    };
  }
  try {
    return readWav(new Uint8Array(await file.arrayBuffer()));
  } catch {
    return {
      ok: false,
      message: 'The file could not be read. Check that it is still there, and drop it again.',
    };
  }
}
