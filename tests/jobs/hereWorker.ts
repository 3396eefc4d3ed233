import { answer, type Had } from '../../src/jobs/answer.ts';
import type { JobKind, WorkerLike } from '../../src/jobs/client.ts';
import { liveDoor } from '../../src/jobs/liveDoor.ts';
import { physicsDoor } from '../../src/jobs/physicsDoor.ts';
import type { JobRequest } from '../../src/jobs/protocol.ts';
import { restDoor } from '../../src/jobs/restDoor.ts';
import { FieldSolver } from '../../src/physics/field.ts';

const doorOf = (solver: FieldSolver) => ({
  ...physicsDoor(solver),
  ...liveDoor(() => null, solver),
  ...restDoor(solver),
});

/** A worker in this thread: what it is sent and what it says is cloned, and it does one thing after the other. */
export class HereWorker extends EventTarget implements WorkerLike {
  /** Kinds of the jobs that it has done. */
  readonly done: JobKind[] = [];
  readonly #door = doorOf(new FieldSolver());
  readonly #had: Had = new Map();

  postMessage(message: unknown): void {
    const request = structuredClone(message) as JobRequest;
    setTimeout(() => {
      const { response, transfer } = answer(request, this.#door, this.#had);
      this.done.push(request.kind);
      this.dispatchEvent(new MessageEvent('message', { data: structuredClone(response, { transfer }) }));
    });
  }

  terminate(): void {}
}
