/** The page's side of the workers: ask for figures or a sound; the newest request wins. */
import type { Prediction, Sound } from '../physics/prediction.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { Lane, type JobResult, type WorkerLike } from './lane.ts';
import type { JobKind } from './protocol.ts';

export type { JobResult, WorkerLike } from './lane.ts';
export type { JobKind } from './protocol.ts';

export interface JobClientOptions {
  /** Makes a worker; for tests. */
  readonly create?: (kind: JobKind) => WorkerLike;
  /** ms for one attempt of one job; 10 s unless given. */
  readonly timeLimit?: number;
}

export class JobClient {
  private readonly figuresLane: Lane<'figures'>;
  private readonly soundLane: Lane<'sound'>;

  constructor({ create = createWorker, timeLimit = 10_000 }: JobClientOptions = {}) {
    this.figuresLane = new Lane('figures', () => create('figures'), timeLimit);
    this.soundLane = new Lane('sound', () => create('sound'), timeLimit);
  }

  /** Never rejects. The sheet must be plain data. */
  figures(sheet: Sheet): Promise<JobResult<Prediction>> {
    return this.figuresLane.request(sheet);
  }

  /** Never rejects. The sheet must be plain data. */
  sound(sheet: Sheet): Promise<JobResult<Sound>> {
    return this.soundLane.request(sheet);
  }

  /** Starts both workers, so that the first request does not wait for them to load. */
  warm(): void {
    this.figuresLane.warm();
    this.soundLane.warm();
  }

  /** Every open request of this kind resolves as superseded. */
  cancel(kind: JobKind): void {
    if (kind === 'figures') this.figuresLane.cancel();
    else this.soundLane.cancel();
  }

  /** Ends both workers; open and later requests resolve as superseded. */
  dispose(): void {
    this.figuresLane.dispose();
    this.soundLane.dispose();
  }
}

function createWorker(): WorkerLike {
  // The bundler compiles the worker only when it sees exactly this expression.
  return new Worker(new URL('./predict.worker.ts', import.meta.url), { type: 'module' });
}
