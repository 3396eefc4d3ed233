/** What to build for what is wanted of the chosen pickup, found when it is asked for: one part of the search after another. */
import type { JobValue } from '../jobs/protocol.ts';
import { withBuildOf } from '../sheet/balanceWish.ts';
import { sameData } from '../sheet/edit.ts';
import { readSearch, type ReadSearch } from '../sheet/readSearch.ts';
import { USUAL_STOCK } from '../sheet/search.ts';
import type { Search, SearchLoad, Sheet, Stock, WantKey } from '../sheet/sheet.ts';
import { candidateWhat, type Candidate } from './searchWords.ts';
import type { Workbench } from './workbench.svelte.ts';

interface Found {
  readonly sheet: Sheet;
  readonly pickup: number;
  readonly search: Search;
  readonly part: JobValue['search'];
}

const NOTHING: Search = { wants: {}, stock: USUAL_STOCK };
const NOBODY_SAID: ReadSearch = { ok: true, search: NOTHING };

/** One while the place is open. */
export class Searching {
  readonly #bench: Workbench;
  #turn = 0;
  /** How far it is, with the best so far; null while nobody asks. */
  going: Found | null = $state.raw(null);
  found: Found | null = $state.raw(null);
  message = $state('');

  readonly #read: ReadSearch = $derived.by(() => {
    const { search } = this.#bench.trials;
    return search === undefined ? NOBODY_SAID : readSearch(search);
  });
  /** What is wanted, and what there is. */
  readonly search: Search = $derived.by(() => (this.#read.ok ? this.#read.search : NOTHING));
  /** What is wrong with what came with the design; empty when nothing is. */
  readonly unread: string = $derived.by(() => (this.#read.ok ? '' : this.#read.message));
  /** Whether what was found is of another sheet, or of other wants. */
  readonly older: boolean = $derived.by(() => {
    const { found } = this;
    const { sheet, chosen } = this.#bench;
    return (
      found !== null &&
      (found.sheet !== sheet || found.pickup !== chosen || !sameData(found.search, this.search))
    );
  });
  /** Whether a trial can be made of it: beside the sheet that it was found for. */
  readonly some: boolean = $derived.by(
    () => this.found !== null && this.#bench.trials.trials.includes(this.found.sheet),
  );

  constructor(bench: Workbench) {
    this.#bench = bench;
  }

  /** Wants something, or with undefined no more, as one step. */
  want = (key: WantKey, value: number | undefined): void => {
    const { [key]: _, ...rest } = this.search.wants;
    this.#set({ ...this.search, wants: value === undefined ? rest : { ...rest, [key]: value } });
  };

  /** Has something of it, or with undefined leaves it as it is, as one step. */
  have = <K extends keyof Stock>(key: K, value: Stock[K] | undefined): void => {
    const { [key]: _, ...rest } = this.search.stock;
    this.#set({ ...this.search, stock: value === undefined ? rest : { ...rest, [key]: value } });
  };

  /** Wants the resonance into a load, or with undefined into the pots and the cable that are there, as one step. */
  into = (load: SearchLoad | undefined): void => {
    const { load: _, ...rest } = this.search;
    this.#set(load ? { ...rest, load } : rest);
  };

  #set(search: Search): void {
    const { wants, stock, load } = search;
    const nothing = Object.keys(wants).length === 0 && sameData(stock, USUAL_STOCK) && !load;
    this.#bench.setSearch(nothing ? undefined : JSON.stringify(search));
  }

  /** Searches; what was found before stays until it is done. */
  find = async (): Promise<void> => {
    const turn = ++this.#turn;
    const { sheet, chosen: pickup, trials, against } = this.#bench;
    const { search } = this;
    const than = against === null ? null : (trials.trials[against] ?? null);
    const wish = { ...search, pickup, than };
    const of = { sheet, pickup, search };
    this.message = '';
    this.going = { ...of, part: { done: 0, of: 1, best: [], limits: [] } };
    for (let step = 0; ; step++) {
      const answer = await this.#bench.aside.search(sheet, { wish, step });
      if (turn !== this.#turn) return;
      if (answer.status !== 'done') {
        this.going = null;
        this.message = answer.status === 'failed' ? answer.message : '';
        return;
      }
      const part = answer.value;
      if (part.done >= part.of) {
        this.going = null;
        this.found = { ...of, part };
        return;
      }
      this.going = { ...of, part };
    }
  };

  /** Searches no more; what was found before stays. */
  cancel = (): void => {
    this.#turn++;
    this.going = null;
  };

  /** Makes one of what was found a trial. */
  try = ({ build, ...rest }: Candidate): void => {
    const { found } = this;
    if (!found) return;
    this.#bench.addChanged(withBuildOf(found.sheet, found.pickup, build), candidateWhat({ build, ...rest }));
  };

  /** Lays all of it beside one another, each as a step of its own. */
  tryAll = (): void => this.found?.part.best.forEach((one) => this.try(one));
}
