/**
 * The document on the table with what it comes to: the newest prediction of the open trial, the trial that it is
 * compared with, and what is said about it. Everything on the screen reads from here and changes it through here.
 */
import type { JobClient, JobResult } from '../jobs/client.ts';
import type { JobInput, JobValue } from '../jobs/protocol.ts';
import { canRedo, canUndo, type History } from '../sheet/history.ts';
import { decodeLink } from '../sheet/link.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { sameContent, wrap, type Trials } from '../sheet/trials.ts';
import { Address } from './address.ts';
import { Closeness } from './closeness.svelte.ts';
import type { Path } from './document.svelte.ts';
import { Earlier } from './earlier.svelte.ts';
import { Keeper, type Keeping } from './keeper.ts';
import { Listening, type Level } from './listening.svelte.ts';
import { FocusTracks } from './focusTracks.svelte.ts';
import type { Outcome } from './outcomes.ts';
import { Pictures } from './picture.svelte.ts';
import { TrialDocument } from './trialDocument.svelte.ts';
import type { SheetFault, Prediction } from './types.ts';
import { Why } from './why.svelte.ts';
import { fallWords, keepingWords, noteWords, placementWords } from './words.ts';

export type { Path } from './document.svelte.ts';
export type { Before, Mod } from './modding.svelte.ts';

/** A sheet that comes with the program. */
export interface Preset {
  readonly name: string;
  readonly sheet: Sheet;
}

/** ms after which an answer counts as late. */
const LATE = 400;

/** Said to the window that came later, or finds that another goes on from what it has. */
const SHARED =
  'This sheet is open in another window too. Each window keeps its own from here on; the other’s is among the earlier sheets.';

/** One a page. `listening`, `closeness`, `focus`, `why` and `pictures` each show their own part of the open trial. */
export class Workbench extends TrialDocument {
  /** The first is there at once, the others a moment later. */
  presets: readonly Preset[] = $state.raw([]);
  readonly listening: Listening;
  /** Computes what is not the open trial. */
  readonly aside: JobClient;
  readonly closeness: Closeness;
  readonly pictures: Pictures;
  readonly focus: FocusTracks;
  readonly why: Why;
  readonly earlier: Earlier;
  readonly #jobs: JobClient;
  readonly #aside: JobClient;
  readonly keeper: Keeper;
  /** Another document on its way to the table, and which design it is of; null for none. */
  #laying: { readonly next: Trials; readonly design: string } | null = null;
  readonly #address = new Address();
  /** Counts links that were opened: the one asked for last is the one that is shown. */
  #asked = 0;

  /** The newest, or the last good one; null before the first. */
  prediction: Prediction | null = $state.raw(null);
  /** Whether the newest sheet has been waited for so long that what is shown should say that it is an older one's. */
  computing = $state(false);
  #late: ReturnType<typeof setTimeout> | undefined;
  /**
   * The ear before the eye: what sounds is on its way while the page draws what it knows, and only then the figures follow.
   * On two cores a change is heard ten milliseconds sooner for it.
   */
  #soon: ReturnType<typeof setTimeout> | undefined;
  /** Whether the newest sheet's figures broke off: what is shown is then an older one's, until a change is answered. */
  broken = $state(false);
  /** How the browser keeps the document for the next visit, as far as is known. */
  keeping: Keeping = $state('kept');
  /** Counts what stayed on this visit; and the same for whoever writes it, so that nobody comes to hang on it by writing. */
  keptTimes = $state(0);
  #times = 0;
  /** What is to be added to that: under which name it is among the designs, or why not. */
  asDesign = $state('');
  /** Which trial `prediction` is of; −1 when it is of another document. */
  #predicted = 0;
  /** Counts what was asked to be predicted: an answer that comes after a newer one's is too old. */
  #turn = 0;
  #shownTurn = 0;
  /** What is wrong with a build; the prediction is then the last good one. */
  faults: readonly SheetFault[] = $state.raw([]);
  /** The link, shown when the clipboard is out of reach. */
  link = $state('');

  /** «1 E4», string 1 first; empty before the first prediction. */
  readonly stringNames: readonly string[] = $derived(
    (this.prediction?.openStrings ?? []).map((s) => `${s.string} ${s.name}`),
  );
  readonly words = $derived({
    note: this.prediction ? noteWords(this.prediction) : '',
    fall: this.prediction ? fallWords(this.sheet, this.prediction) : '',
    placement: placementWords(this.sheet),
    keeping: keepingWords(this.keeping) + this.asDesign,
  });

  /**
   * @param jobs for the open trial
   * @param aside for the other trials, so that the open one never waits for them
   * @param keeper from which `first` comes, if anything was kept
   */
  constructor(
    first: History<Trials>,
    presets: readonly Preset[],
    jobs: JobClient,
    aside: JobClient,
    keeper = new Keeper(),
  ) {
    super(first, aside);
    this.aside = aside;
    this.presets = presets;
    this.keeper = keeper;
    keeper.designs.begin(first.present);
    this.earlier = new Earlier(keeper.earlier);
    keeper.onshared = () => {
      this.message = SHARED;
    };
    this.#jobs = jobs;
    this.#aside = aside;
    this.listening = new Listening(() => this.sheet, jobs);
    this.pictures = new Pictures(
      () => this.sheet,
      () => this.chosen,
      jobs,
    );
    this.focus = new FocusTracks(
      () => this.sheet,
      () => this.chosen,
      jobs,
    );
    this.closeness = new Closeness(
      () => this.sheet,
      () => this.chosen,
      jobs,
    );
    this.why = new Why(() => this, jobs);
    this.changed();
  }

  /** What this very sheet came to; nothing while that is not known. */
  outcomeOf = (sheet: Sheet): Outcome | undefined => this.outcomes.get(sheet);

  /** Figures of the open sheet for the workbench. Never rejects. */
  benchFigures = (wish: JobInput['bench']): Promise<JobResult<JobValue['bench']>> =>
    this.#jobs.bench(this.sheet, wish);

  /** A measured curve beside the open sheet's. Never rejects. */
  measuredFigures = (wish: JobInput['measured']): Promise<JobResult<JobValue['measured']>> =>
    this.#jobs.measured(this.sheet, wish);

  /** Flux lines around one of the open sheet's pickups. Never rejects. */
  spaceLines = (wish: JobInput['space']): Promise<JobResult<JobValue['space']>> =>
    this.#jobs.space(this.sheet, wish);

  /** What a part does to the field of one of the open sheet's pickups. Never rejects. */
  takenOut = (wish: JobInput['takenOut']): Promise<JobResult<JobValue['takenOut']>> =>
    this.#jobs.takenOut(this.sheet, wish);

  /** Section and plan of any sheet's pickup, beside those that are drawn anyway. Never rejects. */
  picturesOf = (sheet: Sheet, pickup: number): Promise<JobResult<JobValue['picture']>> =>
    this.#aside.pictures(sheet, { pickup, section: true, plan: true, probe: null });

  /** Where the flux of any sheet's pickup goes. Never rejects. */
  fluxOf = (sheet: Sheet, pickup: number): Promise<JobResult<JobValue['takenOut']>> =>
    this.#aside.takenOut(sheet, { pickup, part: null });

  /** What is wrong with the figure at a place in the sheet; empty when nothing is. */
  faultAt = (path: Path): string =>
    this.faults.find((f) => f.path.length === path.length && f.path.every((key, i) => key === path[i]))
      ?.message ?? '';

  /** Opens what a link carries; a link that can't be read leaves everything as it is and says so. */
  openLink = async (fragment: string): Promise<void> => {
    const asked = ++this.#asked;
    const read = await decodeLink(fragment);
    if (asked !== this.#asked) return;
    if (!read.ok) this.message = read.message;
    else if (this.openDocument(read.trials, 'The sheet from the link is open; undo brings yours back.'))
      this.#address.put(read.trials, fragment.replace(/^#/, ''));
  };

  /** Opens a checked document in place of this one, as one step. */
  openDocument = (trials: Trials, message: string): boolean => this.lay(trials, message);

  /** The same with one that is a design of that id, from then on. */
  openDesign = (trials: Trials, id: string, message: string): void => {
    const opened = this.lay(trials, message, undefined, id);
    // The same figures under another name are nothing to undo.
    if (opened && this.trials !== trials) this.#as(trials, id, () => this.turn(trials));
  };

  /** Puts the link on the clipboard and into the address; says whether that could be done. */
  copyLink = async (): Promise<void> => {
    const { url, copied } = await this.#address.copy(() => this.trials);
    this.link = copied ? '' : url;
    this.message = copied
      ? 'The link is copied. It holds the whole sheet; nothing is stored anywhere else.'
      : 'The browser keeps the clipboard closed. The link is shown instead: copy it from there.';
  };

  /** Puts one of the earlier sheets on the table, as one step: this one becomes an earlier one. */
  openEarlier = (key: string): void => {
    const line = this.keeper.earlier.take(key);
    if (!line) this.message = 'That earlier sheet is there no more, or can’t be read.';
    else if (sameContent(line.present, this.trials) && !canUndo(line) && !canRedo(line))
      this.message = 'That sheet is open already.';
    else this.lay(line.present, 'The earlier sheet is open; undo brings back the one before.', line);
    this.earlier.renew();
  };

  protected loudnessOf = (sheet: Sheet): Promise<Level | null> => this.listening.loudnessOf(sheet);

  /** To be told of every change that another window makes to what the browser keeps. */
  keptElsewhere = (key: string | null, value: string | null): void => {
    this.keeper.heard(key, value);
    this.earlier.renew();
  };

  /** Lets the ear go back to what was before the last gesture, at equal loudness, for as long as it is on. */
  hearBefore = (on: boolean): void => this.listening.hearBack(on ? this.why.before : null);

  protected kept(): void {
    this.why.settle();
    const { present } = this.line;
    this.keeping = this.keeper.keep(
      this.line,
      present === this.#laying?.next ? this.#laying.design : undefined,
    );
    this.keptTimes = ++this.#times;
    this.#address.settle(this.trials);
    this.earlier.renew();
  }

  /** A preset as it comes need not be kept. */
  protected leaving(line: History<Trials>): void {
    const asItCame = this.presets.some(({ sheet }) => sameContent(wrap(sheet), line.present));
    if (!asItCame || canUndo(line) || canRedo(line)) this.keeper.earlier.add(line);
  }

  /** @param design which one it is of, where that is known */
  protected override lay(
    next: Trials,
    message: string,
    line?: History<Trials>,
    design = this.keeper.designs.of(next) || this.keeper.designs.fresh(),
  ): boolean {
    const of = this.#predicted;
    this.#predicted = -1;
    const act = (): boolean => super.lay(next, message, line);
    // A sheet beside other trials is a change of what is there, with which it shares its parts.
    const laid = next.blind === this.trials.blind ? act() : this.#as(next, design, act);
    if (!laid) this.#predicted = of;
    else this.why.forget();
    return laid;
  }

  #as<T>(next: Trials, design: string, act: () => T): T {
    this.#laying = { next, design };
    try {
      return act();
    } finally {
      this.#laying = null;
    }
  }

  protected changed(): void {
    this.why.settle();
    this.listening.changed(!this.resting);
    clearTimeout(this.#soon);
    if (this.listening.playing) this.#soon = setTimeout(this.#renew);
    else this.#renew();
  }

  readonly #renew = (): void => void this.#predict(this.sheet, this.trials.open);

  async #predict(sheet: Sheet, trial: number): Promise<void> {
    const known = this.outcomes.get(sheet);
    // What is asked for another sheet must not come over this one.
    if (known || trial !== this.#predicted) this.#jobs.cancel('figures');
    if (!known) this.#late ??= setTimeout(() => (this.computing = true), LATE);
    const turn = ++this.#turn;
    const outcome = known ?? (await this.#ask(sheet, trial));
    // A fault is found before anything is solved, and so before an older sheet's figures are there.
    if (!outcome || turn < this.#shownTurn) return;
    this.#shownTurn = turn;
    if (sheet === this.sheet) {
      clearTimeout(this.#late);
      this.#late = undefined;
      this.computing = false;
    }
    this.#predicted = trial;
    this.prediction = outcome.prediction;
    this.faults = outcome.faults;
    this.broken = outcome.message !== '' && outcome.faults.length === 0;
    if (outcome.message) this.message = outcome.message;
    await this.compare();
  }

  async #ask(sheet: Sheet, trial: number): Promise<Outcome | null> {
    const answer = await this.#jobs.figures(sheet);
    if (answer.status === 'superseded') return null;
    const outcome: Outcome =
      answer.status === 'done'
        ? { prediction: answer.value, faults: [], message: '' }
        : {
            // Of another trial it would be a false picture.
            prediction: trial === this.#predicted ? this.prediction : null,
            faults: answer.faults ?? [],
            message: answer.message,
          };
    // What only broke off is asked for again the next time.
    if (outcome.message === '' || outcome.faults.length > 0) this.outcomes.set(sheet, outcome);
    return outcome;
  }
}
