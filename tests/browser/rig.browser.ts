/** The browser tests trust their rig to notice trouble; here it is made on purpose. */
import { expect, test } from './rig/app.ts';
import { soon } from './rig/hands.ts';

test('an error on the console and an uncaught exception are problems', async ({ openSheet }) => {
  const { page, problems } = await openSheet();
  await page.evaluate(() => {
    console.error('planted');
    setTimeout(() => {
      throw new Error('thrown');
    });
  });
  await soon(() => problems.join('; ')).toMatch(/console error: planted; uncaught: .*thrown/);
  problems.splice(0);
});

/** The server's and the page's own: each reports a breach by itself. */
const POLICIES = 2;

test('inline style and eval are refused and reported', async ({ openSheet }) => {
  const { page, problems } = await openSheet();
  await page.evaluate(() => {
    const style = document.createElement('style');
    style.textContent = 'body { color: red }';
    document.head.append(style);
  });
  await soon(() => problems.filter((p) => p.startsWith('policy: style-src-elem')).length).toBe(POLICIES);
  const evaluated = await page.evaluate(
    () =>
      new Promise((done) => {
        // From a timer: what the debugger itself evaluates is exempt from the policy.
        setTimeout(() => {
          try {
            // eslint-disable-next-line @typescript-eslint/no-implied-eval -- that it is refused is what is tested
            done(new Function('return 1')());
          } catch (error) {
            done(error instanceof EvalError);
          }
        });
      }),
  );
  expect(evaluated).toBe(true);
  await soon(() => problems.filter((p) => p.startsWith('policy: script-src')).length).toBe(POLICIES);
  problems.splice(0);
});

test('a request or socket to elsewhere is refused and reported', async ({ openSheet }) => {
  const { page, problems } = await openSheet();
  await page.evaluate(async () => {
    await fetch('https://example.invalid/').catch(() => undefined);
  });
  await soon(() => problems.join()).toMatch(/policy: connect-src refused https:\/\/example\.invalid\//);
  problems.splice(0);
});

test('without the policy a request to elsewhere still never leaves', async ({ openSheet }) => {
  const { page, problems } = await openSheet('', { bypassCSP: true });
  await page.evaluate(async () => {
    await fetch('https://example.invalid/').catch(() => undefined);
    new WebSocket('wss://example.invalid/');
  });
  await soon(() => problems.join()).toMatch(
    /request to elsewhere: https:\/\/example\.invalid\/.*socket to wss:\/\/example\.invalid\//,
  );
  problems.splice(0);
});

test('a request to elsewhere from inside a worker is refused and reported', async ({ openSheet }) => {
  const { page, problems } = await openSheet();
  const worker = page.workers()[0] ?? (await page.waitForEvent('worker'));
  await worker.evaluate(async () => {
    await fetch('https://example.invalid/').catch(() => undefined);
  });
  await soon(() => problems.join()).toMatch(
    /policy: connect-src refused https:\/\/example\.invalid\/? in .*\.worker-.*\.js/,
  );
  problems.splice(0);
});
