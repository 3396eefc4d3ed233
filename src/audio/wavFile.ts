/** A rendered phrase, and what is said about it, as files in the listener's downloads. */
import type { Sound } from '../physics/prediction.ts';
import { encodeWav } from '../physics/sound/wav.ts';
import { download, fileName } from './download.ts';

/** A WAV file of the title's name: 32-bit float or 24-bit PCM. @throws RangeError as encodeWav does */
export function downloadSound(sound: Sound, format: 'float' | '24', title: string): void {
  download(encodeWav(sound.samples, sound.sampleRate, format), fileName(title, 'wav'));
}

/** A text file (UTF-8) of the title's name. */
export function downloadText(text: string, title: string): void {
  download(new TextEncoder().encode(text), fileName(title, 'txt'), 'text/plain;charset=utf-8');
}
