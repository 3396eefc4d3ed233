/**
 * A measured curve that is laid over the predicted one. It is no part of the document: undo, links and files leave it alone, and
 * it stays in this window until it is taken away. Loaded with the places further down.
 */
import { coilWords } from '../benchSheet/sayFollows.ts';
import type { JobInput, JobValue } from '../jobs/protocol.ts';
import { textOf } from '../sheet/designFile.ts';
import {
  curveOf,
  guessChoice,
  missingOf,
  ownCurve,
  type CurveChoice,
  type MeasuredCurve,
} from '../sheet/measuredCurve.ts';
import {
  CURVE_WANTED,
  curveTooLarge,
  LARGEST_CURVE,
  readTable,
  type CurveTable,
} from '../sheet/measuredTable.ts';
import { plainText } from '../sheet/plainText.ts';
import { withReadCoils } from '../sheet/readCoils.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { metersOf, type Figures as MetersFigures, type Meters } from './meters.svelte.ts';
import { measuredWords, setAside } from './measuredWords.ts';
import { ofWindow } from './storage.ts';
import type { Workbench } from './workbench.svelte.ts';

const KEY = 'lodetone.measured';
/** Letters of a file that is kept over a reload. */
const MOST_KEPT = 500_000;
/** ms that a hand rests before figures follow. */
const CALM = 120;
/** Letters of a file's name that are shown. */
const SHOWN = 40;

export type Figures = JobValue['measured'];
export type Of = Figures['wish']['of'];

/** A file on the table. */
interface Laid {
  readonly name: string;
  readonly text: string;
  readonly table: CurveTable;
  readonly choice: CurveChoice;
  /** Of what a level was measured. */
  readonly level: Exclude<Of, 'impedance'>;
}

interface Answer {
  readonly sheet: Sheet;
  readonly figures: Figures;
}

/** What of the workbench it wants. */
export type MeasuredBench = Pick<Workbench, 'sheet' | 'chosen' | 'mod' | 'prediction' | 'measuredFigures'>;

/** One a page; see measuredOf. */
export class Measured {
  readonly #bench: MeasuredBench;
  readonly #meters: Meters;
  #laid: Laid | null = $state.raw(null);
  #answer: Answer | null = $state.raw(null);
  #timer: ReturnType<typeof setTimeout> | undefined;
  /** Why a file was not laid over, or what came of taking figures over; empty when there is nothing to say. */
  said = $state('');
  /** What keeps it from being compared; empty when nothing does. */
  message = $state('');

  readonly #read = $derived.by(() => this.#laid && curveOf(this.#laid.table, this.#laid.choice));
  readonly curve: MeasuredCurve | null = $derived.by(() => (this.#read?.ok ? this.#read.curve : null));
  readonly of: Of = $derived.by(() =>
    this.curve?.kind === 'impedance' ? 'impedance' : (this.#laid?.level ?? 'circuit'),
  );
  /** null while there is nothing to be compared. */
  readonly wish: JobInput['measured'] | null = $derived.by(
    () =>
      this.curve && {
        of: this.of,
        pickup: this.#bench.chosen,
        frequencies: this.curve.frequencies,
        decibels: this.curve.decibels,
        probe: this.meters.probe,
        bridge: this.meters.bridge,
        celsius: this.meters.celsius,
      },
  );
  /** Of the newest sheet that could be compared; null while there is none of this curve. */
  readonly figures: Figures | null = $derived.by(() => {
    const figures = this.#answer?.figures;
    const { wish } = this;
    return figures && wish && figures.wish.of === wish.of && sameCurve(figures.wish, wish) ? figures : null;
  });
  /** Whether what is shown is of an older sheet, of another pickup or with another probe. */
  readonly older: boolean = $derived.by(
    () =>
      this.wish !== null &&
      (this.#answer?.sheet !== this.#bench.sheet || !sameMeters(this.#answer.figures.wish, this.wish)),
  );
  /** What is to be chosen yet, or what is wrong with the file; empty when nothing is. */
  readonly asks: string = $derived.by(() => {
    if (!this.#laid || !this.#read || this.#read.ok) return '';
    return missingOf(this.#laid.choice) || this.#read.message;
  });
  /** How far the two lie apart, in sentences. */
  readonly says: readonly string[] = $derived.by(() =>
    this.figures && this.curve ? measuredWords(this.figures) : [],
  );
  /** What follows from it for the coil, in sentences. */
  readonly follows: readonly string[] = $derived.by(() => {
    const { figures } = this;
    const pickup = this.#bench.sheet.pickups[figures?.wish.pickup ?? 0];
    if (!figures?.follows || !figures.read || !pickup || this.older) return [];
    const coils = (this.#bench.prediction?.pickups ?? []).map((one) =>
      one.coils.map((outcome) => ({ outcome })),
    );
    const wish = { pickup: figures.wish.pickup, read: figures.read };
    return [
      ...coilWords(pickup, { follows: figures.follows, wish, coils }, 'The curve says'),
      ...setAside(pickup),
    ];
  });
  readonly takable: boolean = $derived.by(
    () =>
      !this.older &&
      (this.figures?.follows?.coils.some((coil) => Object.values(coil).some((value) => value !== null)) ??
        false),
  );

  constructor(bench: MeasuredBench) {
    this.#bench = bench;
    this.#meters = metersOf(bench);
    this.#recall();
  }

  get laid(): Laid | null {
    return this.#laid;
  }

  get meters(): MetersFigures {
    return this.#meters.figures;
  }

  /** A file; what is none leaves everything as it is and is said. Never rejects. */
  open = async (file: File): Promise<void> => {
    if (file.size > LARGEST_CURVE) {
      this.said = curveTooLarge(file.size);
      return;
    }
    try {
      const read = textOf(new Uint8Array(await file.arrayBuffer()));
      if (read.ok) this.lay(read.text, file.name);
      else this.said = `${CURVE_WANTED}; got ${read.got}. Save it as CSV or text, a line a frequency.`;
    } catch {
      this.said =
        'The file could not be read. Check that it is still there and may be read, and open it again.';
    }
  };

  /** @returns whether there is a table in it */
  lay = (text: string, file: string): boolean => {
    const read = readTable(text);
    this.said = read.ok ? '' : read.message;
    if (!read.ok) return false;
    const { table } = read;
    const choice = guessChoice(table);
    const curve = curveOf(table, choice);
    // With more columns, or something left open, another choice may mend it.
    if (!curve.ok && table.columns.length === 2 && missingOf(choice) === '') {
      this.said = curve.message;
      return false;
    }
    const level = ownCurve(table.names[choice.value ?? -1] ?? '') ?? 'circuit';
    this.#put({ name: plainText(file).slice(0, SHOWN), text, table, choice, level });
    return true;
  };

  choose = (change: Partial<CurveChoice>): void => {
    const laid = this.#laid;
    if (!laid) return;
    const choice = { ...laid.choice, ...change };
    const own = ownCurve(laid.table.names[choice.value ?? -1] ?? '');
    this.#put({ ...laid, choice, level: (change.value !== undefined && own) || laid.level });
  };

  chooseLevel = (level: Laid['level']): void => {
    if (this.#laid) this.#put({ ...this.#laid, level });
  };

  setMeters = (change: Partial<MetersFigures>): undefined => this.#meters.set(change);

  takeAway = (): void => {
    this.#laid = null;
    this.#answer = null;
    this.said = '';
    this.message = '';
    ofWindow.drop(KEY);
  };

  /** As one step, which undo takes back; the guitar's own load stays as it is. */
  takeOver = (): void => {
    const { figures } = this;
    const coils = figures?.follows?.coils;
    if (!coils || this.older) return;
    const refused = this.#bench.mod('coil figures as measured', (sheet) =>
      withReadCoils(sheet, figures.wish.pickup, coils),
    );
    this.said = refused || 'The coil’s figures are those that were measured; undo (Ctrl+Z) takes them back.';
  };

  /** To be called with every change of sheet and wish: figures follow once a hand rests. @returns gives it up */
  ask = (): (() => void) => {
    const { sheet } = this.#bench;
    const { wish } = this;
    clearTimeout(this.#timer);
    if (!wish) return () => {};
    this.#timer = setTimeout(() => void this.#compare(sheet, wish), CALM);
    return () => clearTimeout(this.#timer);
  };

  async #compare(sheet: Sheet, wish: JobInput['measured']): Promise<void> {
    if (sheet !== this.#bench.sheet) return;
    const found = await this.#bench.measuredFigures(wish);
    if (found.status === 'superseded' || wish !== this.wish) return;
    this.message = found.status === 'done' ? '' : found.message;
    if (found.status === 'done') this.#answer = { sheet, figures: found.value };
  }

  #put(laid: Laid): void {
    this.#laid = laid;
    this.message = '';
    const { name, text, choice, level } = laid;
    if (text.length <= MOST_KEPT) ofWindow.put(KEY, JSON.stringify({ name, text, choice, level }));
    else ofWindow.drop(KEY);
  }

  /** What lies there may be an older program's, or spoilt: the file is read anew, and its choices only where they fit. */
  #recall(): void {
    try {
      const kept = JSON.parse(ofWindow.look(KEY) ?? 'null') as Partial<Laid> | null;
      if (typeof kept?.text !== 'string' || typeof kept.name !== 'string') return;
      if (!this.lay(kept.text, kept.name) || !this.#laid) return;
      const { choice, level } = kept;
      const columns = this.#laid.table.columns.length;
      const fits = (column: unknown): boolean =>
        column === null || (Number.isInteger(column) && Number(column) < columns && Number(column) >= 0);
      if (choice && fits(choice.frequency) && fits(choice.value)) this.choose(choice);
      if (level && LEVELS.includes(level)) this.chooseLevel(level);
    } catch {
      ofWindow.drop(KEY);
    }
  }
}

const LEVELS: readonly Laid['level'][] = ['circuit', 'reach', 'placed', 'alone'];

type Wish = JobInput['measured'];

/** Samples cross to a worker and come back as copies. */
const sameCurve = (a: Wish, b: Wish): boolean =>
  a.decibels.length === b.decibels.length && a.decibels.every((db, i) => db === b.decibels[i]);

const sameMeters = (a: Wish, b: Wish): boolean =>
  a.of === b.of &&
  a.pickup === b.pickup &&
  a.bridge === b.bridge &&
  a.celsius === b.celsius &&
  a.probe.resistance === b.probe.resistance &&
  a.probe.capacitance === b.probe.capacitance;

const all = new WeakMap<MeasuredBench, Measured>();

/** The one of a page: whatever is opened or dropped, wherever, is laid over the same curve. */
export function measuredOf(bench: MeasuredBench): Measured {
  const had = all.get(bench) ?? new Measured(bench);
  all.set(bench, had);
  return had;
}
