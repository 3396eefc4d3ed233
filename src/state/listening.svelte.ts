/** What is heard: the newest rendered phrase of the sheet and the player that repeats it. */
import { downloadSound } from '../audio/wavFile.ts';
import { Player, type PlayerState } from '../audio/player.ts';
import type { JobClient } from '../jobs/client.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { recall, remember } from './storage.ts';
import type { Sound } from './types.ts';

const VOLUME_KEY = 'lodetone.volume';
/** Modest until the listener says otherwise: a phrase at full scale through headphones can hurt. */
const FIRST_VOLUME = 0.5;

export class Listening {
  readonly #sheet: () => Sheet;
  readonly #jobs: JobClient;
  readonly #player: Player;

  sound: Sound | null = $state.raw(null);
  player: PlayerState = $state.raw({ status: 'stopped', message: '' });
  problem = $state('');
  #volume = $state(FIRST_VOLUME);

  readonly playing: boolean = $derived(this.player.status === 'playing' || this.player.status === 'waiting');

  constructor(sheet: () => Sheet, jobs: JobClient) {
    this.#sheet = sheet;
    this.#jobs = jobs;
    const kept = Number.parseFloat(recall(VOLUME_KEY) ?? '');
    if (kept >= 0 && kept <= 1) this.#volume = kept;
    this.#player = new Player({ onchange: (state) => (this.player = state) });
    this.#player.setVolume(this.#volume);
  }

  get volume(): number {
    return this.#volume;
  }

  setVolume = (value: number): void => {
    this.#volume = Math.min(1, Math.max(0, value));
    this.#player.setVolume(this.#volume);
    remember(VOLUME_KEY, String(this.#volume));
  };

  /** The sheet has changed: the sounding phrase changes under the listener, at the same point of the note. */
  changed = (): void => {
    void this.#render();
  };

  play = (): void => {
    if (this.sound) this.#player.play(this.sound);
  };

  stop = (): void => this.#player.stop();

  toggle = (): void => (this.playing ? this.stop() : this.play());

  download = (format: 'float' | '24'): void => {
    if (this.sound) downloadSound(this.sound, format, this.#sheet().title);
  };

  async #render(): Promise<void> {
    const answer = await this.#jobs.sound(this.#sheet());
    if (answer.status === 'done') {
      this.sound = answer.value;
      this.problem = '';
      if (this.playing) this.#player.replace(answer.value);
    } else if (answer.status === 'failed') this.problem = answer.message;
  }
}
