/** Knows when the page has nothing left to compute. */
import type { BrowserContext, Page } from 'playwright-core';

interface Jobs {
  /** Jobs that are with a worker and not answered. */
  readonly open: () => number;
}

type Window_ = { jobs: Jobs };

/**
 * Times that the page's clock is looked at, and ms between: together longer than the page waits for a hand to come to
 * rest, 0.3 s. Looks are counted, not time, because on a slow machine the page's own timers come late as well.
 */
const LOOKS = 20;
const BETWEEN = 20;

/** To be called before a page of the context is opened. */
export async function countJobs(context: BrowserContext): Promise<void> {
  await context.addInitScript(() => {
    const all = new Map<Worker, Set<number>>();
    // eslint-disable-next-line @typescript-eslint/unbound-method -- called with their own `this` below
    const { postMessage, terminate } = Worker.prototype;
    Worker.prototype.postMessage = function (this: Worker, ...args: unknown[]): void {
      const { id } = args[0] as { id?: number };
      if (id !== undefined) {
        if (!all.has(this))
          this.addEventListener('message', ({ data }: MessageEvent<{ id: number }>) => {
            all.get(this)?.delete(data.id);
          });
        all.set(this, (all.get(this) ?? new Set()).add(id));
      }
      Reflect.apply(postMessage, this, args);
    };
    Worker.prototype.terminate = function (this: Worker): void {
      all.delete(this);
      Reflect.apply(terminate, this, []);
    };
    const jobs: Jobs = { open: () => [...all.values()].reduce((sum, ids) => sum + ids.size, 0) };
    Object.assign(window, { jobs });
  });
}

/** Waits until everything is computed, also what waits for the hand to come to rest, and drawn. */
export const atRest = (page: Page): Promise<void> =>
  page.evaluate(
    async ([looks, between]) => {
      const { jobs } = window as unknown as Window_;
      for (let idle = 0; idle < looks; idle++) {
        await new Promise((resolve) => setTimeout(resolve, between));
        if (jobs.open() > 0) idle = 0;
      }
      await new Promise((resolve) => requestAnimationFrame(resolve));
    },
    [LOOKS, BETWEEN] as const,
  );
