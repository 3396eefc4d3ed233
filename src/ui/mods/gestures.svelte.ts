/** The gestures of the mods: their amounts, what each does to the chosen pickup, and why the last was refused. */
import type { ChosenGrade, PlateMetal } from '../../sheet/build.ts';
import * as mods from '../../sheet/mods.ts';
import type { Pickup, Sheet } from '../../sheet/sheet.ts';
import { formatFigure } from '../../sheet/units.ts';
import type { Mod } from '../../state/workbench.svelte.ts';

/** A row of gestures, under which a refusal stands. */
export type Row = 'magnets' | 'screws' | 'height' | 'cover' | 'keeper' | 'turns';

/** What is needed of the bench. */
interface Bench {
  readonly sheet: Sheet;
  readonly chosen: number;
  readonly mod: (what: string, mod: Mod) => string;
}

interface Refusal {
  readonly row: Row;
  readonly says: string;
  /** As it then was: of another, or of this one changed, nothing is said. */
  readonly pickup: Pickup | undefined;
}

const AMOUNTS = { trim: 0.001, lift: 0.0005, share: 0.05 };
export type Amount = keyof typeof AMOUNTS;

export class Gestures {
  readonly #bench: Bench;
  readonly #amounts = $state({ ...AMOUNTS });
  #refusal: Refusal | null = $state.raw(null);

  readonly pickup: Pickup | undefined = $derived.by(() => this.#bench.sheet.pickups[this.#bench.chosen]);
  /** Why the last gesture was refused, until its figure or the pickup changes. */
  readonly refusal: Refusal | null = $derived.by(() =>
    this.#refusal?.pickup === this.pickup ? this.#refusal : null,
  );

  constructor(bench: Bench) {
    this.#bench = bench;
  }

  /** How much to trim and to raise or lower, m; which share of the turns to remove. */
  amount(of: Amount): number {
    return this.#amounts[of];
  }

  setAmount(of: Amount, to: number): void {
    this.#amounts[of] = to;
    this.#refusal = null;
  }

  #act(row: Row, what: string, mod: Mod): void {
    const { pickup } = this;
    const says = this.#bench.mod(what, mod);
    this.#refusal = says === '' ? null : { row, says, pickup };
  }

  swap = (grade: string): void =>
    this.#act('magnets', `${grade} magnets`, (s, i) => mods.swapGrade(s, i, grade as ChosenGrade));

  turnOver = (): void => this.#act('magnets', 'magnet turned over', mods.turnMagnetOver);

  /** Rods that can be turned over by themselves. */
  readonly rods = $derived.by(() => (this.pickup?.build ? mods.singleRods(this.pickup.build) : []));
  #rod: string | null = $state.raw(null);
  /** Which of them will be, by name: the one under the string that is looked at, unless another was chosen. */
  readonly rod: string = $derived.by(() => {
    const names = this.rods.map(({ name }) => name);
    const { string } = this.#bench.sheet.listen;
    const heard = this.rods.find(({ pole }) => pole === string - 1)?.name;
    return names.find((name) => name === this.#rod) ?? heard ?? '';
  });

  chooseRod = (name: string): void => {
    this.#rod = name;
    this.#refusal = null;
  };

  turnPole = (): void => {
    const rod = this.rods.find(({ name }) => name === this.rod);
    if (rod)
      this.#act('magnets', `pole ${rod.name} turned over`, (s, i) =>
        mods.turnPoleOver(s, i, rod.row, rod.pole),
      );
  };

  /** Of what is typed; returns why it was refused, for the field to say; empty when it was done. */
  #typed(what: string, mod: Mod): string {
    this.#refusal = null;
    return this.#bench.mod(what, mod);
  }

  /** As `#typed`. */
  charge = (to: number): string =>
    this.#typed(`magnets at ${formatFigure(to, 'charge')}`, (s, i) => mods.partlyDemagnetise(s, i, to));

  /** As `#typed`. */
  bevel = (size: number): string =>
    this.#typed(
      size === 0 ? 'flat pole tops' : `poles bevelled by ${formatFigure(size, 'tipSize')}`,
      (s, i) => mods.bevelPoles(s, i, size),
    );

  trim = (): void => {
    const by = this.amount('trim');
    this.#act('screws', `screws trimmed by ${formatFigure(by, 'modAmount')}`, (s, i) =>
      mods.trimScrews(s, i, by),
    );
  };

  raise = (): void => this.#lift('raised', this.amount('lift'));
  lower = (): void => this.#lift('lowered', -this.amount('lift'));

  #lift(done: string, by: number): void {
    this.#act('height', `${done} by ${formatFigure(Math.abs(by), 'modAmount')}`, (s, i) =>
      mods.raise(s, i, by),
    );
  }

  cover = (metal: PlateMetal | null): void =>
    this.#act('cover', metal ? `${metal} cover` : 'cover taken off', (s, i) => mods.withCover(s, i, metal));

  /** Whether a keeper lies under the pickup. */
  readonly kept: boolean = $derived.by(() => this.pickup !== undefined && mods.keeperOf(this.pickup) >= 0);

  putKeeper = (): void => this.#act('keeper', 'keeper put under it', mods.putKeeperUnder);
  takeKeeper = (): void => this.#act('keeper', 'keeper taken off', mods.takeKeeperOff);

  unwind = (): void => {
    const share = this.amount('share');
    this.#act('turns', `${formatFigure(share, 'modTurns')} of the turns removed`, (s, i) =>
      mods.removeTurns(s, i, share),
    );
  };
}
