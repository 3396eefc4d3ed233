/** Lets the engine's code be compiled before anything is to be heard: cold, its first blocks take longer than they last. */
import { LiveEngine } from './engine.ts';
import { LISTENERS } from './partials.ts';
import { LIVE_BLOCK, type LiveNote, type LiveSetup } from './types.ts';

const MODES = 40;
const BLOCKS = 150;
/** Blocks between changes. */
const CHANGE = 12;

/** Plays a made-up chord, straight and bent, through one coil and three, and throws it away. About 70 ms. */
export function warmUp(sampleRate: number): void {
  rehearse([madeUp(sampleRate, 1, true), madeUp(sampleRate, 1, false)]);
  rehearse([madeUp(sampleRate, LISTENERS, true)]);
}

/**
 * Plays setups as they have come, through one change after another, and throws it away: data from another thread may be laid
 * out otherwise than made-up ones, for which code is then compiled anew. About 50 ms for a chord.
 */
export function rehearse(setups: readonly LiveSetup[]): void {
  const first = setups[0]!;
  const engine = new LiveEngine(first.sampleRate);
  const out = new Float32Array(LIVE_BLOCK);
  engine.play(first);
  for (let block = 0; block < BLOCKS; block++) {
    if (block % CHANGE === 0) engine.update(setups[Math.floor(block / (4 * CHANGE)) % setups.length]!);
    engine.process(out);
  }
}

function madeUp(sampleRate: number, coils: number, bent: boolean): LiveSetup {
  const notes = Array.from({ length: 6 }, (_, s): LiveNote => {
    const values = (value: (i: number) => number) => Float64Array.from({ length: MODES }, (_, i) => value(i));
    return {
      string: s + 1,
      fret: 0,
      angular: values((i) => 600 * (s + 1) * (i + 1)),
      decay: values((i) => 1 + i),
      amplitude: values((i) => 1e-3 / (i + 1) ** 2),
      weights: Array.from({ length: coils }, () => values(() => 0.1)),
      bends: bent ? Array.from({ length: coils }, madeUpBend) : [],
    };
  });
  const width = 2 * LIVE_BLOCK + 2;
  return {
    sampleRate,
    seconds: 0.1,
    times: Float64Array.from(notes, (_, i) => 0.01 * i),
    untils: Float64Array.from(notes, (_, i) => 0.1 + 0.01 * i),
    played: Uint16Array.from(notes, (_, i) => i),
    notes,
    ears: Array.from({ length: coils }, (_, row) => ({ group: 0, factor: 1, key: `0.${row}` })),
    bent,
    oversampling: bent && sampleRate < 80000 ? 2 : 1,
    // Loud enough for the limiter to be compiled too.
    filters: [new Float64Array(8 * width).fill(bent ? 1e3 : 1)],
    gain: 1,
  };
}

const madeUpBend = () => ({
  lowest: -1e-3,
  step: 1e-3,
  points: Float64Array.of(-1e-3, 0.9, 0, 1, 1e-3, 1.1),
});
