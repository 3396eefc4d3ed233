/** The fields of two pickups, of one trial or of two, to be seen beside one another: asked of the worker once the hand rests. */
import type { Pickup, Sheet } from '../sheet/sheet.ts';
import { stringUnderside } from '../shape/stringCourse.ts';
import type { PlanPicture, SectionPicture } from './picture.svelte.ts';
import type { TakenOutFigures } from './takenOut.svelte.ts';
import type { Workbench } from './workbench.svelte.ts';

/** A pickup of a trial, both from 0. */
export interface Side {
  readonly trial: number;
  readonly pickup: number;
}

/** What there is to be seen of one side. */
export interface SideSeen extends Side {
  /** «neck», with several trials «A, neck». */
  readonly name: string;
  /** null until it is there, or when it can't be. */
  readonly picture: SectionPicture | null;
  readonly plan: PlanPicture | null;
  /** Wb, a moment after the pictures: what goes up through the plane of the tops, and what leaves the magnets. */
  readonly flux: TakenOutFigures['flux'];
  /** What it is of. */
  readonly of: Pickup | null;
  /** Above the nominal pole tops, m: the middle of the chosen string. */
  readonly string: number;
  readonly diameter: number;
}

/** ms without a change before the worker is asked. */
const REST = 300;
const SIDES = [0, 1] as const;

interface Answer {
  readonly question: string;
  readonly picture: SectionPicture | null;
  readonly plan: PlanPicture | null;
  /** undefined: still asked for. */
  readonly flux: TakenOutFigures['flux'] | undefined;
  readonly message: string;
}

/** One while the place is open. */
export class Besides {
  readonly #bench: Workbench;
  readonly #wanted: (string | null)[] = $state([null, null]);
  readonly #answers: (Answer | null)[] = $state.raw([null, null]);
  #answered = $state(0);
  #timer: ReturnType<typeof setTimeout> | undefined;
  #turn = 0;

  /** Every pickup with a build, by name. */
  readonly sides: readonly (Side & { readonly name: string })[] = $derived.by(() => {
    const { trials } = this.#bench.trials;
    return trials.flatMap(({ pickups }, trial) =>
      pickups.flatMap(({ name, build }, pickup) => {
        const numbered = `${pickup + 1} ${name}`;
        return build
          ? [
              {
                trial,
                pickup,
                name: trials.length > 1 ? `${this.#bench.letter(trial)}, ${numbered}` : numbered,
              },
            ]
          : [];
      }),
    );
  });

  /** The two that are chosen; by themselves the open trial's pickup beside the other trial's, or beside its neighbour. */
  readonly chosen: readonly (Side & { readonly name: string })[] = $derived.by(() => {
    const { chosen, trials, against } = this.#bench;
    const is = (trial: number, pickup: number) => (side: Side) =>
      side.trial === trial && side.pickup === pickup;
    const right = this.sides.find(is(trials.open, chosen)) ?? this.sides[0];
    const left =
      this.sides.find(is(against ?? -1, chosen)) ?? this.sides.find((side) => side !== right) ?? right;
    return [left, right].flatMap((side, i) => {
      const wanted = this.sides.find(({ name }) => name === this.#wanted[i]) ?? side;
      return wanted ? [wanted] : [];
    });
  });

  readonly #questions: readonly string[] = $derived.by(() =>
    this.chosen.map(({ trial, pickup }) => {
      const sheet = this.#bench.trials.trials[trial];
      const of = sheet?.pickups[pickup];
      if (!sheet || !of) return '';
      const { build, rows, slant, place } = of;
      const offsets = rows.map(({ offset }) => offset);
      const { instrument, magnets } = sheet;
      return JSON.stringify([pickup, build, offsets, slant, place, instrument, magnets, this.#string]);
    }),
  );

  /** One string under both, so that like is beside like. */
  get #string(): number {
    return this.#bench.sheet.listen.string;
  }

  readonly seen: readonly SideSeen[] = $derived.by(() => {
    void this.#answered;
    return this.chosen.map((side, i) => {
      const sheet = this.#sheetOf(side);
      const pickup = sheet?.pickups[side.pickup];
      const answer = this.#answers[i];
      const diameter = sheet?.instrument.strings[this.#string - 1]?.diameter ?? 0;
      const under =
        sheet && pickup?.build ? stringUnderside(sheet.instrument, pickup, pickup.build, this.#string) : 0;
      const known = answer?.question === this.#questions[i] ? answer : null;
      const { picture = null, plan = null, flux = null } = known ?? {};
      return { ...side, picture, plan, flux, of: pickup ?? null, string: under + 0.5 * diameter, diameter };
    });
  });

  /** Whether every figure has come, or none will. */
  readonly done: boolean = $derived.by(() => {
    void this.#answered;
    return this.chosen.every((_, i) => {
      const answer = this.#answers[i];
      return answer?.question === this.#questions[i] && answer?.flux !== undefined;
    });
  });

  /** What keeps either from being computed; empty when nothing does. */
  readonly message: string = $derived.by(() => {
    void this.#answered;
    const said = this.#answers.map((answer, i) =>
      answer?.question === this.#questions[i] ? (answer?.message ?? '') : '',
    );
    return said.find((one) => one !== '') ?? '';
  });

  constructor(bench: Workbench) {
    this.#bench = bench;
  }

  /** @param side 0 for the left one, 1 for the right one; @param name of `sides` */
  choose = (side: 0 | 1, name: string): void => {
    this.#wanted[side] = name;
  };

  /** To be called in an effect while the place is open. */
  ask = (): void => {
    clearTimeout(this.#timer);
    void this.#answered;
    const questions = this.#questions;
    const due = SIDES.filter((i) => questions[i] && this.#answers[i]?.question !== questions[i]);
    if (due.length === 0 || !this.#bench.resting) return;
    this.#timer = setTimeout(() => void this.#solve(due, questions), REST);
  };

  /** Asks no more. */
  end = (): void => clearTimeout(this.#timer);

  #sheetOf({ trial }: Side): Sheet | undefined {
    const sheet = this.#bench.trials.trials[trial];
    return sheet && { ...sheet, listen: { ...sheet.listen, string: this.#string } };
  }

  async #solve(due: readonly number[], questions: readonly string[]): Promise<void> {
    const turn = ++this.#turn;
    for (const i of due) {
      const side = this.chosen[i];
      const sheet = side && this.#sheetOf(side);
      if (!sheet) continue;
      const result = await this.#bench.picturesOf(sheet, side.pickup);
      if (turn !== this.#turn || result.status === 'superseded') return;
      const question = questions[i]!;
      this.#answers[i] =
        result.status === 'done'
          ? { question, picture: result.value.section, plan: result.value.plan, flux: undefined, message: '' }
          : { question, picture: null, plan: null, flux: null, message: result.message };
    }
    this.#answered++;
    for (const i of due) await this.#findFlux(i, turn);
  }

  /** Takes longer than the pictures, which don't wait for it. */
  async #findFlux(i: number, turn: number): Promise<void> {
    const side = this.chosen[i];
    const sheet = side && this.#sheetOf(side);
    if (!sheet || turn !== this.#turn || this.#answers[i]?.flux === null) return;
    const result = await this.#bench.fluxOf(sheet, side.pickup);
    const answer = this.#answers[i];
    if (!answer || turn !== this.#turn) return;
    const flux = result.status === 'done' ? (result.value?.flux ?? null) : null;
    this.#answers[i] = { ...answer, flux };
    this.#answered++;
  }
}
