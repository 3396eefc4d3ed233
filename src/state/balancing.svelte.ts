/** What balances the chosen pickup or all of them, found when it is asked for: one pickup after another. */
import type { JobValue } from '../jobs/protocol.ts';
import { balanceWish, withBuildOf } from '../sheet/balanceWish.ts';
import type { BalanceBy, BalanceOf, PickupBuild, Sheet } from '../sheet/sheet.ts';
import { balancedWhat, balanceRows, balanceWords, type BalanceRow } from './balanceWords.ts';
import type { Workbench } from './workbench.svelte.ts';

interface Found {
  readonly sheet: Sheet;
  readonly by: BalanceBy;
  /** What there is of every pickup that was asked about. */
  readonly pickups: readonly {
    readonly pickup: number;
    readonly name: string;
    readonly words: string;
    readonly rows: readonly BalanceRow[];
    /** null where there is nothing to be found. */
    readonly balanced: JobValue['balance'] | null;
  }[];
}

/** One while the place is open. */
export class Balancing {
  readonly #bench: Workbench;
  #turn = 0;
  by: BalanceBy = $state('poles');
  of: BalanceOf = $state('strum');
  all = $state(false);
  /** dB from a string to the next lower one. */
  slope = $state(0);
  cents = $state(4);
  /** Pickups that are done, and of how many; null while nobody asks. */
  going: { readonly done: number; readonly of: number } | null = $state.raw(null);
  found: Found | null = $state.raw(null);

  /** Whether what was found is of another sheet. */
  readonly older: boolean = $derived.by(() => this.found !== null && this.found.sheet !== this.#bench.sheet);
  /** Whether there is something to make a trial of. */
  readonly some: boolean = $derived.by(
    () => !this.older && (this.found?.pickups.some(({ balanced }) => balanced) ?? false),
  );

  constructor(bench: Workbench) {
    this.#bench = bench;
  }

  /** Balances them; what was found before stays until it is done. */
  find = async (): Promise<void> => {
    const turn = ++this.#turn;
    const { sheet, chosen, stringNames } = this.#bench;
    const { by, of, slope, cents } = this;
    // The chosen one is what the others are to be as loud as.
    const among = by === 'turns' ? sheet.pickups.flatMap((_, i) => (i === chosen ? [] : [i])) : null;
    const asked = among ?? (this.all ? sheet.pickups.map((_, i) => i) : [chosen]);
    const pickups: Found['pickups'][number][] = [];
    for (const [done, pickup] of asked.entries()) {
      this.going = { done, of: asked.length };
      const wish = balanceWish({ pickup, by, of, slope, cents, than: chosen });
      const answer = await this.#bench.aside.balance(sheet, wish);
      if (turn !== this.#turn) return;
      if (answer.status === 'superseded') {
        this.cancel();
        return;
      }
      const { name, build } = sheet.pickups[pickup]!;
      const balanced = answer.status === 'done' ? answer.value : null;
      const words =
        answer.status === 'done'
          ? balanceWords(name, by, answer.value, sheet.pickups[chosen]!.name)
          : `${name}: ${answer.message}`;
      const rows = balanced ? balanceRows(balanced, build as PickupBuild, stringNames) : [];
      pickups.push({ pickup, name, words, rows, balanced });
    }
    this.going = null;
    this.found = { sheet, by, pickups };
  };

  /** Finds no more; what was found before stays. */
  cancel = (): void => {
    this.#turn++;
    this.going = null;
  };

  /** Makes what was found a trial. */
  try = (): void => {
    const { found } = this;
    if (!found) return;
    const all = found.pickups.flatMap(({ pickup, balanced }) => (balanced ? [{ pickup, balanced }] : []));
    const changed = all.reduce(
      (sheet, { pickup, balanced }) => withBuildOf(sheet, pickup, balanced.build),
      found.sheet,
    );
    this.#bench.addChanged(
      changed,
      balancedWhat(
        found.by,
        all.map(({ balanced }) => balanced),
      ),
    );
  };
}
