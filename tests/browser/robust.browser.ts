/** What a browser, a host or a worker may do to the page without a word. */
import { expect, test } from './rig/app.ts';
import { button, CABLE, changed, curves, field, figure, ready, said, setCable, soon } from './rig/hands.ts';
import { atRest } from './rig/rest.ts';

/** In the page: as under a policy that lets a sound begin within a gesture only, until it is let. */
function holdBack(): void {
  const outputs: AudioContext[] = [];
  const Plain = AudioContext;
  // eslint-disable-next-line @typescript-eslint/unbound-method -- called with its own `this` below
  const { resume } = Plain.prototype;
  const own = Object.getOwnPropertyDescriptor(window, 'AudioContext')!;
  const end = new AbortController();
  let gesture = false;
  for (const type of ['pointerdown', 'keydown'])
    addEventListener(
      type,
      () => {
        gesture = true;
        setTimeout(() => (gesture = false));
      },
      { capture: true, signal: end.signal },
    );
  Plain.prototype.resume = function (this: AudioContext): Promise<void> {
    return gesture ? Reflect.apply(resume, this, []) : new Promise(() => {});
  };
  window.AudioContext = class extends Plain {
    constructor(options?: AudioContextOptions) {
      super(options);
      outputs.push(this);
    }
  };
  const letGo = (): void => {
    end.abort();
    Plain.prototype.resume = resume;
    Object.defineProperty(window, 'AudioContext', own);
  };
  Object.assign(window, { outputs, letGo });
}

test('a sound that is held back begins with a click on the sheet, and with a key', async ({ openSheet }) => {
  const { page } = await openSheet();
  await ready(page);
  await page.evaluate(holdBack);
  const hold = (): Promise<void> =>
    page.evaluate(() => (window as unknown as { outputs: AudioContext[] }).outputs.at(-1)!.suspend());
  const state = (): Promise<string> =>
    page.evaluate(() => (window as unknown as { outputs: AudioContext[] }).outputs.at(-1)!.state);
  await button(page, 'play').first().click();
  await soon(state).toBe('running');
  const back = page.getByText(/holds the sound back/).first();
  for (const rouse of [
    () => page.getByRole('heading', { level: 1 }).click(),
    () => page.keyboard.press('Shift'),
    () => page.keyboard.press('Space'),
  ]) {
    await page.evaluate(() => (document.activeElement as HTMLElement).blur());
    await hold();
    await back.waitFor();
    await rouse();
    await soon(state).toBe('running');
    await back.waitFor({ state: 'hidden' });
    expect(await button(page, 'stop').first().isVisible()).toBe(true);
  }
  await page.evaluate(() => {
    (window as unknown as { letGo: () => void }).letGo();
  });
});

test('a worker that ends without a word is replaced at once, and what it was to compute is computed', async ({
  openSheet,
}) => {
  const { page } = await openSheet();
  await ready(page);
  await atRest(page);
  const before = await curves(page);
  for (const worker of page.workers())
    await worker.evaluate(() => {
      close();
    });
  const begun = Date.now();
  await setCable(page, 14.3);
  await changed(page, before);
  const took = Date.now() - begun;
  console.log(`figures after all workers had ended: ${took} ms`);
  // One that hangs is given thirty seconds.
  expect(took).toBeLessThan(30_000);
  await atRest(page);
});

test('on a host that sends no header the page keeps to its policy', async ({ openSheet }) => {
  const { page, address, problems } = await openSheet('', { fresh: true });
  // Workers that load still would be heard below, with the header.
  await ready(page);
  await atRest(page);
  const headers: (string | undefined)[] = [];
  await page.route(`${address}**`, async (route) => {
    const response = await route.fetch();
    const { 'content-security-policy': _, ...rest } = response.headers();
    await route.fulfill({ response, headers: rest });
  });
  page.on('response', (response) => headers.push(response.headers()['content-security-policy']));
  await page.reload();
  await ready(page);
  await atRest(page);
  expect(headers.length).toBeGreaterThan(1);
  expect(new Set(headers)).toEqual(new Set([undefined]));
  expect(problems).toEqual([]);
  await page.evaluate(() => {
    const style = document.createElement('style');
    style.textContent = 'body { color: red }';
    document.head.append(style);
    const script = document.createElement('script');
    script.textContent = 'window.reached = true';
    document.head.append(script);
  });
  await soon(() => problems.filter((p) => /^policy: (style|script)-src-elem refused/.test(p)).length).toBe(2);
  expect(await page.evaluate(() => 'reached' in window)).toBe(false);
  problems.splice(0);
  const notes = await page.request.get(`${address}.vite/manifest.json`);
  expect(notes.status()).toBe(404);
  // What a worker loads once the test has ended is nobody's any more, whether it was fetched already or not.
  await page.unrouteAll({ behavior: 'ignoreErrors' });
});

test('what nobody sees in a title is left out, with a sentence', async ({ openSheet }) => {
  const { page } = await openSheet();
  await ready(page);
  await field(page, 'title').fill('neck \u202Eretfa\u202C the change');
  await field(page, 'title').press('Enter');
  await soon(() => said(page)).toMatch(/no invisible control characters; U\+202E, U\+202C were left out/);
  expect(await figure(page, 'title')).toBe('neck retfa the change');
  // Also where nothing of it is left that would be a change.
  await field(page, 'title').fill('neck retfa\u2066 the change');
  await field(page, 'title').press('Enter');
  await soon(() => figure(page, 'title')).toBe('neck retfa the change');
  expect(await figure(page, CABLE)).not.toBe('');
});
