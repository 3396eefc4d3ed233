/** The curve of the plain loudspeaker through which a sheet may be heard. */
export { loudspeakerDb } from '../physics/sound/speaker.ts';
