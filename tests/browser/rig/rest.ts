/** Knows when the page has nothing left to compute. */
import type { BrowserContext, Page } from 'playwright-core';

interface Rest {
  /** How many jobs are with a worker and not answered, and timers that the page waits for. */
  readonly open: () => number;
  /** When there are none. */
  readonly none: () => Promise<void>;
}

type Window_ = { rest: Rest };

/** ms; the page waits for a hand to come to rest for 0.3 s. What it puts off for longer belongs to no gesture. */
const SOON = 1000;

/** Frames in a row in which nothing may be open: an answer is drawn in one, and asks for the next thing before that. */
const FRAMES = 3;

/** To be called before a page of the context is opened. */
export async function countWork(context: BrowserContext): Promise<void> {
  await context.addInitScript((soon) => {
    const all = new Map<Worker, Set<number>>();
    const timers = new Set<number>();
    const open = (): number => [...all.values()].reduce((sum, ids) => sum + ids.size, timers.size);
    const waiting: (() => void)[] = [];
    const tell = (): void => {
      if (open() === 0) for (const go of waiting.splice(0)) go();
    };
    // eslint-disable-next-line @typescript-eslint/unbound-method -- called with their own `this` below
    const { postMessage, terminate } = Worker.prototype;
    Worker.prototype.postMessage = function (this: Worker, ...args: unknown[]): void {
      const { id } = args[0] as { id?: number };
      if (id !== undefined) {
        if (!all.has(this))
          this.addEventListener('message', ({ data }: MessageEvent<{ id: number }>) => {
            all.get(this)?.delete(data.id);
            tell();
          });
        all.set(this, (all.get(this) ?? new Set()).add(id));
      }
      Reflect.apply(postMessage, this, args);
    };
    Worker.prototype.terminate = function (this: Worker): void {
      all.delete(this);
      tell();
      Reflect.apply(terminate, this, []);
    };

    const begin = window.setTimeout.bind(window);
    const end = window.clearTimeout.bind(window);
    const begun = (handler: TimerHandler, delay = 0, ...args: unknown[]): number => {
      if (typeof handler !== 'function' || !(delay < soon)) return begin(handler, delay, ...args);
      const id = begin(() => {
        // What the timer begins is counted before the timer itself is not any more.
        try {
          handler(...args);
        } finally {
          timers.delete(id);
          tell();
        }
      }, delay);
      timers.add(id);
      return id;
    };
    window.setTimeout = begun as typeof window.setTimeout;
    window.clearTimeout = (id) => {
      if (typeof id === 'number') timers.delete(id);
      tell();
      end(id);
    };

    const none = (): Promise<void> =>
      open() === 0 ? Promise.resolve() : new Promise((resolve) => waiting.push(resolve));
    const rest: Rest = { open, none };
    Object.assign(window, { rest });
  }, SOON);
}

/** Waits until everything is computed, also what waits for the hand to come to rest, and drawn. */
export const atRest = (page: Page): Promise<void> =>
  page.evaluate(async (frames) => {
    const { rest } = window as unknown as Window_;
    // Messages and answers have their turn between two frames.
    const frame = (): Promise<unknown> =>
      new Promise((resolve) =>
        requestAnimationFrame(() => {
          const { port1, port2 } = new MessageChannel();
          port1.onmessage = resolve;
          port2.postMessage(null);
        }),
      );
    for (let idle = 0; idle < frames; idle++) {
      await frame();
      if (rest.open() === 0) continue;
      // No frames meanwhile: there are dozens of them, and each is drawn.
      await rest.none();
      idle = -1;
    }
    await frame();
  }, FRAMES);
