/** The page's side of the workers: ask for figures or a sound; the newest request wins. */
import type { Closeness } from '../physics/close.ts';
import type { FocusTrack } from '../physics/focusTrack.ts';
import type { Fields } from '../physics/heard/fieldAnswer.ts';
import type { Beginning, Prediction, Sound } from '../physics/prediction.ts';
import type { PhraseLevel } from '../physics/sound/live/phraseLevel.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { FieldDesk } from './fieldDesk.ts';
import { aboutPickup, Known, type Remembered } from './known.ts';
import { Lane, type JobResult, type WorkerLike } from './lane.ts';
import type {
  CloseWish,
  FeedMessage,
  JobInput,
  JobKind,
  JobValue,
  LiveAnswer,
  LiveWish,
  OwnPlaying,
  Pictures,
  PictureWish,
} from './protocol.ts';
import type { TrackWish } from './track.ts';
import type { WhyAnswer } from './why.ts';
import { workers, type Place } from './workers.ts';

export type { JobResult, WorkerLike } from './lane.ts';
export type { JobKind, OwnPlaying } from './protocol.ts';

/** What tests and slow machines set. */
export interface JobClientOptions {
  /** Makes a worker; for tests. */
  readonly create?: (kind: Place) => WorkerLike;
  /** ms for one attempt of one job, loading a fresh worker included; 30 s unless given: a slow machine is no hanging one. */
  readonly timeLimit?: number;
  /** Of another client, whose answers this one need not ask for. */
  readonly known?: Known;
}

/** ms after the first figures, when the page is drawn. */
const CALM = 1000;
/** ms without a change of what sounds before its field is found at other gaps. */
const STILL = 250;
/** The first takes about ten times as long as the fourth. */
const REHEARSALS = 4;

/** A lane a kind of job, its worker made when it is first needed. Whatever goes wrong comes back as a result. */
export class JobClient {
  /** Counts the recordings asked for: one that is no longer the newest asks for nothing more. */
  private turn = 0;
  /** Open between warming and the first figures; see `accompany`. */
  private opening: Promise<unknown> | null = null;
  private warmed = false;
  private rehearsal: ReturnType<typeof setTimeout> | undefined;
  private still: ReturnType<typeof setTimeout> | undefined;
  private hearing: Promise<unknown> = Promise.resolve();
  readonly known: Known;
  private readonly desk: FieldDesk;
  private readonly lanes: { readonly [K in JobKind]: Lane<K> };
  private readonly trackByGap: Lane<'track'>;

  constructor({ create = workers(), timeLimit = 30_000, known = new Known() }: JobClientOptions = {}) {
    this.known = known;
    this.lanes = {
      field: new Lane('field', () => create('field'), timeLimit),
      figures: new Lane('figures', () => create('figures'), timeLimit),
      sound: new Lane('sound', () => create('sound'), timeLimit),
      beginning: new Lane('beginning', () => create('beginning'), timeLimit),
      live: new Lane('live', () => create('live'), timeLimit),
      through: new Lane('through', () => create('through'), timeLimit),
      level: new Lane('level', () => create('level'), timeLimit),
      close: new Lane('close', () => create('close'), timeLimit),
      track: new Lane('track', () => create('track'), timeLimit),
      why: new Lane('why', () => create('why'), timeLimit),
      heard: new Lane('heard', () => create('heard'), timeLimit),
      spread: new Lane('spread', () => create('spread'), timeLimit),
      matters: new Lane('matters', () => create('matters'), timeLimit),
      target: new Lane('target', () => create('target'), timeLimit),
      balance: new Lane('balance', () => create('balance'), timeLimit),
      search: new Lane('search', () => create('search'), timeLimit),
      picture: new Lane('picture', () => create('picture'), timeLimit),
      space: new Lane('space', () => create('space'), timeLimit),
      takenOut: new Lane('takenOut', () => create('takenOut'), timeLimit),
      bench: new Lane('bench', () => create('bench'), timeLimit),
      measured: new Lane('measured', () => create('measured'), timeLimit),
    };
    this.trackByGap = new Lane('track', () => create('track by the gap'), timeLimit);
    this.desk = new FieldDesk(this.lanes.field, known);
  }

  /** Never rejects. The sheet must be plain data. */
  figures(sheet: Sheet): Promise<JobResult<Prediction>> {
    const figures = this.once('figures', JSON.stringify(sheet), () => this.ask('figures', sheet, null));
    if (this.warmed) {
      this.warmed = false;
      this.opening = figures.then(() => {
        this.opening = null;
        this.lanes.live.warm();
        this.rehearsal = setTimeout(() => void this.rehearse(sheet), CALM);
      });
    }
    return figures;
  }

  /**
   * Has the live worker make a few setups that nobody hears: the browser compiles its code in the course of them, and the
   * first change under the strings would come a tenth of a second late. The field's has begun by then where its first answer came
   * from elsewhere.
   */
  private async rehearse(sheet: Sheet): Promise<void> {
    this.lanes.field.warm();
    const fields = this.desk.look(sheet);
    for (let i = 0; fields && i < REHEARSALS && this.lanes.live.idle; i++)
      await this.lanes.live.request(sheet, { sampleRate: 48000, gain: 1, feed: false }, fields);
  }

  /** What is known of the sheet's pickups. Comes instead of figures that are waited for. Never rejects. */
  fields(sheet: Sheet): Promise<JobResult<Fields>> {
    const fields = this.desk.request('figures', sheet);
    return fields instanceof Promise ? fields : Promise.resolve({ status: 'done', value: fields });
  }

  /** Never rejects. The sheet must be plain data. */
  sound(sheet: Sheet): Promise<JobResult<Sound>> {
    return this.accompany(() => this.ask('sound', sheet, null));
  }

  /** How the sheet's phrase begins. Never rejects. The sheet must be plain data. */
  beginning(sheet: Sheet): Promise<JobResult<Beginning>> {
    const ask = () => this.accompany(() => this.ask('beginning', sheet, null));
    return this.once('beginning', JSON.stringify(sheet), ask);
  }

  /**
   * What the live engine needs. `gain`: during a drag that of the last setup, so that the change comes at once; null to
   * have the level found anew. Never rejects. The sheet must be plain data.
   *
   * @param haste a pickup dragged along its strings, or set to another gap, is answered at once with its field a little way
   *   off, or between two gaps, and the answer says so; it is to be asked for again without haste
   */
  async live(sheet: Sheet, wish: LiveWish, haste = false): Promise<JobResult<LiveAnswer>> {
    clearTimeout(this.still);
    const near = haste ? this.desk.near(sheet) : null;
    if (!near) {
      const exact = await this.ask('live', sheet, wish);
      clearTimeout(this.still);
      if (exact.status === 'done') this.still = setTimeout(() => void this.desk.climb(sheet), STILL);
      return exact;
    }
    // What still waits for a field is older than this.
    this.desk.cancel('live');
    const answer = await this.lanes.live.request(sheet, wish, near);
    return answer.status === 'done' ? { status: 'done', value: { ...answer.value, near: true } } : answer;
  }

  /** Where live setups go from now on that are wished to be fed: the newest port counts. */
  feed(port: MessagePort): void {
    this.lanes.live.tell({ kind: 'feed' } satisfies FeedMessage, [port]);
  }

  /** A recording through the sheet's circuit. Its samples are copied. Never rejects. The sheets must be plain data. */
  async through(sheet: Sheet, playing: OwnPlaying): Promise<JobResult<Sound>> {
    const turn = ++this.turn;
    const from = playing.from && (await this.desk.request('through', playing.from));
    if (from && 'status' in from && from.status !== 'done') return from;
    if (turn !== this.turn) return { status: 'superseded' };
    const fromFields = from && ('status' in from ? from.value : from);
    return this.ask('through', sheet, { ...playing, fromFields });
  }

  /** How loud the sheet's phrase is, whatever its own level says. Never rejects. The sheet must be plain data. */
  level(sheet: Sheet): Promise<JobResult<PhraseLevel>> {
    const ask = () => this.accompany(() => this.ask('level', sheet, null));
    return this.once('level', JSON.stringify(sheet), ask);
  }

  /** How close a pickup with a build may sit; see physics/close.ts. Never rejects. The sheet must be plain data. */
  close(sheet: Sheet, wish: CloseWish): Promise<JobResult<Closeness | null>> {
    const ask = () => this.accompany(() => this.askCharged('close', sheet, wish));
    return this.once('close', keyOf(sheet, wish), ask);
  }

  /** How far a lever moves a row's focus; see physics/focusTrack.ts. Never rejects. The sheet must be plain data. */
  track(sheet: Sheet, wish: TrackWish): Promise<JobResult<FocusTrack>> {
    const lane = wish.lever === 'gap' ? this.trackByGap : this.lanes.track;
    const ask = () => this.accompany(() => lane.request(sheet, wish));
    return this.once('track', keyOf(sheet, wish), ask);
  }

  /**
   * Why the sheet is unlike the one before it; see jobs/why.ts. Pickup and string from 0. Never rejects. The sheets must be
   * plain data.
   */
  async why(sheet: Sheet, before: Sheet, pickup: number, string: number): Promise<JobResult<WhyAnswer>> {
    const [now, then] = [this.desk.look(sheet), this.desk.look(before)];
    // What is the same now need not cross twice.
    const beforeFields = then && then.map((field, i) => (field === now?.[i] ? null : field));
    // What is asked only once a hand rests is loaded then.
    const loaded = await import('./whyAsked.ts').catch(() => null);
    if (!loaded) return { status: 'failed', message: 'Why could not be loaded. Reload the page.' };
    const asked = loaded.whyAsked(sheet, before);
    return this.accompany(() => this.ask('why', sheet, { ...asked, beforeFields, pickup, string }));
  }

  /**
   * What is heard of the sheet beside another, so many dB softer; see physics/heardBetween.ts. Never rejects. The sheets must
   * be plain data.
   */
  heard(sheet: Sheet, than: Sheet, louder: number): Promise<JobResult<JobValue['heard']>> {
    // One after another: trials and a mod ask at the same time, and neither may take the other's place.
    const ask = () =>
      this.accompany(() => this.ask('heard', sheet, { than, thanFields: this.desk.look(than), louder }));
    const key = JSON.stringify([sheet, than, louder]);
    const answer = this.hearing.then(() => this.once('heard', key, ask));
    this.hearing = answer;
    return answer;
  }

  /** Some makes of the sheet, and of another beside it; see physics/spreadOf.ts. Never rejects. The sheets must be plain data. */
  spread(
    sheet: Sheet,
    wish: Omit<JobInput['spread'], 'otherFields'>,
  ): Promise<JobResult<JobValue['spread']>> {
    return this.ask('spread', sheet, { ...wish, otherFields: wish.other && this.desk.look(wish.other) });
  }

  /** What one step does; see jobs/matters.ts. Never rejects. The sheets must be plain data. */
  matters(sheet: Sheet, wish: JobInput['matters']): Promise<JobResult<JobValue['matters']>> {
    return this.ask('matters', sheet, wish);
  }

  /** How many turns a resonance takes; see physics/target.ts. Never rejects. The sheet must be plain data. */
  target(sheet: Sheet, wish: JobInput['target']): Promise<JobResult<JobValue['target']>> {
    return this.ask('target', sheet, wish);
  }

  /** What balances a pickup; see physics/balance.ts. Never rejects. The sheet must be plain data. */
  balance(sheet: Sheet, wish: JobInput['balance']): Promise<JobResult<JobValue['balance']>> {
    return this.lanes.balance.request(sheet, wish);
  }

  /** A part of a search; see physics/search.ts. Never rejects. The sheets must be plain data. */
  search(sheet: Sheet, wish: JobInput['search']): Promise<JobResult<JobValue['search']>> {
    return this.lanes.search.request(sheet, wish);
  }

  /** Pictures of a pickup's field. Never rejects. The sheet must be plain data. */
  async pictures(sheet: Sheet, wish: PictureWish): Promise<JobResult<Pictures>> {
    const { pickup, section, plan, probe } = wish;
    const about = aboutPickup(sheet, pickup);
    const keys = {
      section: `${about} ${sheet.listen.string}`,
      plan: about,
      probe: JSON.stringify([about, probe]),
    };
    const had = <K extends keyof Pictures>(kind: K): Pictures[K] =>
      this.known.recall(kind, keys[kind]) ?? null;
    const known: Pictures = {
      section: section ? had('section') : null,
      plan: plan ? had('plan') : null,
      probe: probe && had('probe'),
    };
    const due: PictureWish = {
      pickup,
      section: section && !known.section,
      plan: plan && !known.plan,
      probe: known.probe ? null : probe,
    };
    if (!due.section && !due.plan && !due.probe) {
      this.cancel('picture');
      return { status: 'done', value: known };
    }
    const answer = await this.askCharged('picture', sheet, due);
    if (answer.status !== 'done') return answer;
    const { value } = answer;
    for (const kind of ['section', 'plan', 'probe'] as const)
      if (value[kind]) this.known.remember(kind, keys[kind], value[kind]);
    return {
      status: 'done',
      value: {
        section: value.section ?? known.section,
        plan: value.plan ?? known.plan,
        probe: value.probe ?? known.probe,
      },
    };
  }

  /** Flux lines around a pickup in space; see physics/space.ts. Never rejects. The sheet must be plain data. */
  space(sheet: Sheet, wish: JobInput['space']): Promise<JobResult<JobValue['space']>> {
    return this.once('space', keyOf(sheet, wish), () => this.askCharged('space', sheet, wish));
  }

  /** What a part does to the field, or where the flux goes; see physics/takenOut.ts. Never rejects. The sheet must be plain data. */
  takenOut(sheet: Sheet, wish: JobInput['takenOut']): Promise<JobResult<JobValue['takenOut']>> {
    return this.once('takenOut', keyOf(sheet, wish), () => this.askCharged('takenOut', sheet, wish));
  }

  /** What is taken to the workbench; see physics/benchFigures.ts. Never rejects. The sheet must be plain data. */
  bench(sheet: Sheet, wish: JobInput['bench']): Promise<JobResult<JobValue['bench']>> {
    return this.ask('bench', sheet, wish);
  }

  /** A measured curve beside the sheet's; see physics/measured.ts. Never rejects. The sheet must be plain data. */
  measured(sheet: Sheet, wish: JobInput['measured']): Promise<JobResult<JobValue['measured']>> {
    return this.ask('measured', sheet, wish);
  }

  /** What was answered before is there at once, and takes the place of what is still open. @param key all that it depends on */
  private once<K extends keyof Remembered & JobKind>(
    kind: K,
    key: string,
    ask: () => Promise<JobResult<Remembered[K]>>,
  ): Promise<JobResult<Remembered[K]>> {
    const value = this.known.recall(kind, key);
    if (value !== undefined) {
      this.cancel(kind);
      return Promise.resolve({ status: 'done', value });
    }
    const asked = ask();
    void asked.then((result) => {
      if (result.status === 'done') this.known.remember(kind, key, result.value);
    });
    return asked;
  }

  /** What goes with the figures waits, when the page is opened, for the first of them: on few cores it would hold them up. */
  private accompany<T>(ask: () => Promise<T>): Promise<T> {
    return this.opening ? this.opening.then(ask) : ask();
  }

  /** A job once the fields of its sheet are known. */
  private ask<K extends JobKind>(kind: K, sheet: Sheet, input: JobInput[K]): Promise<JobResult<JobValue[K]>> {
    const lane: Lane<K> = this.lanes[kind];
    const fields = this.desk.request(kind, sheet);
    if (!(fields instanceof Promise)) return lane.request(sheet, input, fields);
    return fields.then((result) =>
      result.status === 'done' ? lane.request(sheet, input, result.value) : result,
    );
  }

  /**
   * A job that only wants the charges of one pickup. Where its field can't be had, as with a pole at a string, the worker
   * finds them itself, or says what is wrong.
   */
  private async askCharged<K extends 'close' | 'picture' | 'space' | 'takenOut'>(
    kind: K,
    sheet: Sheet,
    input: JobInput[K],
  ): Promise<JobResult<JobValue[K]>> {
    const lane: Lane<K> = this.lanes[kind];
    const { pickup } = input;
    const of = (fields: Fields | null): Fields =>
      sheet.pickups.map((_, i) => (i === pickup ? (fields?.[i] ?? null) : null));
    const charged = this.desk.charged(sheet, pickup);
    if (charged) {
      this.desk.cancel(kind);
      return lane.request(sheet, input, charged);
    }
    const fields = await this.desk.request(kind, sheet);
    if (!('status' in fields)) return lane.request(sheet, input, of(fields));
    if (fields.status === 'superseded') return fields;
    return lane.request(sheet, input, fields.status === 'done' ? of(fields.value) : null);
  }

  /**
   * Starts the workers that are needed first, so that the first request does not wait for them to load. Once a page.
   *
   * @param expected a sheet whose fields come from elsewhere, so that none need be computed at first; see FieldDesk.expect
   */
  warm(expected?: { readonly sheet: Sheet; readonly load: () => Promise<Fields | null> }): void {
    this.warmed = true;
    if (expected) this.desk.expect(expected.sheet, expected.load);
    else this.lanes.field.warm();
    this.lanes.figures.warm();
    this.lanes.picture.warm();
  }

  /** Every open request of this kind resolves as superseded. */
  cancel(kind: JobKind): void {
    if (kind === 'through') this.turn++;
    this.desk.cancel(kind);
    if (kind === 'track') this.trackByGap.cancel();
    this.lanes[kind].cancel();
  }

  /** Ends all workers; open and later requests resolve as superseded. */
  dispose(): void {
    clearTimeout(this.rehearsal);
    clearTimeout(this.still);
    this.desk.dispose();
    this.trackByGap.dispose();
    for (const lane of Object.values(this.lanes)) lane.dispose();
  }
}

/** All that an answer about one pickup depends on. */
const keyOf = (sheet: Sheet, wish: { readonly pickup: number }): string =>
  JSON.stringify([aboutPickup(sheet, wish.pickup), sheet.listen.string, wish]);
