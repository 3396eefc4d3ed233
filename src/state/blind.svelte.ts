/**
 * A blind listen: two trials under hidden names, and in every round an X that is one of them. Nothing here says which,
 * before the last round is answered. Always at equal loudness, so that the louder one does not give itself away.
 */
import { guessingProbability, verdict } from '../audio/guessing.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { letter, type BlindResult, type Trials } from '../sheet/trials.ts';

/** What is needed of Listening. */
export interface Ears {
  readonly playing: boolean;
  hearInstead(sheet: Sheet | null): void;
  /** null when nothing is heard or it can't be computed. */
  loudnessOf(sheet: Sheet): Promise<{ readonly loudness: number | null } | null>;
  play(): void;
  stop(): void;
}

/** The hidden names, and the one that is asked for. */
export type Name = 'P' | 'Q';
/** Everything that can be let be heard. */
export type Heard = Name | 'X';

/** How many rounds one may choose from; fewer than ten say nothing. */
export const ROUNDS = [10, 12, 16, 20] as const;

/** What is said when the last round is answered. */
export interface Revealed {
  readonly result: BlindResult;
  /** «P was trial B, Q trial A». */
  readonly names: string;
  readonly verdict: string;
  /** That of guessing as well, 0–1. */
  readonly probability: number;
}

interface Test {
  /** Which trials are P and Q, from 0, and their sheets at equal loudness. */
  readonly trials: readonly [number, number];
  readonly sheets: readonly [Sheet, Sheet];
  /** Whether X is Q, round by round. */
  readonly isQ: readonly boolean[];
}

/** Fair and independent of one another, and no page can foresee them. */
function coins(count: number): boolean[] {
  return Array.from(crypto.getRandomValues(new Uint8Array(count)), (byte) => (byte & 1) === 1);
}

/** One test after another; none to begin with. */
export class BlindListen {
  readonly #ears: Ears;
  readonly #toss: (count: number) => boolean[];
  /** Hidden: not even in the page's own state. */
  #test: Test | null = null;
  #right = 0;
  #wasPlaying = false;
  #started = 0;

  /** 'preparing': the levels are being found; 'done': all rounds are answered. */
  status: 'away' | 'preparing' | 'running' | 'done' = $state('away');
  /** So many to come, one of ROUNDS. */
  rounds = $state(16);
  /** Rounds answered. */
  round = $state(0);
  /** The newest one that was asked for. */
  heard: Heard = $state('X');
  /** Only when the last round is answered. */
  revealed: Revealed | null = $state.raw(null);
  /** A sentence, or empty. */
  problem = $state('');

  /** @param toss makes so many fair coins; for tests */
  constructor(ears: Ears, toss: (count: number) => boolean[] = coins) {
    this.#ears = ears;
    this.#toss = toss;
  }

  /** Begins a test of trials `a` and `b`, from a click or key press. */
  start = async ({ trials }: Trials, a: number, b: number): Promise<void> => {
    const [swapped, ...isQ] = this.#toss(this.rounds + 1);
    const order = swapped ? ([b, a] as const) : ([a, b] as const);
    const sheets = order.map((index) => equallyLoud(trials[index]!)) as [Sheet, Sheet];
    const started = ++this.#started;
    this.#test = { trials: order, sheets, isQ };
    this.#right = 0;
    this.round = 0;
    this.revealed = null;
    this.problem = '';
    this.status = 'preparing';
    this.#wasPlaying = this.#ears.playing;
    this.hear('X');
    if (!this.#wasPlaying) this.#ears.play();
    const levels = await Promise.all(sheets.map((sheet) => this.#ears.loudnessOf(sheet)));
    if (started !== this.#started || this.status !== 'preparing') return;
    const silent = levels.findIndex((level) => (level?.loudness ?? null) === null);
    if (silent >= 0) {
      this.stop();
      this.problem = `Trial ${letter(order[silent]!)} is not to be heard; look at its pots and pickups.`;
    } else this.status = 'running';
  };

  /** Lets one of the three be heard. */
  hear = (name: Heard): void => {
    const sheet = this.#test?.sheets[this.#isQ(name) ? 1 : 0];
    if (!sheet || this.status === 'done') return;
    this.heard = name;
    this.#ears.hearInstead(sheet);
  };

  /** Says which one X is, and goes on to the next round. */
  answer = (name: Name): void => {
    if (this.status !== 'running') return;
    if ((name === 'Q') === this.#isQ('X')) this.#right++;
    this.round++;
    if (this.round === this.rounds) this.#reveal();
    else this.hear('X');
  };

  /** Ends a test; one that is not finished counts for nothing. */
  stop = (): void => {
    if (this.status === 'away') return;
    if (this.status !== 'done') this.#ending();
    this.#test = null;
    this.status = 'away';
  };

  #isQ(name: Heard): boolean {
    return name === 'Q' || (name === 'X' && this.#test?.isQ[this.round] === true);
  }

  #reveal(): void {
    const test = this.#test;
    if (!test) return;
    const [p, q] = test.trials;
    const { rounds } = this;
    const right = this.#right;
    this.revealed = {
      result: { a: Math.min(p, q), b: Math.max(p, q), rounds, right, date: today() },
      names: `P was trial ${letter(p)}, Q trial ${letter(q)}`,
      verdict: verdict(right, rounds),
      probability: guessingProbability(right, rounds),
    };
    this.status = 'done';
    this.#ending();
  }

  /** Gives the ears back as they were. */
  #ending(): void {
    if (!this.#wasPlaying) this.#ears.stop();
    this.#ears.hearInstead(null);
  }
}

const equallyLoud = (sheet: Sheet): Sheet => ({ ...sheet, listen: { ...sheet.listen, level: 'matched' } });

/** By this machine's calendar, YYYY-MM-DD. */
function today(): string {
  const now = new Date();
  return [now.getFullYear(), now.getMonth() + 1, now.getDate()]
    .map((n) => String(n).padStart(2, '0'))
    .join('-');
}

/** «A against B: 12 of 16: you very likely hear it; … · 2026-03-01». */
export function blindWords({ a, b, right, rounds, date }: BlindResult): string {
  return `${letter(a)} against ${letter(b)}, ${date}: ${verdict(right, rounds)}`;
}
