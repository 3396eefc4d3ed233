/** Plays the phrase live: strings that keep ringing while the pickup under them is exchanged. */
import type { LiveSetup, LiveStats } from '../physics/sound/live/types.ts';
import { LivePort } from './livePort.ts';
import { openOutput, type LiveOutput, type OutputMaker } from './liveOutput.ts';
import {
  BLOCKED,
  closeContext,
  defaultPage,
  detail,
  holdVolume,
  NO_OUTPUT,
  STALLED,
  VOLUME_TIME,
  whenRoused,
} from './output.ts';

export type { LiveSetup, LiveStats };

/** What the player is doing. */
export interface LiveState {
  /**
   * 'starting': the output is being opened. 'waiting': browser or output hold the sound back; it begins by itself when
   * they let go. 'failed': nothing sounds until play is pressed again.
   */
  readonly status: 'stopped' | 'starting' | 'playing' | 'waiting' | 'failed';
  /** A sentence for the screen; while playing a remark, or empty. */
  readonly message: string;
}

export interface LivePlayerOptions extends OutputMaker {
  /** Called after every change of state. */
  readonly onchange?: (state: LiveState) => void;
  /** Is given a port for every output that is opened: what is sent there updates what sounds (LiveRequest). */
  readonly onfeed?: (port: MessagePort) => void;
  /** 0–1, see `setVolume`; 0.5 (−12 dB) unless given. */
  readonly volume?: number;
  /** Tells when the page is seen again and of gestures; the document where there is one. */
  readonly page?: EventTarget | null;
  /** Tells when outputs come and go; the browser's media devices where there are any. */
  readonly devices?: EventTarget | null;
}

/** How often it is looked whether the output takes sound, ms. */
const WATCH = 1000;

const NO_WORKLET = 'This browser could not load the live sound. Reload the page, or use a newer browser.';

/** One output with the worklet in it; opened at the first click or key press, kept between phrases. */
export class LivePlayer {
  private readonly onchange: (state: LiveState) => void;
  private readonly onfeed: ((port: MessagePort) => void) | undefined;
  private readonly maker: OutputMaker;
  private readonly rest: () => void;
  private readonly devices: EventTarget | null;
  private output: LiveOutput | null = null;
  private port: LivePort | null = null;
  private now: LiveState = { status: 'stopped', message: '' };
  private level: number;
  private wanted = false;
  /** Whether the node has been told to play: an update that arrives before that is lost. */
  private begun = false;
  private setup: LiveSetup | null = null;
  private timer: ReturnType<typeof setInterval> | undefined;
  private seen = -1;

  constructor(options: LivePlayerOptions = {}) {
    this.onchange = options.onchange ?? (() => {});
    this.onfeed = options.onfeed;
    this.maker = options;
    this.level = holdVolume(options.volume ?? 0.5);
    this.devices = options.devices === undefined ? defaultDevices() : options.devices;
    this.rest = whenRoused(options.page === undefined ? defaultPage() : options.page, this.wake);
    this.devices?.addEventListener('devicechange', this.wake);
  }

  /** The newest state, as `onchange` was told. */
  get state(): LiveState {
    return this.now;
  }

  /** Hz; for which setups must be made. null before an output is open. */
  get sampleRate(): number | null {
    return this.output?.context.sampleRate ?? null;
  }

  /**
   * Opens the output, from a click or key press, and returns its sample rate, or null (and the state says why). Where the
   * output doesn't take the rate asked for, it gets its own.
   */
  open(sampleRate: number): number | null {
    const { output } = this;
    if (output && output.context.state !== 'closed') {
      if (output.context.sampleRate === sampleRate || output.remark) return output.context.sampleRate;
    }
    this.close();
    try {
      const opened = openOutput(this.maker, sampleRate, this.level ** 2);
      opened.context.addEventListener('statechange', this.follow);
      opened.context.addEventListener('error', this.lost);
      this.output = opened;
      // Some browsers let go only within the gesture itself.
      this.resume(opened.context);
      return opened.context.sampleRate;
    } catch (error) {
      this.fail(NO_OUTPUT + detail(error));
      return null;
    }
  }

  /**
   * Begins the phrase, from a click or key press; what sounds is faded out. Opens the output at the setup's rate when none
   * is open. Never throws: trouble becomes the state.
   */
  play(setup: LiveSetup): void {
    if (!this.output && this.open(setup.sampleRate) === null) return;
    const output = this.output!;
    if (setup.sampleRate !== output.context.sampleRate) {
      this.fail(
        `The sound must be made for ${output.context.sampleRate} Hz, the output's rate; got ${setup.sampleRate} Hz. Press play again.`,
      );
      return;
    }
    this.wanted = true;
    this.begun = false;
    this.setup = setup;
    this.report({ status: 'starting', message: '' });
    void this.begin(output);
  }

  /** Whether what is sent to the port is heard. */
  get feeding(): boolean {
    return this.wanted && this.begun && this.onfeed !== undefined;
  }

  /**
   * Exchanges the pickup under the ringing strings. Does nothing while stopped.
   *
   * @param fed whether it has been sent to the port already
   */
  update(setup: LiveSetup, fed = false): void {
    if (!this.wanted || setup.sampleRate !== this.sampleRate) return;
    this.setup = setup;
    if (!fed) this.port?.post({ kind: 'update', setup });
  }

  /** Fades out over 20 ms. */
  stop(): void {
    this.silence();
    this.report({ status: 'stopped', message: '' });
  }

  /** @param volume 0–1; the amplitude is its square, so that half way is −12 dB and the travel sounds even. */
  setVolume(volume: number): void {
    this.level = holdVolume(volume);
    const { output } = this;
    output?.master.gain.setTargetAtTime(this.level ** 2, output.context.currentTime, VOLUME_TIME);
  }

  /** 0–1, see `setVolume`. */
  get volume(): number {
    return this.level;
  }

  /** What is heard, before the volume, for a scope or a spectrum; null before an output is open. */
  tap(): AnalyserNode | null {
    return this.output?.analyser ?? null;
  }

  /** Where in the phrase what is heard at present stands, s; null while nothing is played. */
  async position(): Promise<number | null> {
    const { output } = this;
    if (!output || !this.wanted || !this.begun) return null;
    const stats = await this.stats();
    if (!stats) return null;
    // What leaves the worklet is heard so much later, as far as the browser knows.
    const { outputLatency } = output.context as { outputLatency?: number };
    return Math.max(0, stats.position - (outputLatency ?? 0));
  }

  /** From inside the worklet; null while there is none. */
  stats(): Promise<LiveStats | null> {
    return this.port?.stats() ?? Promise.resolve(null);
  }

  /** The next samples that leave the worklet, before the volume; null while there is none. */
  capture(samples: number): Promise<Float32Array | null> {
    return this.port?.capture(samples) ?? Promise.resolve(null);
  }

  /** Gives the output back; not to be used afterwards. */
  dispose(): void {
    this.stop();
    this.rest();
    this.devices?.removeEventListener('devicechange', this.wake);
    this.close();
  }

  private async begin(output: LiveOutput): Promise<void> {
    this.resume(output.context);
    try {
      const node = await output.node;
      if (this.output !== output || !this.wanted) return;
      this.attach(node);
    } catch (error) {
      if (this.output === output) this.giveUp(NO_WORKLET + detail(error));
      return;
    }
    this.port?.post({ kind: 'play', setup: this.setup! });
    this.begun = true;
    this.seen = -1;
    clearInterval(this.timer);
    this.timer = setInterval(this.look, WATCH);
    this.follow();
  }

  private attach(node: AudioWorkletNode): void {
    if (this.port?.node === node) return;
    this.port = new LivePort(node, (message) => this.fail(message));
    node.addEventListener('processorerror', () => this.giveUp(NO_WORKLET));
    this.onfeed?.(this.port.feed());
  }

  private close(): void {
    const { output } = this;
    clearInterval(this.timer);
    this.output = null;
    this.port?.close();
    this.port = null;
    this.begun = false;
    if (!output) return;
    output.context.removeEventListener('statechange', this.follow);
    output.context.removeEventListener('error', this.lost);
    closeContext(output.context);
  }

  private resume(context: AudioContext): void {
    if (context.state === 'running') return;
    // While a page has had no gesture the promise stays open; the watch reports that.
    context.resume().then(this.follow, () => {
      if (this.wanted) this.report({ status: 'waiting', message: BLOCKED });
    });
  }

  /** The output has changed its state by itself, or has done what was asked. */
  private readonly follow = (): void => {
    const { output } = this;
    if (!output || !this.wanted || !this.port) return;
    const { state } = output.context;
    if (state === 'running') this.report({ status: 'playing', message: output.remark });
    else if (state === 'closed') this.lost();
    else if (this.now.status === 'playing') this.report({ status: 'waiting', message: BLOCKED });
  };

  private readonly lost = (): void => this.giveUp(NO_OUTPUT);

  /** The next time play is pressed everything is opened anew. */
  private giveUp(message: string): void {
    if (this.wanted) this.fail(message);
    this.close();
  }

  /** Whether the output's clock goes on. */
  private readonly look = (): void => {
    const { output } = this;
    if (!output || !this.wanted) return;
    const { state, currentTime } = output.context;
    if (state !== 'running') this.report({ status: 'waiting', message: BLOCKED });
    else if (currentTime === this.seen) this.report({ status: 'waiting', message: STALLED });
    else this.report({ status: 'playing', message: output.remark });
    this.seen = currentTime;
  };

  /** A gesture, or the page is seen again, or an output has come or gone: the sound may have been suspended in between. */
  private readonly wake = (): void => {
    const { output } = this;
    if (output && this.wanted && output.context.state !== 'closed') this.resume(output.context);
  };

  private silence(): void {
    this.wanted = false;
    clearInterval(this.timer);
    this.port?.post({ kind: 'stop' });
  }

  private fail(message: string): void {
    this.silence();
    this.report({ status: 'failed', message });
  }

  private report(state: LiveState): void {
    if (state.status === this.now.status && state.message === this.now.message) return;
    this.now = state;
    this.onchange(state);
  }
}

function defaultDevices(): EventTarget | null {
  if (typeof navigator === 'undefined') return null;
  // Undefined on pages that aren't served securely, whatever the types say.
  const { mediaDevices } = navigator as { mediaDevices?: EventTarget };
  return mediaDevices ?? null;
}
