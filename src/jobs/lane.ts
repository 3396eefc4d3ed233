/**
 * One worker and its queue of one. A job that has begun is finished and delivered, so that a picture keeps moving
 * during a drag; of those that wait, only the newest stays. Results therefore arrive in the order of their requests.
 */
import type {
  SheetFault,
  JobInput,
  JobKind,
  JobRequest,
  JobResponse,
  JobValue,
  WorkerSign,
} from './protocol.ts';
import type { Fields } from '../physics/heard/fieldAnswer.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { spare } from './sparing.ts';

/** How a request ended. */
export type JobResult<T> =
  | { readonly status: 'done'; readonly value: T }
  /** A newer request took its place, it was cancelled, or the client was disposed of. */
  | { readonly status: 'superseded' }
  /** `message` is a sentence for the screen; `faults` says which figures of a build it is about. */
  | { readonly status: 'failed'; readonly message: string; readonly faults?: readonly SheetFault[] };

/** What the client needs of a Worker. */
export interface WorkerLike {
  postMessage(message: unknown, transfer?: Transferable[]): void;
  addEventListener(type: string, listener: (event: Event) => void): void;
  removeEventListener(type: string, listener: (event: Event) => void): void;
  terminate(): void;
}

interface Job<K extends JobKind> {
  readonly id: number;
  readonly sheet: Sheet;
  readonly input: JobInput[K];
  readonly fields: Fields | null;
  readonly resolve: (result: JobResult<JobValue[K]>) => void;
  attempts: number;
}

/** A worker that fails or hangs is replaced, and the job tried once more. */
const ATTEMPTS = 2;

/**
 * ms within which a worker that has once spoken says that it has begun a job: it does so before it computes anything, so
 * this is no limit of the job. A page that was itself held up hears late, and looks once more.
 */
const SILENCE = 3000;
const ONCE_MORE = 300;

/** The worker of one kind of job; made anew after a failure. */
export class Lane<K extends JobKind> {
  private readonly kind: K;
  private readonly create: () => WorkerLike;
  private readonly timeLimit: number;
  private worker: WorkerLike | null = null;
  /** Which fields this worker has. */
  private had: Fields | null = null;
  private running: Job<K> | null = null;
  private waiting: Job<K> | null = null;
  private timer: ReturnType<typeof setTimeout> | undefined;
  private silence: ReturnType<typeof setTimeout> | undefined;
  /** Whether this worker has ever said anything: until then it may be loading still. */
  private spoken = false;
  private nextId = 1;
  private disposed = false;

  /** @param timeLimit ms from handing a job to the worker to its answer */
  constructor(kind: K, create: () => WorkerLike, timeLimit: number) {
    this.kind = kind;
    this.create = create;
    this.timeLimit = timeLimit;
  }

  /** @param fields of the sheet's pickups; null has the worker find what it needs */
  request(sheet: Sheet, input: JobInput[K], fields: Fields | null = null): Promise<JobResult<JobValue[K]>> {
    if (this.disposed) return Promise.resolve({ status: 'superseded' });
    return new Promise((resolve) => {
      this.waiting?.resolve({ status: 'superseded' });
      this.waiting = { id: this.nextId++, sheet, input, fields, resolve, attempts: 0 };
      this.next();
    });
  }

  /** Starts the worker ahead of the first request, so that loading it costs no waiting. */
  warm(): void {
    if (this.disposed || this.worker) return;
    try {
      this.start();
    } catch {
      // The first request meets the same trouble and reports it.
    }
  }

  /** Whether nothing is asked of it. */
  get idle(): boolean {
    return !this.running && !this.waiting && !this.disposed;
  }

  /** Says something to the worker that asks for no answer; a fresh one, after a crash, does not know it any more. */
  tell(message: unknown, transfer: Transferable[]): void {
    this.warm();
    this.worker?.postMessage(message, transfer);
  }

  /** Lets go of all requests. What the worker has begun ends unheard. */
  cancel(): void {
    this.waiting?.resolve({ status: 'superseded' });
    this.waiting = null;
    this.running?.resolve({ status: 'superseded' });
  }

  /** Ends the worker; every request from now on is superseded. */
  dispose(): void {
    this.disposed = true;
    this.cancel();
    this.running = null;
    this.stop();
  }

  private next(): void {
    if (this.running || !this.waiting) return;
    this.running = this.waiting;
    this.waiting = null;
    this.attempt(this.running);
  }

  private attempt(job: Job<K>): void {
    job.attempts++;
    let worker: WorkerLike;
    try {
      worker = this.worker ?? this.start();
    } catch (error) {
      this.finish(job, {
        status: 'failed',
        message: `The calculation could not be started: ${reason(error)}`,
      });
      return;
    }
    this.timer = setTimeout(() => {
      this.lost(`The calculation took longer than ${this.timeLimit / 1000} s and was stopped.`);
    }, this.timeLimit);
    if (this.spoken) this.silence = setTimeout(this.listenAgain, SILENCE);
    const { id, sheet, input, fields } = job;
    const sent = fields && spare(fields, this.had);
    const request: JobRequest<K> = { id, kind: this.kind, sheet, input, fields: sent };
    try {
      worker.postMessage(request);
      this.had = fields ?? this.had;
    } catch (error) {
      // Data that can't be cloned stays so on a fresh worker: no second attempt.
      this.finish(job, { status: 'failed', message: `The sheet could not be handed over: ${reason(error)}` });
    }
  }

  private start(): WorkerLike {
    const worker = this.create();
    worker.addEventListener('message', this.onMessage);
    worker.addEventListener('error', this.onError);
    worker.addEventListener('messageerror', this.onMessageError);
    this.worker = worker;
    this.had = null;
    this.spoken = false;
    return worker;
  }

  private stop(): void {
    clearTimeout(this.timer);
    clearTimeout(this.silence);
    const worker = this.worker;
    if (!worker) return;
    this.worker = null;
    worker.removeEventListener('message', this.onMessage);
    worker.removeEventListener('error', this.onError);
    worker.removeEventListener('messageerror', this.onMessageError);
    worker.terminate();
  }

  private finish(job: Job<K>, result: JobResult<JobValue[K]>): void {
    clearTimeout(this.timer);
    clearTimeout(this.silence);
    this.running = null;
    job.resolve(result);
    this.next();
  }

  /** The worker has crashed or hangs: a fresh one gets the newest request, or the same once more. */
  private lost(message: string): void {
    this.stop();
    const job = this.running;
    if (!job) return;
    if (this.waiting) this.finish(job, { status: 'superseded' });
    else if (job.attempts < ATTEMPTS) this.attempt(job);
    else this.finish(job, { status: 'failed', message });
  }

  private readonly onMessage = (event: Event): void => {
    this.spoken = true;
    clearTimeout(this.silence);
    const response = (event as MessageEvent<JobResponse<K> | WorkerSign>).data;
    const job = this.running;
    if (!job || 'sign' in response || response.id !== job.id) return;
    if (response.ok) this.finish(job, { status: 'done', value: response.value });
    else this.finish(job, { status: 'failed', message: response.message, faults: response.faults });
  };

  private readonly listenAgain = (): void => {
    this.silence = setTimeout(() => {
      this.lost('The calculation fell silent and was stopped. Reload the page if it happens again.');
    }, ONCE_MORE);
  };

  private readonly onError = (event: Event): void => {
    event.preventDefault();
    const detail = (event as Partial<ErrorEvent>).message;
    this.lost(
      `The calculation broke off${detail ? `: ${detail}` : '.'} Reload the page if it happens again.`,
    );
  };

  private readonly onMessageError = (): void => {
    this.lost('The result of the calculation could not be read. Reload the page if it happens again.');
  };
}

function reason(error: unknown): string {
  return error instanceof Error && error.message ? error.message : String(error);
}
