/** The page for the workbench, of the open sheet: asked of the worker once it is looked at. */
import { benchPage } from '../benchSheet/benchPage.ts';
import type { BenchPage, Paper } from '../benchSheet/page.ts';
import { dayOf, USUAL_WISH } from '../benchSheet/usual.ts';
import type { JobInput, JobValue } from '../jobs/protocol.ts';
import { encodeLink } from '../sheet/link.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { wrap } from '../sheet/trials.ts';
import { recall, remember } from './storage.ts';
import type { Workbench } from './workbench.svelte.ts';

const PAPER_KEY = 'lodetone.benchPaper';

/** Of a sheet. */
interface Answer {
  readonly sheet: Sheet;
  readonly figures: JobValue['bench'];
  readonly link: string;
}

/** One while the page is looked at. */
export class BenchSheet {
  readonly #bench: Workbench;
  #answer: Answer | null = $state.raw(null);
  #paper: Paper = $state('A4');
  /** What keeps it from being computed; empty when nothing does. */
  message = $state('');

  readonly wish: JobInput['bench'] = $derived.by(() => ({ ...USUAL_WISH, pickup: this.#bench.chosen }));
  /** Of the newest sheet that could be computed. */
  readonly page: BenchPage | null = $derived.by(() => {
    const answer = this.#answer;
    if (!answer) return null;
    const { trials } = this.#bench;
    return benchPage({
      ...answer,
      trial:
        trials.trials.length > 1 ? `trial ${this.#bench.letter(trials.open)} of ${trials.trials.length}` : '',
      date: dayOf(),
      paper: this.#paper,
    });
  });
  /** Whether what is shown is of an older sheet, or of another pickup. */
  readonly older: boolean = $derived.by(
    () => this.#answer?.sheet !== this.#bench.sheet || !sameWish(this.#answer.figures.wish, this.wish),
  );

  constructor(bench: Workbench) {
    this.#bench = bench;
    if (recall(PAPER_KEY) === 'Letter') this.#paper = 'Letter';
  }

  get paper(): Paper {
    return this.#paper;
  }

  /** Remembered for the next time. */
  choosePaper = (paper: Paper): void => {
    this.#paper = paper;
    remember(PAPER_KEY, paper);
  };

  /** To be called with every change of sheet and wish. */
  ask = async (): Promise<void> => {
    const { sheet } = this.#bench;
    const { wish } = this;
    const [found, fragment] = await Promise.all([this.#bench.benchFigures(wish), encodeLink(wrap(sheet))]);
    if (sheet !== this.#bench.sheet || !sameWish(wish, this.wish) || found.status === 'superseded') return;
    this.message = found.status === 'done' ? '' : found.message;
    if (found.status !== 'done') return;
    const link = `${location.href.split('#')[0] ?? ''}#${fragment}`;
    this.#answer = { sheet, figures: found.value, link };
  };
}

const sameWish = (a: JobInput['bench'], b: JobInput['bench']): boolean =>
  JSON.stringify(a) === JSON.stringify(b);
