/**
 * How the page learns that a worker has ended without a word, as one does that runs out of memory: each holds a lock of its
 * own name (Web Locks), the page waits for the same lock, and gets it when the worker is no more.
 */
import type { WorkerLike } from './lane.ts';
import type { WorkerSign } from './protocol.ts';

/** The browser's locks; undefined in one that has none, or has none for a page that isn't served securely. */
export function lifelines(): LockManager | undefined {
  return (navigator as { locks?: LockManager }).locks;
}

let count = 0;

/** A name that no worker of any page has. */
export const lifelineName = (): string => `lodetone.worker.${Date.now()}.${Math.random()}.${++count}`;

/** Has a worker of that name report its end as an error, like any other. */
export function watchEnd<T extends WorkerLike & EventTarget>(worker: T, name: string): T {
  const wait = ({ data }: MessageEvent<Partial<WorkerSign>>): void => {
    if (data.sign !== 'held') return;
    worker.removeEventListener('message', wait as EventListener);
    void lifelines()?.request(name, () => {
      worker.dispatchEvent(
        Object.assign(new Event('error', { cancelable: true }), { message: 'it ended by itself' }),
      );
    });
  };
  worker.addEventListener('message', wait as EventListener);
  return worker;
}
