/** Web Locks of one browser, as its windows have them: what a window holds goes with it. */
import type { Locks } from '../../src/state/designLock.ts';

interface Request {
  readonly name: string;
  readonly window: object;
  readonly give: () => void;
  readonly refuse: (error: Error) => void;
}

const aborted = (): Error => new DOMException('The request was aborted.', 'AbortError');

export class FakeLocks {
  readonly #held = new Map<string, Request>();
  #waiting: Request[] = [];

  /** As one window sees them. */
  of(window: object): Locks {
    const request = (
      name: string,
      options: LockOptions,
      act: (lock: Lock | null) => unknown,
    ): Promise<unknown> =>
      new Promise((resolve, reject) => {
        const asked: Request = {
          name,
          window,
          refuse: reject,
          give: () => {
            this.#held.set(name, asked);
            void Promise.resolve(act({ name, mode: 'exclusive' })).then((value) => {
              if (this.#held.get(name) === asked) this.#free(name);
              resolve(value);
            }, reject);
          },
        };
        const { signal } = options;
        signal?.addEventListener('abort', () => {
          if (!this.#waiting.includes(asked)) return;
          this.#waiting = this.#waiting.filter((one) => one !== asked);
          reject(aborted());
        });
        const holder = this.#held.get(name);
        queueMicrotask(() => {
          if (holder && options.steal) {
            this.#held.delete(name);
            holder.refuse(aborted());
            asked.give();
          } else if (!this.#held.has(name)) asked.give();
          else if (options.ifAvailable) void Promise.resolve(act(null)).then(resolve, reject);
          else this.#waiting.push(asked);
        });
      });
    return { request: request as Locks['request'] };
  }

  /** The window has ended, or crashed. */
  end(window: object): void {
    this.#waiting = this.#waiting.filter((one) => one.window !== window);
    for (const [name, held] of this.#held) if (held.window === window) this.#free(name);
  }

  #free(name: string): void {
    this.#held.delete(name);
    const next = this.#waiting.find((one) => one.name === name);
    this.#waiting = this.#waiting.filter((one) => one !== next);
    next?.give();
  }
}
