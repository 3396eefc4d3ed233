/** What the workers have answered, for as long as it is likely to be asked for again: going back computes nothing anew. */
import type { KnownField } from '../physics/betweenHeights.ts';
import type { FieldAnswer } from '../physics/heard/fieldAnswer.ts';
import { Kept } from '../physics/numerics/kept.ts';
import type { Sheet } from '../sheet/sheet.ts';
import type { JobValue, Pictures } from './protocol.ts';

/** Fields kept: those of the open sheet, of the trials beside it, of a stretch of a drag, and of other gaps. */
const FIELDS = 80;
/** Of each kind of answer: trials and some steps of undo, a tenth of a megabyte each at most. */
const ANSWERS = 24;

/** What is kept, by kind; each is the same whenever the same is asked. */
export interface Remembered
  extends
    Pick<JobValue, 'figures' | 'beginning' | 'level' | 'close' | 'track' | 'heard' | 'space' | 'takenOut'>,
    Pictures {}

/** One a page: what one client was answered, another need not ask. */
export class Known {
  readonly fields = new Kept<KnownField & { readonly ladder: string }>(FIELDS);
  /** The same fields by the charges that they hold. */
  readonly charges = new Kept<FieldAnswer>(FIELDS);
  private readonly answers = new Map<keyof Remembered, Kept<unknown>>();

  /** undefined: not known. `key`: all that the answer depends on, as text. */
  recall<K extends keyof Remembered>(kind: K, key: string): Remembered[K] | undefined {
    return this.answers.get(kind)?.get(key) as Remembered[K] | undefined;
  }

  remember<K extends keyof Remembered>(kind: K, key: string, value: Remembered[K]): void {
    let kept = this.answers.get(kind);
    if (!kept) this.answers.set(kind, (kept = new Kept<unknown>(ANSWERS)));
    kept.put(key, value);
  }
}

/** All that is asked of one pickup's field and of how its strings lie, as text. */
export function aboutPickup(sheet: Sheet, index: number): string {
  const { instrument, magnets, pickups } = sheet;
  const { build, rows, slant, place } = pickups[index] ?? {};
  return JSON.stringify([build, rows?.map(({ offset }) => offset), slant, place, instrument, magnets]);
}
