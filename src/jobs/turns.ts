/**
 * Several lanes at one worker: each has a seat that looks like a worker of its own, and one job at a time is handed on, the
 * most urgent first. When the worker is lost, every seat hears of it, and each lane begins again with a fresh one.
 */
import type { WorkerLike } from './lane.ts';
import type { JobRequest, JobResponse, WorkerSign } from './protocol.ts';

interface Asked {
  readonly seat: Seat;
  readonly request: JobRequest;
}

/** What a lane holds. */
class Seat extends EventTarget implements WorkerLike {
  readonly rank: number;
  readonly #turns: Turns;

  constructor(turns: Turns, rank: number) {
    super();
    this.#turns = turns;
    this.rank = rank;
  }

  /** @throws DataCloneError like a worker's own, when the job is handed on at once */
  postMessage(request: JobRequest): void {
    this.#turns.ask({ seat: this, request });
  }

  terminate(): void {
    this.#turns.leave(this);
  }

  hear(data: JobResponse | WorkerSign): void {
    this.dispatchEvent(new MessageEvent('message', { data }));
  }
}

/** One worker, made when it is first needed. */
export class Turns {
  readonly #create: () => WorkerLike;
  readonly #seats = new Set<Seat>();
  #worker: WorkerLike | null = null;
  #waiting: Asked[] = [];
  #running: Asked | null = null;
  /** Lanes count for themselves; a worker that has them all must be able to tell their jobs apart. */
  #id = 0;

  constructor(create: () => WorkerLike) {
    this.#create = create;
  }

  /** @param rank of its jobs among those that wait; the lowest is next. @throws what making a worker throws */
  seat(rank: number): WorkerLike {
    this.#start();
    const seat = new Seat(this, rank);
    this.#seats.add(seat);
    return seat;
  }

  /** @throws what the worker's `postMessage` throws, unless others wait before it */
  ask(asked: Asked): void {
    if (!this.#running && this.#waiting.length === 0) {
      this.#hand(asked);
      return;
    }
    this.#waiting = [...this.#waiting, asked].sort((a, b) => a.seat.rank - b.seat.rank);
    // Who waits behind another must not take the worker for a dead one: that is for the other to find out.
    asked.seat.hear({ sign: 'begun' });
  }

  /** The worker is given up when it is this seat's job that it has; what others had asked for is theirs to ask again. */
  leave(seat: Seat): void {
    this.#seats.delete(seat);
    this.#waiting = this.#waiting.filter((asked) => asked.seat !== seat);
    if (this.#running?.seat === seat || this.#seats.size === 0) this.#end(new Event('error'));
  }

  #hand(asked: Asked): void {
    this.#start().postMessage({ ...asked.request, id: ++this.#id });
    this.#running = asked;
  }

  #next(): void {
    while (!this.#running) {
      const asked = this.#waiting.shift();
      if (!asked) return;
      try {
        this.#hand(asked);
      } catch (error) {
        const message = `The sheet could not be handed over: ${String(error)}`;
        asked.seat.hear({ id: asked.request.id, ok: false, message, faults: [] });
      }
    }
  }

  #start(): WorkerLike {
    if (this.#worker) return this.#worker;
    const worker = this.#create();
    worker.addEventListener('message', this.#onMessage);
    worker.addEventListener('error', this.#onTrouble);
    worker.addEventListener('messageerror', this.#onTrouble);
    this.#worker = worker;
    return worker;
  }

  #end(event: Event): void {
    const worker = this.#worker;
    this.#worker = null;
    this.#running = null;
    this.#waiting = [];
    worker?.removeEventListener('message', this.#onMessage);
    worker?.removeEventListener('error', this.#onTrouble);
    worker?.removeEventListener('messageerror', this.#onTrouble);
    worker?.terminate();
    const seats = [...this.#seats];
    this.#seats.clear();
    const { message } = event as Partial<ErrorEvent>;
    for (const seat of seats) seat.dispatchEvent(Object.assign(new Event(event.type), { message }));
  }

  readonly #onMessage = (event: Event): void => {
    const { data } = event as MessageEvent<JobResponse | WorkerSign>;
    const running = this.#running;
    if ('sign' in data) {
      running?.seat.hear(data);
      return;
    }
    if (!running || data.id !== this.#id) return;
    this.#running = null;
    running.seat.hear({ ...data, id: running.request.id });
    this.#next();
  };

  readonly #onTrouble = (event: Event): void => {
    event.preventDefault();
    this.#end(event);
  };
}
