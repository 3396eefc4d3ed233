/**
 * Keeps the fields of pickups for the jobs that need them: a field takes longest, and changes only with geometry. One
 * worker computes them; of the requests that wait, only the newest of each kind stays.
 */
import type { FieldAnswer, Fields } from '../physics/fieldAnswer.ts';
import { fieldQuestion } from '../physics/fieldQuestion.ts';
import type { Sheet } from '../sheet/sheet.ts';
import type { JobResult, Lane } from './lane.ts';
import type { JobKind } from './protocol.ts';

/** Answers kept: those of the open sheet, of the trials beside it, and of a stretch of a drag. */
const KEPT = 24;

interface Asked {
  readonly sheet: Sheet;
  readonly keys: readonly (string | null)[];
  readonly resolve: (result: JobResult<Fields>) => void;
}

/** The last 24 answers, and one request of each kind of job that waits for a field. */
export class FieldDesk {
  private readonly lane: Lane<'field'>;
  private readonly answers = new Map<string, FieldAnswer>();
  private readonly waiting = new Map<JobKind, Asked>();
  private running: { readonly kind: JobKind; readonly asked: Asked } | null = null;

  constructor(lane: Lane<'field'>) {
    this.lane = lane;
  }

  /** The sheet's fields for a job of this kind, at once where they are known. Takes the place of an older request. */
  request(kind: JobKind, sheet: Sheet): Fields | Promise<JobResult<Fields>> {
    const keys = sheet.pickups.map((_, i) => {
      const question = fieldQuestion(sheet, i);
      return question && JSON.stringify(question);
    });
    const known = this.known(keys);
    if (known) {
      // Whatever of this kind is still open would come too late.
      this.cancel(kind);
      return known;
    }
    return new Promise((resolve) => {
      this.waiting.get(kind)?.resolve({ status: 'superseded' });
      this.waiting.delete(kind);
      this.waiting.set(kind, { sheet, keys, resolve });
      void this.next();
    });
  }

  /** Lets go of this kind's requests. What the worker has begun is kept for the next. */
  cancel(kind: JobKind): void {
    this.waiting.get(kind)?.resolve({ status: 'superseded' });
    this.waiting.delete(kind);
    if (this.running?.kind === kind) this.running.asked.resolve({ status: 'superseded' });
  }

  /** Lets go of all requests. */
  dispose(): void {
    for (const kind of [...this.waiting.keys()]) this.cancel(kind);
    if (this.running) this.cancel(this.running.kind);
  }

  private known(keys: Asked['keys']): Fields | null {
    const found: (FieldAnswer | null)[] = [];
    for (const key of keys) {
      const answer = key === null ? null : this.answers.get(key);
      if (answer === undefined) return null;
      found.push(answer);
    }
    keys.forEach((key, i) => this.keep(key, found[i]!));
    return found;
  }

  private keep(key: string | null, answer: FieldAnswer | null): void {
    if (key === null || answer === null) return;
    this.answers.delete(key);
    this.answers.set(key, answer);
    if (this.answers.size > KEPT) this.answers.delete(this.answers.keys().next().value!);
  }

  private async next(): Promise<void> {
    if (this.running) return;
    for (const [kind, asked] of this.waiting) {
      const known = this.known(asked.keys);
      if (!known) continue;
      this.waiting.delete(kind);
      asked.resolve({ status: 'done', value: known });
    }
    const [first] = this.waiting;
    if (!first) return;
    const [kind, asked] = first;
    this.waiting.delete(kind);
    this.running = { kind, asked };
    const had = asked.keys.map((key) => (key === null ? null : this.answers.get(key)));
    const wanted = had.map((answer) => answer === undefined);
    const result = await this.lane.request(asked.sheet, { wanted });
    this.running = null;
    if (result.status === 'done') {
      const value = had.map((answer, i) => answer ?? result.value[i] ?? null);
      asked.keys.forEach((key, i) => this.keep(key, value[i]!));
      asked.resolve({ status: 'done', value });
    } else asked.resolve(result);
    void this.next();
  }
}
