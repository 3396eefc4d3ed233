import { Player, type PlayerState } from '../../src/audio/player.ts';
import type { Sound } from '../../src/physics/prediction.ts';
import { FakeContext } from './fakeAudio.ts';

export function sound(seconds = 4, level = 0.5, sampleRate = 48000): Sound {
  const samples = new Float64Array(Math.round(seconds * sampleRate)).fill(level);
  return { samples, sampleRate, gain: 1, reducedDb: 0, loudness: -20, peakVolts: 0.1 };
}

/** A player on a clock that is turned by hand; `contexts` are the outputs it has opened. */
export function setup(prepare: (context: FakeContext) => void = () => undefined) {
  const contexts: FakeContext[] = [];
  const states: PlayerState[] = [];
  const page = new EventTarget();
  const player = new Player({
    page,
    onchange: (state) => states.push(state),
    createContext: () => {
      const context = new FakeContext();
      prepare(context);
      contexts.push(context);
      return context as unknown as AudioContext;
    },
  });
  return { player, contexts, states, page, context: () => contexts.at(-1)! };
}

export const total = (context: FakeContext, time: number): number =>
  context.heard(time).reduce((sum, voice) => sum + voice.gain, 0);

/** Frames are 1/48000 s: the finest that a start can be told apart. */
export const FRAME = 1 / 48000;
