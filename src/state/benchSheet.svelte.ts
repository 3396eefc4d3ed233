/** The page for the workbench, of the open sheet: asked of the worker once it is looked at; and what was read at the bench. */
import { hasCoil } from '../shape/hasCoil.ts';
import { benchPage } from '../benchSheet/benchPage.ts';
import type { BenchPage, Paper } from '../benchSheet/page.ts';
import { coilWords, explainsSteel, poleWords, type PoleReadings } from '../benchSheet/sayFollows.ts';
import { dayOf } from '../benchSheet/usual.ts';
import type { JobInput, JobValue } from '../jobs/protocol.ts';
import { withReadCoils } from '../sheet/readCoils.ts';
import { withReadSteel } from '../sheet/readSteel.ts';
import { encodeShortLink } from '../sheet/shortLink.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { wrap } from '../sheet/trials.ts';
import { BenchNotes, NOTHING_READ, type Read } from './benchNotes.ts';
import { metersOf, type Figures as MetersFigures, type Meters } from './meters.svelte.ts';
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
  readonly #notes = new BenchNotes();
  #answer: Answer | null = $state.raw(null);
  #paper: Paper = $state('A4');
  readonly #meters: Meters;
  /** Counts what was noted, since the notes themselves are kept elsewhere. */
  #noted = $state(0);
  /** What keeps it from being computed; empty when nothing does. */
  message = $state('');
  /** What came of taking figures over; empty before. */
  taken = $state('');

  readonly #of: string = $derived.by(() => {
    const { sheet, chosen } = this.#bench;
    return `${sheet.title} · ${sheet.pickups[chosen]?.name ?? ''}`;
  });
  readonly #kept = $derived.by(() => (this.#noted < 0 ? NOTHING_READ : this.#notes.of(this.#of)));
  readonly wish: JobInput['bench'] = $derived.by(() => ({
    ...this.meters,
    pickup: this.#bench.chosen,
    read: this.#kept.read,
  }));
  /** Of the newest sheet that could be computed. */
  readonly page: BenchPage | null = $derived.by(() => {
    const answer = this.#answer;
    if (!answer) return null;
    const { trials } = this.#bench;
    return benchPage({
      ...answer,
      poles: this.#kept.poles,
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
  /** What follows from the readings, in sentences. */
  readonly says: readonly string[] = $derived.by(() => {
    const answer = this.#answer;
    const pickup = answer?.sheet.pickups[answer.figures.wish.pickup];
    if (!answer || !pickup || this.older) return [];
    return [
      ...coilWords(pickup, answer.figures),
      ...poleWords(answer.sheet, pickup, answer.figures, this.#kept.poles),
    ];
  });
  /** Whether there is anything that can be taken over. */
  readonly takable: boolean = $derived.by(
    () =>
      !this.older &&
      (this.#answer?.figures.follows?.coils.some((coil) =>
        Object.values(coil).some((value) => value !== null),
      ) ??
        false),
  );
  /** Which permeability of its steel would explain the inductance that was read, 1; null where none would, or nothing is to be explained. */
  readonly steel: number | null = $derived.by(() => {
    const follows = this.older ? null : this.#answer?.figures.follows;
    return follows?.steel && explainsSteel(follows) ? follows.steel.explains : null;
  });
  readonly anyRead: boolean = $derived.by(() => JSON.stringify(this.#kept) !== JSON.stringify(NOTHING_READ));
  readonly hasLeads: boolean = $derived.by(() =>
    hasCoil(this.#bench.sheet.pickups[this.#bench.chosen]?.build),
  );
  readonly hasField: boolean = $derived.by(
    () => this.#bench.sheet.pickups[this.#bench.chosen]?.build !== null,
  );

  constructor(bench: Workbench) {
    this.#bench = bench;
    this.#meters = metersOf(bench);
    if (recall(PAPER_KEY) === 'Letter') this.#paper = 'Letter';
  }

  get paper(): Paper {
    return this.#paper;
  }

  get meters(): MetersFigures {
    return this.#meters.figures;
  }

  get read(): Read {
    return this.#kept.read;
  }

  get poles(): PoleReadings {
    return this.#kept.poles;
  }

  /** Remembered for the next time. */
  choosePaper = (paper: Paper): void => {
    this.#paper = paper;
    remember(PAPER_KEY, paper);
  };

  /** These return nothing, as a field has it whose figure is taken. */
  setMeters = (change: Partial<MetersFigures>): undefined => this.#meters.set(change);

  take = (what: keyof Read, value: number | null): undefined =>
    this.#note({ ...this.#kept, read: { ...this.read, [what]: value } });

  takeTop = (row: number, string: number, value: number | null): undefined => {
    const tops = [0, 1].map((r) => {
      const had = [...(this.poles.tops[r] ?? [])];
      if (r !== row) return had;
      while (had.length <= string) had.push(null);
      had[string] = value;
      return had;
    });
    this.#note({ ...this.#kept, poles: { ...this.poles, tops } });
  };

  /** @param word begins with the pole that is up, or with neither */
  takeUp = (row: number, word: string): void => {
    const pole = (['north', 'south'] as const).find((one) => word.startsWith(one)) ?? null;
    const up = [0, 1].map((r) => (r === row ? pole : (this.poles.up[r] ?? null)));
    this.#note({ ...this.#kept, poles: { ...this.poles, up } });
  };

  forget = (): void => {
    this.#note(NOTHING_READ);
  };

  /** As one step, which undo takes back; the guitar's own load stays as it is. */
  takeOver = (): void => {
    const coils = this.#answer?.figures.follows?.coils;
    if (!coils || this.older) return;
    const refused = this.#bench.mod('coil figures as read', (sheet, pickup) =>
      withReadCoils(sheet, pickup, coils),
    );
    this.taken = refused || 'The coil’s figures are those that were read; undo (Ctrl+Z) takes them back.';
  };

  /** The same for the permeability of its steel. */
  takeSteel = (): void => {
    const { steel } = this;
    if (steel === null) return;
    const refused = this.#bench.mod('steel as read', (sheet, pickup) => withReadSteel(sheet, pickup, steel));
    this.taken =
      refused || 'The steel has the permeability that explains the reading; undo (Ctrl+Z) takes it back.';
  };

  /** To be called with every change of sheet and wish. */
  ask = async (): Promise<void> => {
    const { sheet } = this.#bench;
    const { wish } = this;
    const [found, fragment] = await Promise.all([
      this.#bench.benchFigures(wish),
      encodeShortLink(wrap(sheet)),
    ]);
    if (sheet !== this.#bench.sheet || !sameWish(wish, this.wish) || found.status === 'superseded') return;
    this.message = found.status === 'done' ? '' : found.message;
    if (found.status !== 'done') return;
    const link = `${location.href.split('#')[0] ?? ''}#${fragment}`;
    this.#answer = { sheet, figures: found.value, link };
  };

  #note(next: { read: Read; poles: PoleReadings }): undefined {
    this.#notes.keep(this.#of, next);
    this.taken = '';
    this.#noted++;
  }
}

const sameWish = (a: JobInput['bench'], b: JobInput['bench']): boolean =>
  JSON.stringify(a) === JSON.stringify(b);
