/** The browser tests trust their rig to notice trouble; here it is made on purpose. */
import type { Page } from 'playwright-core';
import { expect, test } from './rig/app.ts';
import { counts } from './rig/ears.ts';
import { button, CABLE, field, ready, said, setCable, slider, soon, unfoldAll } from './rig/hands.ts';
import { atRest } from './rig/rest.ts';

/** What is refused has nothing to do with what is computed. */
const STILL = { still: true };

test('an error on the console and an uncaught exception are problems', async ({ openSheet }) => {
  const { page, problems } = await openSheet('', STILL);
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
  const { page, problems } = await openSheet('', STILL);
  await page.evaluate(() => {
    const style = document.createElement('style');
    style.textContent = 'body { color: red }';
    document.head.append(style);
    style.remove();
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
  const { page, problems } = await openSheet('', STILL);
  await page.evaluate(async () => {
    await fetch('https://example.invalid/').catch(() => undefined);
  });
  await soon(() => problems.join()).toMatch(/policy: connect-src refused https:\/\/example\.invalid\//);
  problems.splice(0);
});

test('without the policy a request to elsewhere still never leaves', async ({ openSheet }) => {
  const { page, problems } = await openSheet('', { bypassCSP: true, fresh: true });
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
  const { page, problems } = await openSheet('', { fresh: true });
  const worker = page.workers()[0] ?? (await page.waitForEvent('worker'));
  await worker.evaluate(async () => {
    await fetch('https://example.invalid/').catch(() => undefined);
  });
  await soon(() => problems.join()).toMatch(
    /policy: connect-src refused https:\/\/example\.invalid\/? in .*\.worker-.*\.js/,
  );
  problems.splice(0);
});

/** All that a person or a test could tell two pages by, but for what numbers them. */
const stateOf = (page: Page): Promise<object> =>
  page.evaluate(() => ({
    // Names of windows and numbers of elements are made to be unlike; a file once loaded stays in the head.
    html: document.documentElement.outerHTML
      .replace(/<link rel="(modulepreload|stylesheet)"[^>]*>/g, '')
      .replace(/\b([cs]|svelte-\w+-|r)?\d+(?=[-"])/g, '#')
      // Fields that came with the page, and those that it computes where they come late, differ in the last digits.
      .replace(/(\.\d{6})\d+/g, '$1'),
    values: [...document.querySelectorAll('input, select, textarea')].map((e) => {
      const { value, checked } = e as HTMLInputElement;
      return `${e.ariaLabel ?? ''}: ${value} ${checked}`;
    }),
    folds: [...document.querySelectorAll('details')].map(({ open }) => open),
    pictures: [...document.querySelectorAll('canvas')].map((canvas) => canvas.toDataURL()),
    paper: getComputedStyle(document.documentElement).backgroundColor,
    focus: document.activeElement?.tagName,
    selected: getSelection()?.toString(),
    scroll: [
      scrollX,
      scrollY,
      ...[...document.body.querySelectorAll('*')].map((e) => e.scrollLeft + e.scrollTop),
    ],
    title: document.title,
    address: location.href,
    size: [innerWidth, innerHeight],
    kept: [localStorage, sessionStorage].map((store) => Object.keys(store).map((key) => key.slice(0, 13))),
  }));

test('a page is left with everything changed that may be', async ({ openSheet }) => {
  const { page } = await openSheet('', { viewport: { width: 900, height: 700 }, colorScheme: 'dark' });
  await ready(page);
  await page.evaluate(() => Object.assign(window, { had: true }));
  await setCable(page, 14.3);
  await button(page, 'day paper').click();
  await page.getByRole('combobox', { name: 'open another sheet' }).selectOption({ index: 2 });
  await page.getByRole('combobox', { name: 'pickup shown in the section' }).selectOption({ index: 1 });
  await page.getByRole('button', { name: /^add a trial/ }).click();
  await unfoldAll(page);
  await button(page, 'undo').click();
  await page.getByRole('combobox', { name: 'what is played' }).selectOption('scale');
  await field(page, CABLE).fill('half typ');
  await slider(page, 'volume').press('Home');
  await field(page, 'title').selectText();
  await page.mouse.wheel(0, 300);
});

test('the next test finds it as a new visitor does', async ({ openSheet }) => {
  const { page } = await openSheet();
  expect(await page.evaluate(() => 'had' in window)).toBe(true);
  const { page: fresh } = await openSheet('', { fresh: true });
  for (const each of [page, fresh]) {
    await ready(each);
    await atRest(each);
  }
  expect(await stateOf(page)).toEqual(await stateOf(fresh));
  // And after a step of which undo and storage know.
  for (const each of [page, fresh]) {
    await setCable(each, 14.3);
    // What keeps designs is loaded with the first change, and is there already where another test made one.
    await soon(() => said(each)).toMatch(/ as «/);
    await atRest(each);
  }
  expect(await stateOf(page)).toEqual(await stateOf(fresh));
});

test('a page on which a test exchanges what the browser has …', async ({ openSheet }) => {
  const { page } = await openSheet();
  await ready(page);
  await page.evaluate(() => {
    Object.assign(window, { spoilt: true });
    window.print = () => undefined;
  });
});

test('… is nobody’s afterwards', async ({ openSheet }) => {
  const { page } = await openSheet();
  expect(await page.evaluate(() => 'spoilt' in window)).toBe(false);
});

test('a page on which something plays …', async ({ openSheet }) => {
  const { page } = await openSheet('', { ears: true });
  await ready(page);
  await button(page, 'play').first().click();
  await soon(() => counts(page)).toMatchObject({ contexts: 1, nodes: 1 });
  await page.evaluate(() => {
    const { ears } = window as unknown as { ears: { contexts: AudioContext[] } };
    Object.assign(window, { played: ears.contexts[0] });
  });
});

test('… is silent for the next, its output given back', async ({ openSheet }) => {
  const { page } = await openSheet('', { ears: true });
  await ready(page);
  const state = (): Promise<string> =>
    page.evaluate(() => (window as unknown as { played: AudioContext }).played.state);
  await soon(state).toBe('closed');
  expect(await counts(page)).toEqual({ contexts: 0, nodes: 0, buffers: 0 });
  expect(await button(page, 'stop').count()).toBe(0);
});
