/**
 * Keeps the fields of pickups for the jobs that need them: a field takes longest, and changes only with geometry. One
 * worker computes them; of the requests that wait, only the newest of each kind stays.
 */
import type { FieldAnswer, Fields } from '../physics/heard/fieldAnswer.ts';
import type * as Between from '../physics/betweenHeights.ts';
import type { KnownField } from '../physics/betweenHeights.ts';
import {
  chargesKey,
  fieldQuestion,
  nearlySame,
  withoutHeights,
  type FieldQuestion,
} from '../physics/fieldQuestion.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { Known } from './known.ts';
import type { JobResult, Lane } from './lane.ts';
import type { JobKind } from './protocol.ts';

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

/**
 * How long a request waits for fields that are expected from elsewhere: so many turns of the page of so many ms. While it is busy,
 * as when it opens, they may lie there already and can't be heard of.
 */
const TURNS = 12;
const TURN = 25;

/** The last answers, and one request of each kind of job that waits for a field. */
export class FieldDesk {
  private readonly lane: Lane<'field'>;
  private readonly answers: Known['fields'];
  private readonly charges: Known['charges'];
  /** What each pickup was last answered. */
  private readonly last: ((Question & { readonly answer: FieldAnswer }) | null)[] = [];
  private readonly waiting = new Map<JobKind, Asked>();
  /** `kind` is null for what nobody waits for. */
  private running: { readonly kind: JobKind | null; readonly asked: Asked } | null = null;
  /** Sheets of which one pickup at a time is to be known, while nothing is asked for. */
  private climbing: { readonly sheet: Sheet; readonly pickup: number }[] = [];
  private climbs = 0;
  private expecting = false;
  /** Loaded with the first climb: before it there is nothing to be between. */
  private between: typeof Between | null = null;

  constructor(lane: Lane<'field'>, { fields, charges } = new Known()) {
    this.lane = lane;
    this.answers = fields;
    this.charges = charges;
  }

  /**
   * Fields of this sheet come from elsewhere, those that its own worker would compute; what is asked for waits a moment for
   * them. @param load null, or a failure: there are none
   */
  expect(sheet: Sheet, load: () => Promise<Fields | null>): void {
    const questions = questionsOf(sheet);
    if (this.known(questions)) return;
    this.expecting = true;
    const ask = (): void => {
      this.expecting = false;
      void this.next();
    };
    let left = TURNS;
    let late = setTimeout(function wait() {
      left--;
      if (left > 0) late = setTimeout(wait, TURN);
      else ask();
    }, TURN);
    void load()
      .then(
        (fields) => {
          questions.forEach((asked, i) => {
            const answer = fields?.[i];
            if (asked && answer) this.store(asked, answer);
          });
        },
        () => undefined,
      )
      .finally(() => {
        clearTimeout(late);
        ask();
      });
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
   * For who wants the charges of one pickup alone: its own answer or one that holds the same, the others left out; null
   * where there is none.
   */
  charged(sheet: Sheet, pickup: number): Fields | null {
    const question = fieldQuestion(sheet, pickup);
    const answer = question && this.charges.get(chargesKey(question.build));
    return answer ? sheet.pickups.map((_, i) => (i === pickup ? answer : null)) : null;
  }

  /**
   * For an ear that waits: where only the places have changed at which the strings cross, and by little, what the pickups
   * were last answered; where only the strings' heights have, what lies between known ones. A pickup that is not heard only
   * has to be the same but for its heights. null where that isn't so, and where the true fields are known.
   */
  near(sheet: Sheet): Fields | null {
    const questions = questionsOf(sheet);
    if (this.known(questions)) return null;
    const found: (FieldAnswer | null)[] = [];
    for (const [i, asked] of questions.entries()) {
      const answer = asked && this.nearAnswer(asked, this.last[i] ?? null, sheet.pickups[i]!.sounds);
      if (asked && !answer) return null;
      found.push(answer);
    }
    return found;
  }

  private nearAnswer(asked: Question, last: KnownField | null, heard: boolean): FieldAnswer | null {
    const exact = this.answers.get(asked.key);
    if (exact) return exact.answer;
    if (last && nearlySame(asked.question, last.question)) return last.answer;
    const ladder = withoutHeights(asked.question);
    if (!heard && last && withoutHeights(last.question) === ladder) return last.answer;
    return this.between?.betweenHeights(this.onLadder(ladder), asked.question) ?? null;
  }

  private onLadder(ladder: string): readonly KnownField[] {
    return this.answers.all().filter((known) => known.ladder === ladder);
  }

  /**
   * Has what sounds computed at other gaps as well, one after the other, whenever nothing is asked for: then a gap is heard
   * as soon as it is changed. Takes the place of what was still to be done for another sheet. Never rejects: what can't be
   * loaded leaves gaps to their exact fields.
   */
  async climb(sheet: Sheet): Promise<void> {
    this.climbing = [];
    const turn = ++this.climbs;
    const between = this.between ?? (await import('../physics/betweenHeights.ts').catch(() => null));
    if (!between || turn !== this.climbs) return;
    this.between = between;
    this.climbing = questionsOf(sheet).flatMap((asked, i) => {
      const pickup = sheet.pickups[i]!;
      if (!asked || !pickup.build || !pickup.sounds) return [];
      const { build } = pickup;
      const known = this.onLadder(withoutHeights(asked.question)).map(({ question }) => question);
      return between.rungs(asked.question, known).map((by) => {
        const wider = { ...build, gapBass: build.gapBass + by, gapTreble: build.gapTreble + by };
        const pickups = sheet.pickups.map((other, j) => (i === j ? { ...pickup, build: wider } : other));
        return { sheet: { ...sheet, pickups }, pickup: i };
      });
    });
    void this.next();
  }

  /** Lets go of this kind's requests. What the worker has begun is kept for the next. */
  cancel(kind: JobKind): void {
    this.waiting.get(kind)?.resolve({ status: 'superseded' });
    this.waiting.delete(kind);
    if (this.running?.kind === kind) this.running.asked.resolve({ status: 'superseded' });
  }

  /** Lets go of all requests. */
  dispose(): void {
    this.climbs++;
    this.climbing = [];
    for (const kind of [...this.waiting.keys()]) this.cancel(kind);
    if (this.running?.kind) this.cancel(this.running.kind);
  }

  private known(questions: Asked['questions']): Fields | null {
    const found: (FieldAnswer | null)[] = [];
    for (const asked of questions) {
      const answer = asked ? this.answers.get(asked.key)?.answer : null;
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
      if (asked && answer) this.store(asked, answer);
    });
  }

  private store({ key, question }: Question, answer: FieldAnswer): void {
    this.answers.put(key, { question, answer, ladder: withoutHeights(question) });
    this.charges.put(chargesKey(question.build), answer);
  }

  private async next(): Promise<void> {
    if (this.running || this.expecting) return;
    for (const [kind, asked] of this.waiting) {
      const known = this.known(asked.questions);
      if (!known) continue;
      this.waiting.delete(kind);
      asked.resolve({ status: 'done', value: known });
    }
    const [first] = this.waiting;
    if (!first) return this.nextRung();
    const [kind, asked] = first;
    this.waiting.delete(kind);
    this.running = { kind, asked };
    const had = asked.questions.map((one) => (one ? this.answers.get(one.key)?.answer : null));
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

  /** What a pole or a cover does not let through is refused, and left out. */
  private async nextRung(): Promise<void> {
    const rung = this.climbing.shift();
    if (!rung) return;
    const { sheet, pickup } = rung;
    const questions = questionsOf(sheet).map((asked, i) => (i === pickup ? asked : null));
    this.running = { kind: null, asked: { sheet, questions, resolve: () => {} } };
    const result = await this.lane.request(sheet, { wanted: questions.map((asked) => asked !== null) });
    this.running = null;
    const answer = result.status === 'done' ? result.value[pickup] : null;
    if (answer) this.store(questions[pickup]!, answer);
    void this.next();
  }
}

const questionsOf = (sheet: Sheet): (Question | null)[] =>
  sheet.pickups.map((_, i) => {
    const question = fieldQuestion(sheet, i);
    return question && { key: JSON.stringify(question), question };
  });
