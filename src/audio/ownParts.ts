/** What one's own playing needs, in a file of its own: loaded with the first recording. */
export { Player } from './player.ts';
export { openRecording } from './recording.ts';
