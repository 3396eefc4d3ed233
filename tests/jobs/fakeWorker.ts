import type { WorkerLike } from '../../src/jobs/client.ts';
import type { JobRequest } from '../../src/jobs/protocol.ts';
import type { Place } from '../../src/jobs/workers.ts';

/** A worker that does what the test tells it to. */
export class FakeWorker extends EventTarget implements WorkerLike {
  readonly kind: Place;
  readonly received: JobRequest[] = [];
  readonly moved: Transferable[] = [];
  terminated = false;
  /** Thrown by the next postMessage. */
  refuses: Error | null = null;

  constructor(kind: Place) {
    super();
    this.kind = kind;
  }

  postMessage(message: unknown, transfer: Transferable[] = []): void {
    if (this.terminated) throw new Error('A terminated worker must not be used.');
    if (this.refuses) throw this.refuses;
    this.received.push(structuredClone(message) as JobRequest);
    this.moved.push(...transfer);
  }

  terminate(): void {
    this.terminated = true;
  }

  /** Answers a request, the last one unless given, with a value that can be told from others. */
  answer(value: unknown, id = this.received.at(-1)!.id): void {
    this.dispatchEvent(new MessageEvent('message', { data: { id, ok: true, value } }));
  }

  /** Says that it has begun. */
  begin(): void {
    this.dispatchEvent(new MessageEvent('message', { data: { sign: 'begun' } }));
  }

  complain(message: string): void {
    const { id } = this.received.at(-1)!;
    this.dispatchEvent(new MessageEvent('message', { data: { id, ok: false, message } }));
  }

  crash(message: string): void {
    this.dispatchEvent(Object.assign(new Event('error', { cancelable: true }), { message }));
  }

  garble(): void {
    this.dispatchEvent(new MessageEvent('messageerror'));
  }
}

/** A factory that keeps what it has made. */
export function workshop(): { create: (kind: Place) => FakeWorker; made: FakeWorker[] } {
  const made: FakeWorker[] = [];
  return {
    made,
    create: (kind) => {
      const worker = new FakeWorker(kind);
      made.push(worker);
      return worker;
    },
  };
}
