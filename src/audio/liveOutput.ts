/** The audio output with the live worklet in it. */
import { LIVE_PROCESSOR } from '../physics/sound/live/types.ts';
import { fit } from './spectrum.ts';
import worklet from './live.worklet.ts?worker&url';

/** Of the spectrum from one reading to the next, 0–1: calm to look at, quick enough to be seen changing. */
const SMOOTHING = 0.4;

/** How an output is made; the browser's own way unless given. */
export interface OutputMaker {
  /** Opens the output; for tests. */
  readonly createContext?: (options: AudioContextOptions) => AudioContext;
  /** Makes the node after the worklet has been loaded; for tests. */
  readonly createNode?: (context: AudioContext) => AudioWorkletNode;
}

/** Node → volume → destination; the analyser hears the node, so that its picture does not shrink with the volume. */
export interface LiveOutput {
  readonly context: AudioContext;
  readonly master: GainNode;
  readonly analyser: AnalyserNode;
  /** Resolves when the worklet runs; rejects when it can't be loaded. */
  readonly node: Promise<AudioWorkletNode>;
  /** Remark about the sample rate, or empty. */
  readonly remark: string;
}

/**
 * At the wanted sample rate (Hz), or where that isn't taken at the output's own.
 *
 * @param gain amplitude to begin with
 * @throws what the browser throws when there is no output at all
 */
export function openOutput(
  { createContext = newContext, createNode = newNode }: OutputMaker,
  sampleRate: number,
  gain: number,
): LiveOutput {
  let context: AudioContext;
  let remark = '';
  try {
    context = createContext({ latencyHint: 'interactive', sampleRate });
  } catch {
    context = createContext({ latencyHint: 'interactive' });
    remark = `The output does not take ${sampleRate / 1000} kHz; it plays at ${context.sampleRate / 1000} kHz.`;
  }
  const master = context.createGain();
  master.gain.setValueAtTime(gain, context.currentTime);
  const analyser = context.createAnalyser();
  fit(analyser, SMOOTHING);
  master.connect(context.destination);
  const node = load(context, [master, analyser], createNode);
  // Whoever waits for it hears of the failure; here it must only not be left unheard.
  node.catch(() => undefined);
  return { context, master, analyser, node, remark };
}

async function load(
  context: AudioContext,
  listeners: readonly AudioNode[],
  createNode: (context: AudioContext) => AudioWorkletNode,
): Promise<AudioWorkletNode> {
  await context.audioWorklet.addModule(worklet);
  const node = createNode(context);
  for (const listener of listeners) node.connect(listener);
  return node;
}

function newContext(options: AudioContextOptions): AudioContext {
  return new AudioContext(options);
}

function newNode(context: AudioContext): AudioWorkletNode {
  return new AudioWorkletNode(context, LIVE_PROCESSOR, {
    numberOfInputs: 0,
    numberOfOutputs: 1,
    outputChannelCount: [1],
  });
}
