/** How loud sheets are, each found once: for a matched level that is there at once, and for the difference between trials. */
import type { JobClient } from '../jobs/client.ts';
import type { JobValue } from '../jobs/protocol.ts';
import type { Sheet } from '../sheet/sheet.ts';

/** `gain`: digital amplitude for one volt when matched. `loudness`: as it is, LUFS; null when nothing is heard. */
export type Level = JobValue['level'];

/** So many are kept: the trials, and what one goes back and forth between. */
const MOST = 64;

/** One worker is asked, for one sheet after another. */
export class Levels {
  readonly #jobs: Pick<JobClient, 'level'>;
  readonly #known = new Map<string, Level>();
  readonly #asked = new Map<string, Promise<Level | null>>();
  /** One after another: a newer request would take the place of one that waits. */
  #queue: Promise<unknown> = Promise.resolve();

  constructor(jobs: Pick<JobClient, 'level'>) {
    this.#jobs = jobs;
  }

  /** What is known already. */
  known(sheet: Sheet): Level | null {
    return this.#known.get(keyOf(sheet)) ?? null;
  }

  /** null when it can't be computed. Never rejects. */
  of(sheet: Sheet): Promise<Level | null> {
    const key = keyOf(sheet);
    const known = this.#known.get(key);
    if (known) return Promise.resolve(known);
    const asked = this.#asked.get(key);
    if (asked) return asked;
    const found = this.#queue.then(async () => {
      const answer = await this.#jobs.level(sheet);
      this.#asked.delete(key);
      if (answer.status !== 'done') return null;
      this.#keep(key, answer.value);
      return answer.value;
    });
    this.#queue = found;
    this.#asked.set(key, found);
    return found;
  }

  /** The longest known makes room. */
  #keep(key: string, level: Level): void {
    this.#known.set(key, level);
    if (this.#known.size <= MOST) return;
    for (const oldest of this.#known.keys()) {
      this.#known.delete(oldest);
      return;
    }
  }
}

/** Everything that the phrase depends on, so that going back to a figure finds its level again. */
function keyOf({ instrument, pickups, harness, listen }: Sheet): string {
  return JSON.stringify([instrument, pickups, harness, { ...listen, level: '', partial: 0, sampleRate: 0 }]);
}
