/** A rendered phrase as a WAV file in the listener's downloads. */
import type { Sound } from '../physics/prediction.ts';
import { encodeWav } from '../physics/sound/wav.ts';
import { download, fileName } from './download.ts';

export function downloadSound(sound: Sound, format: 'float' | '24', title: string): void {
  download(encodeWav(sound.samples, sound.sampleRate, format), fileName(title, 'wav'));
}
