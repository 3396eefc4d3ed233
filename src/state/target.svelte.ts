/** How many turns the chosen pickup takes for a resonance into the cable and pots that are there, found when it is asked for. */
import { hasCoil } from '../shape/hasCoil.ts';
import { setAt } from '../sheet/edit.ts';
import { formatFigure } from '../sheet/format.ts';
import type { Sheet } from '../sheet/sheet.ts';
import type { JobValue } from '../jobs/protocol.ts';
import type { Workbench } from './workbench.svelte.ts';

interface Found {
  readonly sheet: Sheet;
  readonly pickup: number;
  /** Hz. */
  readonly wanted: number;
  readonly target: JobValue['target'];
}

/** Hz, where the sheet has no resonance to begin with. */
const USUAL = 4000;
/** Of the resonance that there is: another one, so that what is rehearsed solves what a question solves. */
const ANOTHER = 1.1;

/** «5120», «5120 and 4980». */
const turnsWords = ({ turns }: JobValue['target']): string => turns.join(' and ');

/** «6320 turns: 4.50 kHz into this cable and these pots.» */
export function targetWords({ target, wanted }: Pick<Found, 'target' | 'wanted'>): string {
  const { resonance, reached, limit } = target;
  const peak = (f: number): string => formatFigure(Number(f.toPrecision(3)), 'targetPeak');
  if (reached && resonance !== null)
    return `${turnsWords(target)} turns: ${peak(resonance)} into this cable and these pots.`;
  const nearest = resonance === null ? '' : ` The nearest: ${turnsWords(target)} turns, ${peak(resonance)}.`;
  return `${peak(wanted)} is not reachable. ${limit}${nearest}`;
}

/** One while the place is open. */
export class ToTarget {
  readonly #bench: Workbench;
  #turn = 0;
  #typed: number | null = $state(null);
  asking = $state(false);
  found: Found | null = $state.raw(null);
  message = $state('');

  /** Hz: what was typed, or what there is, to three digits. */
  readonly wanted: number = $derived.by(() => {
    if (this.#typed !== null) return this.#typed;
    const { prediction, chosen } = this.#bench;
    const now = prediction?.voices[chosen]?.features.resonance?.frequency ?? USUAL;
    return Number(now.toPrecision(3));
  });

  /** Whether what was found is of another sheet or pickup, so that it can become no trial. */
  readonly older: boolean = $derived.by(() => {
    const { found } = this;
    return found !== null && (found.sheet !== this.#bench.sheet || found.pickup !== this.#bench.chosen);
  });

  /** What was found, in words. */
  readonly words: string = $derived.by(() => (this.found ? targetWords(this.found) : ''));

  constructor(bench: Workbench) {
    this.#bench = bench;
  }

  /** An answer that nobody reads: a worker's first takes two to three times as long as any after it. */
  rehearse = (): void => {
    const { sheet, chosen: pickup } = this.#bench;
    if (hasCoil(sheet.pickups[pickup]?.build))
      void this.#bench.aside.target(sheet, { pickup, resonance: ANOTHER * this.wanted });
  };

  /** Finds them for a resonance, Hz. */
  ask = async (wanted: number): Promise<void> => {
    const turn = ++this.#turn;
    this.#typed = wanted;
    const { sheet, chosen: pickup } = this.#bench;
    this.asking = true;
    this.message = '';
    const answer = await this.#bench.aside.target(sheet, { pickup, resonance: wanted });
    if (turn !== this.#turn) return;
    this.asking = false;
    this.found = answer.status === 'done' ? { sheet, pickup, wanted, target: answer.value } : null;
    if (answer.status === 'failed') this.message = answer.message;
  };

  /** Makes them a trial. */
  try = (): void => {
    const { found } = this;
    if (!found) return;
    const { sheet, pickup, target } = found;
    const changed = target.turns.reduce(
      (one, turns, row) => setAt(one, ['pickups', pickup, 'build', 'rows', row, 'turns'], turns as never),
      sheet,
    );
    this.#bench.addChanged(changed, `${turnsWords(target)} turns`);
  };
}
