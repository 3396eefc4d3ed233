/**
 * A slow machine on purpose, to find tests that assert before what they are about can be there: LODETONE_SLOW=4 runs
 * the page's thread at a quarter of its speed, LODETONE_LATE=500 hands every job to its worker half a second late.
 */
import type { BrowserContext, Page } from 'playwright-core';

/** How many times slower than this machine. */
const SLOWER = Number(process.env['LODETONE_SLOW'] ?? 1);

/** ms. */
const LATE = Number(process.env['LODETONE_LATE'] ?? 0);

/** To be called before a page of the context is opened. */
export async function slowWorkers(context: BrowserContext): Promise<void> {
  if (!(LATE > 0)) return;
  await context.addInitScript((late) => {
    // eslint-disable-next-line @typescript-eslint/unbound-method -- called with its own `this` below
    const { postMessage } = Worker.prototype;
    Worker.prototype.postMessage = function (this: Worker, ...args: unknown[]): void {
      // Timers of one length keep their order.
      setTimeout(() => {
        Reflect.apply(postMessage, this, args);
      }, late);
    };
  }, LATE);
}

/** To be called before the page goes anywhere. */
export async function slowPage(page: Page): Promise<void> {
  if (!(SLOWER > 1)) return;
  const session = await page.context().newCDPSession(page);
  await session.send('Emulation.setCPUThrottlingRate', { rate: SLOWER });
}
