import { expect, shot, test } from './rig/app.ts';
import { ready } from './rig/hands.ts';

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
