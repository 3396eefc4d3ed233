/** A recording of one's own, heard through the open sheet's circuit. */
import type { Player, PlayerState } from '../audio/player.ts';
import type { WavSound } from '../audio/recording.ts';
import type { JobClient } from '../jobs/client.ts';
import type { Sheet } from '../sheet/sheet.ts';

interface Surroundings {
  readonly sheet: () => Sheet;
  readonly volume: number;
  /** Called before it begins, so that nothing else sounds. */
  readonly onplay: () => void;
}

/** s; so much of a recording is heard. It goes to the worker whole at every change. */
const LONGEST = 60;
/** ms without a change before it is computed anew: a minute of sound takes longer than a frame. */
const REST = 200;

/** One recording, its first minute. */
export class OwnPlaying {
  readonly #jobs: Pick<JobClient, 'through'>;
  readonly #around: Surroundings;
  /** There from the first recording on: few bring one, and what opens and plays it is loaded with it. */
  #player: Player | null = null;
  #volume: number;

  /** null: none is open. */
  recording: WavSound | null = $state.raw(null);
  name = $state('');
  /** A sentence, or empty. */
  problem = $state('');
  player: PlayerState = $state.raw({ status: 'stopped', message: '' });
  /** Whether it is being computed before it begins. */
  busy = $state(false);
  /** The sheet through whose pickup it was recorded; null for the bare string's signal. */
  #from: (() => Sheet | null) | null = null;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #disposed = false;

  readonly playing: boolean = $derived(this.player.status === 'playing' || this.player.status === 'waiting');

  constructor(jobs: Pick<JobClient, 'through'>, around: Surroundings) {
    this.#jobs = jobs;
    this.#around = around;
    this.#volume = around.volume;
  }

  /** 0–1; see Player.setVolume. */
  setVolume(volume: number): void {
    this.#volume = volume;
    this.#player?.setVolume(volume);
  }

  /** A WAV file; trouble becomes `problem`. */
  open = async (file: File): Promise<void> => {
    this.stop();
    const loaded = await import('../audio/ownParts.ts').catch(() => null);
    if (this.#disposed) return;
    if (!loaded) {
      this.problem = 'What opens a recording could not be loaded. Reload the page.';
      return;
    }
    this.#player ??= new loaded.Player({
      volume: this.#volume,
      onchange: (state) => (this.player = state),
    });
    const read = await loaded.openRecording(file);
    if (!read.ok) {
      this.problem = read.message;
      return;
    }
    const { samples, sampleRate, channels } = read.sound;
    this.problem = '';
    this.name = file.name;
    this.recording = { samples: samples.slice(0, LONGEST * sampleRate), sampleRate, channels };
  };

  /** Puts the recording away. */
  close = (): void => {
    this.stop();
    this.recording = null;
    this.problem = '';
  };

  /** @param from read at every change, so that an edited trial counts as it then is */
  setFrom = (from: (() => Sheet | null) | null): void => {
    this.#from = from;
    this.changed();
  };

  toggle = (): void => {
    if (this.playing) this.stop();
    else void this.#play();
  };

  stop(): void {
    clearTimeout(this.#timer);
    this.#player?.stop();
  }

  /** Gives the output back; nothing is heard afterwards. */
  dispose(): void {
    clearTimeout(this.#timer);
    this.#player?.dispose();
    this.#player = null;
    this.#disposed = true;
  }

  /** The sheet has changed: what sounds is computed anew once the hand rests. */
  changed(): void {
    if (!this.playing) return;
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => {
      void this.#through().then((sound) => {
        if (sound && this.playing) this.#player?.replace(sound);
      });
    }, REST);
  }

  async #play(): Promise<void> {
    this.#around.onplay();
    this.#player?.prepare();
    this.busy = true;
    const sound = await this.#through();
    this.busy = false;
    if (sound) this.#player?.play(sound);
  }

  async #through() {
    const { recording } = this;
    if (!recording) return null;
    const answer = await this.#jobs.through(this.#around.sheet(), {
      recording,
      from: this.#from?.() ?? null,
    });
    if (answer.status === 'failed') this.problem = answer.message;
    return answer.status === 'done' ? answer.value : null;
  }
}
