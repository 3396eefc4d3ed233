import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { inject } from 'vitest';
import { unpackFields } from '../../src/jobs/fieldsFile.ts';
import { computedPreset } from '../fixtures/presetFields.ts';
import { expect, shot, test } from './rig/app.ts';
import { ready } from './rig/hands.ts';
import { atRest } from './rig/rest.ts';

test('the built app opens under the strict policy, drawn and ready to play', async ({ openSheet }) => {
  const { page } = await openSheet('', { fresh: true });
  const opened = await page.evaluate(
    () =>
      new Promise<number>((done) => {
        const look = (): void => {
          const drawn = document.querySelectorAll('main [role="slider"]').length > 0;
          const play = [...document.querySelectorAll('button')].find((b) => b.innerText.trim() === 'play');
          if (drawn && play && !play.disabled) done(performance.now());
          else requestAnimationFrame(look);
        };
        look();
      }),
  );
  console.log(`from navigation to drawn and ready to play: ${opened.toFixed(0)} ms`);
  await ready(page);
  expect(await page.getByRole('main').count()).toBe(1);
  expect(await page.getByRole('heading', { level: 1 }).first().innerText()).not.toBe('');
  expect(await page.title()).toMatch(/Lodetone/);
  await shot(page, 'open');
});

/**
 * In the page, before anything of it: what is asked of which worker. The page waits longer for what comes with it than it would
 * (fieldDesk.ts counts turns of 25 ms), so that a busy machine is no reason to compute it.
 */
function listen(): void {
  const begin = window.setTimeout.bind(window);
  window.setTimeout = ((handler: TimerHandler, delay = 0, ...args: unknown[]) =>
    begin(handler, delay === 25 ? 2500 : delay, ...args)) as typeof window.setTimeout;
  const asked: string[] = [];
  Object.assign(window, { asked });
  window.Worker = class extends Worker {
    override postMessage(message: unknown, ...others: never[]): void {
      asked.push(String((message as { kind?: string }).kind));
      super.postMessage(message, ...others);
    }
  };
}

test('the first preset’s fields come with the page, as they are computed; what follows is computed there', async ({
  openSheet,
}) => {
  const { page } = await openSheet('', { first: listen });
  await atRest(page);
  const asked = await page.evaluate(() => (window as unknown as { asked: string[] }).asked);
  // Later on other gaps of what sounds are made ready.
  const before = asked.slice(0, asked.indexOf('picture'));
  expect(asked).toContain('picture');
  expect(before).not.toContain('field');
  const name = readdirSync(join(inject('dist'), 'assets')).find((file) => file.endsWith('.fields'))!;
  const file = readFileSync(join(inject('dist'), 'assets', name));
  const fields = unpackFields(file.buffer.slice(file.byteOffset, file.byteOffset + file.length));
  expect(fields).toEqual(computedPreset('01-skerry-three-single-coils.json').fields);
});
