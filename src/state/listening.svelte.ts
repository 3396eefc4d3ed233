/**
 * What is heard: the phrase of the open sheet, live, with the pickup exchanged under the ringing strings at every change;
 * its beginning for the picture while nothing sounds; and the same phrase rendered whole, for files.
 */
import { spectrumOf, type Spectrum } from '../audio/spectrum.ts';
import { loudspeakerDb } from '../audio/loudspeaker.ts';
import { downloadSound, downloadText } from '../audio/wavFile.ts';
import { LivePlayer, type LivePlayerOptions, type LiveState } from '../audio/livePlayer.ts';
import type { JobClient } from '../jobs/client.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { Levels, type Level } from './levels.ts';
import { OwnPlaying } from './ownPlaying.svelte.ts';
import { Renders } from './renders.ts';
import { soundReport } from './soundReport.ts';
import { recall, remember } from './storage.ts';
import type { Beginning } from './types.ts';

export type { Level } from './levels.ts';
/** What is needed of the live player. */
type Playing = Pick<
  LivePlayer,
  | 'open'
  | 'play'
  | 'update'
  | 'stop'
  | 'setVolume'
  | 'tap'
  | 'position'
  | 'sampleRate'
  | 'feeding'
  | 'dispose'
>;
/** A file: the sound in two formats, or what is said about it. */
export type ExportFormat = '24' | 'float' | 'report';

const VOLUME_KEY = 'lodetone.volume';
const CAUTION_KEY = 'lodetone.caution';
/** Modest until the listener says otherwise: a phrase at full scale through headphones can hurt. */
const FIRST_VOLUME = 0.5;
/** ms without a change after which a gesture counts as at rest: then the level is matched anew and the phrase's beginning rendered. */
const REST = 200;

/** One live player, its volume and its level, and one's own playing beside it. */
export class Listening {
  readonly #open: () => Sheet;
  readonly #jobs: JobClient;
  readonly #player: Playing;
  readonly #levels: Levels;
  readonly #renders: Renders;
  /** A recording through the same circuit; never both at once. */
  readonly own: OwnPlaying;

  /** Rendered while nothing sounds and nothing is dragged; older than the sheet in between. */
  beginning: Beginning | null = $state.raw(null);
  /** Of the beginning, at the gain of that moment. */
  spectrum: Spectrum | null = $state.raw(null);
  /** What the player says of itself. */
  player: LiveState = $state.raw({ status: 'stopped', message: '' });
  /** Of what is heard, or would be; null until it is known, and when it can't be. */
  level: Level | null = $state.raw(null);
  /** A sentence, or empty. */
  problem = $state('');
  /** dB that the file saved last was taken down to stay below −1 dBFS. */
  reducedDb = $state(0);
  /** Whether the caution is unfolded. */
  caution = $state(false);
  #volume = $state(FIRST_VOLUME);
  /** Play has been pressed and the sound is on its way. */
  #starting = $state(false);
  /** What is to be heard as soon as its level is known; until then what sounded before sounds on. */
  #held: Sheet | null = null;
  /** Whether something is held back so. */
  matching = $state(false);
  /** Heard instead of the open sheet; for listening to one that is not to be seen. */
  #instead: Sheet | null = $state.raw(null);
  /** Heard for as long as a key or button is held, at so much amplitude for one volt; null: the open sheet. */
  #back: { readonly sheet: Sheet; readonly gain: number } | null = $state.raw(null);
  #wantBack: Sheet | null = null;
  /** As `gain`, but never of what is heard by `hearBack`. */
  #openGain = 0;
  /** Digital amplitude for one volt in what sounds, or did last: taken during a gesture, whose changes come at once. */
  gain: number | null = $state(null);
  /** The sample rate that the output was asked for, Hz. */
  #rate = 0;
  #turn = 0;
  #timer: ReturnType<typeof setTimeout> | undefined;

  /** Whether another sheet than the open one is heard: then nothing on the screen may tell which. */
  readonly hidden: boolean = $derived(this.#instead !== null);
  /** Whether it sounds, or is about to. */
  readonly playing: boolean = $derived(
    this.#starting || ['starting', 'playing', 'waiting'].includes(this.player.status),
  );

  /** @param makePlayer for tests */
  constructor(
    sheet: () => Sheet,
    jobs: JobClient,
    makePlayer: (options: LivePlayerOptions) => Playing = (options) => new LivePlayer(options),
  ) {
    this.#open = sheet;
    this.#jobs = jobs;
    this.#levels = new Levels(jobs);
    this.#renders = new Renders(jobs);
    const kept = Number.parseFloat(recall(VOLUME_KEY) ?? '');
    if (kept >= 0 && kept <= 1) this.#volume = kept;
    this.#player = makePlayer({
      volume: this.#volume,
      onchange: (state) => (this.player = state),
      onfeed: (port) => jobs.feed(port),
    });
    this.own = new OwnPlaying(jobs, { sheet, volume: this.#volume, onplay: () => this.stop() });
  }

  /** 0–1; see LivePlayer.setVolume. */
  get volume(): number {
    return this.#volume;
  }

  /** Held within 0–1, and remembered. */
  setVolume = (value: number): void => {
    this.#volume = Math.min(1, Math.max(0, value));
    this.#player.setVolume(this.#volume);
    this.own.setVolume(this.#volume);
    remember(VOLUME_KEY, String(this.#volume));
  };

  /**
   * The sheet has changed, or another one is open: the pickup is exchanged under the ringing strings. Where the level is
   * matched, as soon as it is known.
   *
   * @param gesture whether a gesture is under way: it is heard at once, at the level before, and matched when it rests
   */
  changed = (gesture = false): void => {
    this.#forgetBack();
    if (this.playing) this.#follow(gesture);
    this.own.changed();
    this.problem = ''; // it was of what is left now
    this.reducedDb = 0;
    clearTimeout(this.#timer);
    // The first picture is not kept waiting.
    this.#timer = setTimeout(() => void this.#rest(), this.beginning || this.playing ? REST : 0);
  };

  /** Lets another sheet be heard than the open one; null is the open one again. Its level should be known before. */
  hearInstead = (sheet: Sheet | null): void => {
    if (sheet === this.#instead) return;
    this.#instead = sheet;
    this.changed();
  };

  /**
   * While it sounds, lets a sheet be heard as loud as the open one, with the screen as it is; null is the open one again.
   * From the moment that both levels are known.
   */
  hearBack = (sheet: Sheet | null): void => {
    this.#wantBack = sheet;
    if (sheet && this.playing) void this.#goBack(sheet);
    else if (!sheet && this.#back) {
      this.#back = null;
      if (this.playing) this.#follow();
    }
  };

  async #goBack(sheet: Sheet): Promise<void> {
    const open = this.#open();
    const [then, now] = await Promise.all([this.#levels.of(sheet, true), this.#levels.of(open, true)]);
    if (this.#wantBack !== sheet || !this.playing || !then || !now) return;
    // What is silent is as loud as nothing.
    const alike = then.loudness === null || now.loudness === null ? 1 : then.gain / now.gain;
    this.#back = { sheet, gain: open.listen.level === 'matched' ? then.gain : this.#openGain * alike };
    this.#follow();
  }

  /** Whether that is so now. */
  get back(): boolean {
    return this.#back !== null;
  }

  #forgetBack(): void {
    this.#wantBack = null;
    this.#back = null;
  }

  /** Curve of the plain loudspeaker, dB at f (Hz). */
  readonly loudspeakerDb: (f: number) => number = loudspeakerDb;

  /** To be called from a click or key press, because no output is opened before. */
  play = (): void => {
    this.own.stop();
    this.caution ||= recall(CAUTION_KEY) === null;
    this.#begin();
  };

  /** Fades out; the beginning of the phrase is then rendered for the picture. */
  stop = (): void => {
    this.#forgetBack();
    this.#turn++;
    this.#starting = false;
    this.#held = null;
    this.#player.stop();
    void this.#rest();
  };

  /** Gives the outputs back; nothing is heard afterwards. */
  dispose = (): void => {
    clearTimeout(this.#timer);
    this.#turn++;
    this.#player.dispose();
    this.own.dispose();
  };

  toggle = (): void => (this.playing ? this.stop() : this.play());

  /** Once folded it stays so; it can always be unfolded again. */
  setCaution = (open: boolean): void => {
    this.caution = open;
    if (!open) remember(CAUTION_KEY, 'read');
  };

  /** What is heard, before the volume, for a scope or a spectrum; null before an output is open. */
  tap = (): AnalyserNode | null => this.#player.tap();

  /** Where in the phrase what is heard stands, s; null while nothing sounds. */
  position = (): Promise<number | null> => this.#player.position();

  /**
   * How loud a sheet's phrase is, whatever its own level says; null when it can't be computed. Two sheets differ by the
   * difference of their loudness, dB. Once known, a switch to that sheet is level-matched from its first sample.
   */
  loudnessOf = (sheet: Sheet): Promise<Level | null> => this.#levels.of(sheet);

  /** Renders a sheet's phrase and hands it over as a file of that name. */
  exportSheet = async (sheet: Sheet, name: string, format: ExportFormat): Promise<void> => {
    const answer = await this.#renders.of(sheet);
    if (answer.status === 'failed') this.problem = answer.message;
    if (answer.status !== 'done') return;
    this.reducedDb = format === 'report' ? 0 : answer.value.reducedDb;
    if (format === 'report') downloadText(soundReport(sheet, name, answer.value), name);
    else downloadSound(answer.value, format, name);
  };

  #heard(): Sheet {
    return this.#instead ?? this.#back?.sheet ?? this.#open();
  }

  #begin(): void {
    const { sampleRate } = this.#heard().listen;
    const rate = this.#player.open(sampleRate);
    this.#rate = sampleRate;
    this.#turn++;
    this.#starting = rate !== null;
    if (rate !== null) void this.#start(rate, this.#turn);
  }

  /** The level first, so that the first sample is as loud as it should be. */
  async #start(rate: number, turn: number): Promise<void> {
    const sheet = this.#heard();
    if (sheet.listen.level === 'matched') await this.#levels.of(sheet, true);
    if (turn !== this.#turn) return;
    const answer = await this.#jobs.live(sheet, {
      sampleRate: rate,
      gain: this.#gainFor(sheet),
      feed: false,
    });
    if (turn !== this.#turn) return;
    this.#starting = false;
    if (answer.status === 'failed') {
      this.problem = answer.message;
      this.#player.stop();
    }
    if (answer.status !== 'done') return;
    this.problem = '';
    const { setup } = answer.value;
    this.gain = this.#openGain = setup.gain;
    this.#player.play(setup);
    if (this.#heard() !== sheet) this.#follow();
  }

  #follow(gesture = false): void {
    const sheet = this.#heard();
    if (sheet.listen.sampleRate !== this.#rate) this.#begin();
    else if (this.#starting || (gesture && this.#held)) return;
    else if (gesture || sheet.listen.level !== 'matched' || this.#levels.known(sheet)) {
      this.#held = null;
      void this.#update();
    } else {
      this.#held = sheet;
      if (!this.matching) void this.#match();
    }
  }

  /** Lets what is held be heard at its level; a gesture that has begun on it meanwhile goes on at that. */
  async #match(): Promise<void> {
    this.matching = true;
    let level: Level | null = null;
    for (let sheet: Sheet | null = null; this.#held && this.#held !== sheet;) {
      sheet = this.#held;
      level = await this.#levels.of(sheet, true);
    }
    this.matching = false;
    if (!this.#held) return;
    this.#held = null;
    if (level) this.gain = this.#openGain = level.gain;
    if (!this.#starting) await this.#update();
  }

  /** @param haste whether a field a little way off will do at first: what it should be follows */
  async #update(haste = true): Promise<void> {
    const sheet = this.#heard();
    const rate = this.#player.sampleRate;
    if (rate === null) return;
    const { feeding } = this.#player;
    const wish = { sampleRate: rate, gain: this.#gainFor(sheet), feed: feeding };
    const answer = await this.#jobs.live(sheet, wish, haste);
    if (answer.status === 'failed') this.problem = answer.message;
    if (answer.status !== 'done') return;
    this.problem = '';
    const { setup, fedAt, near } = answer.value;
    this.gain = setup.gain;
    if (sheet !== this.#back?.sheet) this.#openGain = setup.gain;
    this.#player.update(setup, fedAt !== null);
    if (near && sheet === this.#heard()) await this.#update(false);
  }

  /** null where the sheet's level needs no finding. */
  #gainFor(sheet: Sheet): number | null {
    if (sheet === this.#back?.sheet) return this.#back.gain;
    if (sheet.listen.level !== 'matched') return null;
    return this.#levels.known(sheet)?.gain ?? this.gain;
  }

  /** What takes longer than a frame, when nothing has changed for a while. */
  async #rest(): Promise<void> {
    clearTimeout(this.#timer);
    const sheet = this.#heard();
    const level = await this.#levels.of(sheet);
    if (sheet !== this.#heard()) return;
    if (!this.#back) this.level = level;
    if (this.playing) {
      const settled = !this.#starting && !this.#held && sheet.listen.level === 'matched';
      if (settled && level && level.gain !== this.gain) await this.#update();
      return;
    }
    const open = this.#open();
    const answer = await this.#jobs.beginning(open);
    if (open !== this.#open()) return;
    if (answer.status === 'done') {
      this.beginning = answer.value;
      const matched = open.listen.level === 'matched' ? this.#levels.known(open)?.gain : undefined;
      const gain = matched ?? answer.value.voltGain;
      if (!this.playing) this.gain = gain;
      this.spectrum = await spectrumOf(answer.value, gain);
      this.problem = '';
    } else if (answer.status === 'failed') this.problem = answer.message;
  }
}
