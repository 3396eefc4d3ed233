/** How loud sheets are, each found once: for a matched level that is there at once, and for the difference between trials. */
import type { JobClient } from '../jobs/client.ts';
import type { JobValue } from '../jobs/protocol.ts';
import type { Sheet } from '../sheet/sheet.ts';

/** `gain`: digital amplitude for one volt when matched. `loudness`: as it is, LUFS; null when nothing is heard. */
export type Level = JobValue['level'];

/** So many are kept: the trials, and what one goes back and forth between. */
const MOST = 64;

interface Wanted {
  readonly key: string;
  readonly sheet: Sheet;
  readonly found: Promise<Level | null>;
  readonly resolve: (level: Level | null) => void;
}

/** One worker is asked, for one sheet after another. */
export class Levels {
  readonly #jobs: Pick<JobClient, 'level'>;
  readonly #known = new Map<string, Level>();
  /** One after another: a newer request would take the place of one that waits. The first is being found. */
  readonly #queue: Wanted[] = [];

  constructor(jobs: Pick<JobClient, 'level'>) {
    this.#jobs = jobs;
  }

  /** What is known already. */
  known(sheet: Sheet): Level | null {
    return this.#known.get(keyOf(sheet)) ?? null;
  }

  /**
   * null when it can't be computed. Never rejects.
   *
   * @param soon before all that wait: somebody listens for it
   */
  of(sheet: Sheet, soon = false): Promise<Level | null> {
    const key = keyOf(sheet);
    const known = this.#known.get(key);
    if (known) return Promise.resolve(known);
    const asked = this.#queue.findIndex((wanted) => wanted.key === key);
    if (asked >= 0 && (asked < 2 || !soon)) return this.#queue[asked]!.found;
    const [wanted] = asked < 0 ? [newWanted(key, sheet)] : this.#queue.splice(asked, 1);
    this.#queue.splice(soon ? 1 : this.#queue.length, 0, wanted!);
    if (this.#queue.length === 1) void this.#find();
    return wanted!.found;
  }

  async #find(): Promise<void> {
    for (let wanted = this.#queue[0]; wanted; wanted = this.#queue[0]) {
      const answer = await this.#jobs.level(wanted.sheet);
      if (answer.status === 'done') this.#keep(wanted.key, answer.value);
      this.#queue.shift();
      wanted.resolve(answer.status === 'done' ? answer.value : null);
    }
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

function newWanted(key: string, sheet: Sheet): Wanted {
  let resolve!: Wanted['resolve'];
  const found = new Promise<Level | null>((done) => (resolve = done));
  return { key, sheet, found, resolve };
}

/** Everything that the phrase depends on, so that going back to a figure finds its level again. */
function keyOf({ instrument, pickups, harness, listen }: Sheet): string {
  return JSON.stringify([instrument, pickups, harness, { ...listen, level: '', partial: 0, sampleRate: 0 }]);
}
