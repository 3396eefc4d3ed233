/** Plays a rendered phrase over and over, and exchanges it while it sounds. */
import type { Sound } from '../physics/prediction.ts';
import { objection } from './guard.ts';
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
import { FADE, Phrase } from './phrase.ts';

/** What the player is doing. */
export type PlayerState =
  | { readonly status: 'stopped' | 'playing'; readonly message: '' }
  /** The browser or the output holds the sound back; it begins by itself when they let go. */
  | { readonly status: 'waiting'; readonly message: string }
  /** Nothing sounds; `message` is a sentence for the screen. */
  | { readonly status: 'failed'; readonly message: string };

export interface PlayerOptions {
  /** Called after every change of state. */
  readonly onchange?: (state: PlayerState) => void;
  /** 0–1, see `setVolume`; 0.5 (−12 dB) unless given. */
  readonly volume?: number;
  /** Opens the output; for tests. */
  readonly createContext?: () => AudioContext;
  /** Something that tells when the page is seen again and of gestures; the document where there is one. */
  readonly page?: EventTarget | null;
}

/** How long the output may take to get going before we say that it doesn't, ms. */
const PATIENCE = 1000;

interface Output {
  readonly context: AudioContext;
  readonly master: GainNode;
}

const STOPPED: PlayerState = { status: 'stopped', message: '' };
const PLAYING: PlayerState = { status: 'playing', message: '' };

/** One output and the phrase on it; opened at the first click or key press. */
export class Player {
  private readonly onchange: (state: PlayerState) => void;
  private readonly createContext: () => AudioContext;
  private readonly rest: () => void;
  private context: AudioContext | null = null;
  private master: GainNode | null = null;
  private analyser: AnalyserNode | null = null;
  private phrase: Phrase | null = null;
  private level: number;
  private now: PlayerState = STOPPED;
  private watch: ReturnType<typeof setTimeout> | undefined;

  constructor(options: PlayerOptions = {}) {
    this.onchange = options.onchange ?? (() => {});
    this.createContext = options.createContext ?? (() => new AudioContext({ latencyHint: 'interactive' }));
    this.level = holdVolume(options.volume ?? 0.5);
    this.rest = whenRoused(options.page === undefined ? defaultPage() : options.page, this.wake);
  }

  /** The newest state, as `onchange` was told. */
  get state(): PlayerState {
    return this.now;
  }

  /**
   * Starts the sound at its beginning; to be called from a click or key press, because no output is opened before.
   * Something that sounds already is faded out. Never throws: trouble becomes the state.
   */
  play(sound: Sound): void {
    const trouble = objection(sound);
    if (trouble) {
      this.fail(trouble);
      return;
    }
    let output: Output;
    try {
      output = this.open();
    } catch (error) {
      this.fail(NO_OUTPUT + detail(error));
      return;
    }
    try {
      const phrase = new Phrase(output.context, output.master, sound);
      this.phrase?.stop();
      this.phrase = phrase;
      this.start(output.context);
    } catch (error) {
      this.fail(unplayable(sound, error));
    }
  }

  /** Opens the output for a sound that is still being made, from a click or key press. Trouble is met again by `play`. */
  prepare(): void {
    try {
      this.open();
    } catch {
      // As it says.
    }
  }

  /** Crossfades to another sound at the same place in the phrase. Does nothing while stopped. Never throws. */
  replace(sound: Sound): void {
    if (!this.phrase) return;
    const trouble = objection(sound);
    if (trouble) {
      this.fail(trouble);
      return;
    }
    try {
      this.phrase.replace(sound);
    } catch (error) {
      this.fail(unplayable(sound, error));
    }
  }

  /** Fades out over 20 ms, then ends. */
  stop(): void {
    this.silence();
    this.report(STOPPED);
  }

  /** @param volume 0–1; the amplitude is its square, so that half way is −12 dB and the travel sounds even. */
  setVolume(volume: number): void {
    this.level = holdVolume(volume);
    const { context, master } = this;
    if (context && master) master.gain.setTargetAtTime(this.level ** 2, context.currentTime, VOLUME_TIME);
  }

  /** 0–1, see `setVolume`. */
  get volume(): number {
    return this.level;
  }

  /** Where the phrase stands, s from its beginning; 0 while stopped. */
  position(): number {
    return this.phrase?.position() ?? 0;
  }

  /** What is heard, for a scope or a spectrum; null before anything has been played. */
  tap(): AnalyserNode | null {
    if (this.context && this.master && !this.analyser) {
      this.analyser = this.context.createAnalyser();
      this.master.connect(this.analyser);
    }
    return this.analyser;
  }

  /** Fades out and gives the output back; not to be used afterwards. */
  dispose(): void {
    this.stop();
    this.rest();
    setTimeout(() => this.close(), 1000 * 2 * FADE);
  }

  private open(): Output {
    if (this.context && this.master && this.context.state !== 'closed') {
      return { context: this.context, master: this.master };
    }
    this.close();
    const context = this.createContext();
    const master = context.createGain();
    master.gain.setValueAtTime(this.level ** 2, context.currentTime);
    master.connect(context.destination);
    context.addEventListener('statechange', this.follow);
    context.addEventListener('error', this.lost);
    this.context = context;
    this.master = master;
    return { context, master };
  }

  private close(): void {
    const { context } = this;
    this.context = null;
    this.master = null;
    this.analyser = null;
    if (!context) return;
    context.removeEventListener('statechange', this.follow);
    context.removeEventListener('error', this.lost);
    closeContext(context);
  }

  /** Gets the output going and looks after a while whether it has. */
  private start(context: AudioContext): void {
    const begun = context.currentTime;
    if (context.state === 'running') this.report(PLAYING);
    else this.resume(context);
    clearTimeout(this.watch);
    this.watch = setTimeout(() => {
      if (!this.phrase) return;
      if (context.state !== 'running') this.report({ status: 'waiting', message: BLOCKED });
      else if (context.currentTime === begun) this.report({ status: 'waiting', message: STALLED });
    }, PATIENCE);
  }

  private resume(context: AudioContext): void {
    // While a page has had no gesture the promise stays open, so the watch reports, not this.
    context.resume().then(this.follow, () => {
      if (this.phrase) this.report({ status: 'waiting', message: BLOCKED });
    });
  }

  /** The output has changed its state by itself, or has done what was asked. */
  private readonly follow = (): void => {
    const { context } = this;
    if (!context || !this.phrase) return;
    if (context.state === 'running') this.report(PLAYING);
    else if (context.state === 'closed') this.fail(NO_OUTPUT);
    else if (this.now.status === 'playing') this.report({ status: 'waiting', message: BLOCKED });
  };

  private readonly lost = (): void => {
    if (this.phrase) this.fail(NO_OUTPUT);
    this.close();
  };

  /** Some systems suspend the output of a page that is out of sight; some browsers let go within a gesture only. */
  private readonly wake = (): void => {
    const { context } = this;
    if (context && this.phrase && context.state !== 'running' && context.state !== 'closed')
      this.resume(context);
  };

  private silence(): void {
    clearTimeout(this.watch);
    this.phrase?.stop();
    this.phrase = null;
  }

  private fail(message: string): void {
    this.silence();
    this.report({ status: 'failed', message });
  }

  private report(state: PlayerState): void {
    if (state.status === this.now.status && state.message === this.now.message) return;
    this.now = state;
    this.onchange(state);
  }
}

function unplayable(sound: Sound, error: unknown): string {
  return `This browser can't play a sound of ${sound.sampleRate} Hz. Choose another sample rate.${detail(error)}`;
}
