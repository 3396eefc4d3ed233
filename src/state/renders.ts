/** Whole phrases, rendered one after another: for files. */
import type { JobClient, JobResult } from '../jobs/client.ts';
import type { Sheet } from '../sheet/sheet.ts';
import type { Sound } from './types.ts';

/** Keeps the newest phrase alone. */
export class Renders {
  readonly #jobs: Pick<JobClient, 'sound'>;
  /** One after another: a newer request would take the place of one that waits. */
  #queue: Promise<unknown> = Promise.resolve();
  #newest: { readonly sheet: Sheet; readonly answer: JobResult<Sound> } | null = null;

  constructor(jobs: Pick<JobClient, 'sound'>) {
    this.#jobs = jobs;
  }

  /** Never rejects. */
  of(sheet: Sheet): Promise<JobResult<Sound>> {
    const rendered = this.#queue.then(async () => {
      if (this.#newest?.sheet === sheet) return this.#newest.answer;
      const answer = await this.#jobs.sound(sheet);
      if (answer.status === 'done') this.#newest = { sheet, answer };
      return answer;
    });
    this.#queue = rendered;
    return rendered;
  }
}
