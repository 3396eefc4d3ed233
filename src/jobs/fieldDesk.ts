/**
 * Keeps the fields of pickups for the jobs that need them: a field takes longest, and changes only with geometry. One
 * worker computes them; of the requests that wait, only the newest of each kind stays.
 */
import type { FieldAnswer, Fields } from '../physics/heard/fieldAnswer.ts';
import { fieldQuestion, nearlySame, type FieldQuestion } from '../physics/fieldQuestion.ts';
import type { Sheet } from '../sheet/sheet.ts';
import type { JobResult, Lane } from './lane.ts';
import type { JobKind } from './protocol.ts';

/** Answers kept: those of the open sheet, of the trials beside it, and of a stretch of a drag. */
const KEPT = 24;

/** What is asked of one pickup, and as text; null without a build. */
interface Question {
  readonly key: string;
  readonly question: FieldQuestion;
}

interface Asked {
  readonly sheet: Sheet;
  readonly questions: readonly (Question | null)[];
  readonly resolve: (result: JobResult<Fields>) => void;
}

/** The last 24 answers, and one request of each kind of job that waits for a field. */
export class FieldDesk {
  private readonly lane: Lane<'field'>;
  private readonly answers = new Map<string, FieldAnswer>();
  /** What each pickup was last answered. */
  private readonly last: ((Question & { readonly answer: FieldAnswer }) | null)[] = [];
  private readonly waiting = new Map<JobKind, Asked>();
  private running: { readonly kind: JobKind; readonly asked: Asked } | null = null;

  constructor(lane: Lane<'field'>) {
    this.lane = lane;
  }

  /** The sheet's fields for a job of this kind, at once where they are known. Takes the place of an older request. */
  request(kind: JobKind, sheet: Sheet): Fields | Promise<JobResult<Fields>> {
    const questions = questionsOf(sheet);
    const known = this.known(questions);
    if (known) {
      // Whatever of this kind is still open would come too late.
      this.cancel(kind);
      return known;
    }
    return new Promise((resolve) => {
      this.waiting.get(kind)?.resolve({ status: 'superseded' });
      this.waiting.delete(kind);
      this.waiting.set(kind, { sheet, questions, resolve });
      void this.next();
    });
  }

  /** The sheet's fields where they are known; whoever waits for others goes on waiting. */
  look(sheet: Sheet): Fields | null {
    return this.known(questionsOf(sheet));
  }

  /**
   * For an ear that waits: where only the places have changed at which the strings cross, and by little, what the pickups
   * were last answered. null where that isn't so, and where the true fields are known.
   */
  near(sheet: Sheet): Fields | null {
    const questions = questionsOf(sheet);
    if (this.known(questions)) return null;
    const found: (FieldAnswer | null)[] = [];
    for (const [i, asked] of questions.entries()) {
      const last = this.last[i];
      const answer = asked && (this.answers.get(asked.key) ?? null);
      if (asked && !answer && !(last && nearlySame(asked.question, last.question))) return null;
      found.push(asked && (answer ?? last!.answer));
    }
    return found;
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

  private known(questions: Asked['questions']): Fields | null {
    const found: (FieldAnswer | null)[] = [];
    for (const asked of questions) {
      const answer = asked ? this.answers.get(asked.key) : null;
      if (answer === undefined) return null;
      found.push(answer);
    }
    this.keep(questions, found);
    return found;
  }

  private keep(questions: Asked['questions'], fields: Fields): void {
    questions.forEach((asked, i) => {
      const answer = fields[i];
      this.last[i] = asked && answer ? { ...asked, answer } : null;
      if (!asked || !answer) return;
      this.answers.delete(asked.key);
      this.answers.set(asked.key, answer);
      if (this.answers.size > KEPT) this.answers.delete(this.answers.keys().next().value!);
    });
  }

  private async next(): Promise<void> {
    if (this.running) return;
    for (const [kind, asked] of this.waiting) {
      const known = this.known(asked.questions);
      if (!known) continue;
      this.waiting.delete(kind);
      asked.resolve({ status: 'done', value: known });
    }
    const [first] = this.waiting;
    if (!first) return;
    const [kind, asked] = first;
    this.waiting.delete(kind);
    this.running = { kind, asked };
    const had = asked.questions.map((one) => (one ? this.answers.get(one.key) : null));
    const wanted = had.map((answer) => answer === undefined);
    const result = await this.lane.request(asked.sheet, { wanted });
    this.running = null;
    if (result.status === 'done') {
      const value = had.map((answer, i) => answer ?? result.value[i] ?? null);
      this.keep(asked.questions, value);
      asked.resolve({ status: 'done', value });
    } else asked.resolve(result);
    void this.next();
  }
}

const questionsOf = (sheet: Sheet): (Question | null)[] =>
  sheet.pickups.map((_, i) => {
    const question = fieldQuestion(sheet, i);
    return question && { key: JSON.stringify(question), question };
  });
