/** One pickup by itself, with whatever build it is given, and how its strings stand to one another. */
import type { BalanceWish, PickupBuild, Sheet } from '../sheet/sheet.ts';
import type { FieldSolver } from './field.ts';
import { FieldError } from './fieldFaults.ts';
import { fieldQuestion } from './fieldQuestion.ts';
import { resolve } from './heard/resolve.ts';
import type { HeardSheet } from './heard/resolved.ts';
import { heardNotes, notesLoudness } from './heardNotes.ts';
import { outcomeOf } from './outcome.ts';

/** Levels in dB, string 1 first, and their mean; the largest shift of an open string, cents. */
export interface Measured {
  readonly levels: readonly number[];
  readonly mean: number;
  readonly pull: number;
}

/** The sheet with one of its pickups, by index, and that one's controls: as the selector has it alone. */
export function onlyPickup(sheet: Sheet, index: number): Sheet {
  const { wiring, controls } = sheet.harness;
  const own = { ...sheet.pickups[index]!, sounds: true };
  const fitted = wiring === 'own' ? [controls[index]!] : controls;
  return { ...sheet, pickups: [own], harness: { ...sheet.harness, controls: fitted } };
}

/** Keeps the wish, and solves. */
export class BalancedSheet {
  readonly build: PickupBuild;
  /** What the slope wants of every string against the mean, dB. */
  readonly wanted: readonly number[];
  private readonly sheet: Sheet;

  constructor(
    sheet: Sheet,
    readonly wish: BalanceWish,
    readonly solver: FieldSolver,
  ) {
    this.sheet = onlyPickup(sheet, wish.pickup);
    this.build = this.sheet.pickups[0]!.build!;
    const middle = 0.5 * (sheet.instrument.strings.length - 1);
    this.wanted = sheet.instrument.strings.map((_, i) => wish.slope * (i - middle));
  }

  /** The sheet of this pickup alone with another build. */
  with(build: PickupBuild): Sheet {
    return { ...this.sheet, pickups: [{ ...this.sheet.pickups[0]!, build }] };
  }

  /** @throws FieldError where it can't be computed */
  measure(build: PickupBuild): Measured {
    const sheet = this.with(build);
    return measured(resolve(sheet, this.solver.fields(sheet)), this.wish.of);
  }

  /** The same; null where the parts leave each other no room. */
  tried(build: PickupBuild): Measured | null {
    try {
      return this.measure(build);
    } catch (error) {
      if (error instanceof FieldError) return null;
      throw error;
    }
  }

  /** Whether such a build may be, as far as its figures tell; nothing is solved. */
  allowed(build: PickupBuild): boolean {
    return this.solver.refusal(fieldQuestion(this.with(build), 0)!) === '';
  }

  /** How far every string is from where it should stand, dB, from the middle between the loudest and the softest. */
  offs({ levels }: Measured): readonly number[] {
    const all = levels.map((level, i) => level - this.wanted[i]!);
    const middle = 0.5 * (Math.max(...all) + Math.min(...all));
    return all.map((off) => off - middle);
  }
}

/** Of the sheet's only pickup. */
export function measured(sheet: HeardSheet, of: BalanceWish['of']): Measured {
  const { strings } = outcomeOf(sheet.instrument, sheet.pickups[0]!);
  const levels = of === 'strum' ? strummed(sheet) : strings.map(({ level }) => 20 * Math.log10(level));
  if (!levels.every(Number.isFinite))
    throw new RangeError(
      'Every string must be heard to be balanced; one is silent. Look at the poles and the volume pot.',
    );
  const shifts = strings.flatMap(({ field }) => (field ? [field.centsTowards, field.centsAcross] : []));
  return {
    levels,
    mean: levels.reduce((sum, level) => sum + level, 0) / levels.length,
    pull: shifts.reduce((most, cents) => (Math.abs(cents) > Math.abs(most) ? cents : most), 0),
  };
}

/** All open strings plucked alike, dB by any reference. */
function strummed(sheet: HeardSheet): readonly number[] {
  const chord = sheet.instrument.strings.map(() => 0);
  const listen = { ...sheet.listen, play: 'chord', chord } as const;
  return [...heardNotes({ ...sheet, listen })]
    .toSorted((a, b) => a.string - b.string)
    .map((note) => notesLoudness([note]));
}
