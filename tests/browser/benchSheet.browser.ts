/** The page for the workbench: one page on either paper, by keyboard, and nothing to object to. */
import type { Page } from 'playwright-core';
import { benchPage, type BenchAsked } from '../../src/benchSheet/benchPage.ts';
import { documentText } from '../../src/benchSheet/html.ts';
import { ROOM } from '../../src/benchSheet/page.ts';
import { pageHeight } from '../../src/benchSheet/room.ts';
import { checkSheet } from '../../src/sheet/check.ts';
import { encodeShortLink } from '../../src/sheet/shortLink.ts';
import type { Sheet } from '../../src/sheet/sheet.ts';
import { wrap } from '../../src/sheet/trials.ts';
import { fullestSheet } from '../fixtures/fullestSheet.ts';
import { PRESETS } from '../fixtures/presets.ts';
import { roughFigures } from '../fixtures/roughFigures.ts';
import { ADDRESS, MM, pagesOf, printOnOnePage, smallPrint, STYLES } from './rig/benchPages.ts';
import { browser } from './rig/browser.ts';
import { breaches, expect, shot, test } from './rig/app.ts';
import { overflow, smallTargets, smallText } from './rig/eyes.ts';
import { button, layOn, ready, soon, type } from './rig/hands.ts';
import { atRest } from './rig/rest.ts';

/** Covers, steel beside the coils, and blades; what the next test fills with readings goes without. All presets: tests/soak/sweeps.browser.soak.ts. */
const KINDS = /^(14|17|18)-/;

test('every pickup of presets with covers, steel and blades is one page of nine points and more, on either paper', async () => {
  const page = await (await browser()).newPage();
  try {
    await printOnOnePage(
      page,
      PRESETS.filter(({ name }) => KINDS.test(name)),
    );
  } finally {
    await page.close();
  }
});

/** Every meter's reading typed, as far off as makes most words. */
function everythingRead(sheet: Sheet, pickup: number): Pick<BenchAsked, 'figures' | 'poles'> {
  const rough = roughFigures(sheet, pickup);
  const rows = sheet.pickups[pickup]!.rows;
  return {
    figures: {
      ...rough,
      wish: {
        ...rough.wish,
        read: { resistance: 11_826, inductance: 11.25, capacitance: 152.4e-12, peak: 10_815 },
      },
      follows: {
        resistance: 0.958,
        inductance: 0.912,
        capacitance: 1.234,
        peak: 0.876,
        turns: { ratio: 0.955, by: 'inductance' },
        wire: 1.021,
        steel: { reckoned: 200, explains: 143.2 },
        coilCapacitance: 228.4e-12,
        beyond: false,
        coils: [],
      },
    },
    poles: {
      tops: rows.map((_, r) => sheet.instrument.strings.map((_, i) => ((i + r) % 2 ? 0.2 : 0.1))),
      up: rows.map(() => 'north'),
    },
  };
}

/** Pairs of words on one drawing that lie over each other by more than a hair. */
const collisions = (page: Page): Promise<string[]> =>
  page.locator('.bench-page svg').evaluateAll((drawings) =>
    drawings.flatMap((svg) => {
      const all = [...svg.querySelectorAll('text')].map((e) => ({ e, box: e.getBoundingClientRect() }));
      const paper = svg.getBoundingClientRect();
      const out = all
        .filter(
          ({ box }) => box.top < paper.top - 1 || box.left < paper.left - 1 || box.right > paper.right + 1,
        )
        .map(({ e }) => `${e.textContent} hangs out`);
      const over = all.flatMap(({ e: a, box: p }, i) =>
        all
          .slice(i + 1)
          .filter(
            ({ box: q }) =>
              Math.min(p.right, q.right) - Math.max(p.left, q.left) > 1 &&
              Math.min(p.bottom, q.bottom) - Math.max(p.top, q.top) > 4,
          )
          .map(({ e: b }) => `${a.textContent} over ${b.textContent}`),
      );
      return [...out, ...over];
    }),
  );

test('whatever stands on it and however much was read, it is one page of nine points, and nothing lies over anything', async () => {
  const page = await (await browser()).newPage();
  try {
    await page.emulateMedia({ media: 'print' });
    const sheets = PRESETS.flatMap(({ name, data }) => {
      const checked = checkSheet(data);
      // Single coils, three of them with controls of their own, two coils, covers, a bass, seven strings.
      return checked.ok && /^(01|07|09|14|15|16)/.test(name) ? [{ name, sheet: checked.sheet }] : [];
    });
    const seven = sheets.at(-1)!.sheet;
    const eight: Sheet = {
      ...seven,
      title: fullestSheet.title,
      notes: fullestSheet.notes,
      pickups: seven.pickups.map((pickup) => ({ ...pickup, name: 'bridge of walnut and brass, third try' })),
    };
    for (const { name, sheet } of [
      ...sheets,
      { name: 'long words', sheet: eight },
      { name: 'the fullest', sheet: fullestSheet },
    ]) {
      const link = `${ADDRESS}#${await encodeShortLink(wrap(sheet))}`;
      for (const pickup of [0, sheet.pickups.length - 1]) {
        const set = benchPage({
          sheet,
          ...everythingRead(sheet, pickup),
          trial: 'trial B of 6',
          date: '27 September 2026',
          link,
          paper: 'Letter',
        });
        await page.setContent(documentText(set, STYLES));
        const { height } = (await page.locator('.bench-page').boundingBox())!;
        expect(height / MM, `${name}, pickup ${pickup + 1}`).toBeLessThan(ROOM.height);
        // What it was set by is no lower than what came of it, but for what is kept free.
        expect(height / MM - pageHeight(set), name).toBeLessThan(5);
        expect(await smallPrint(page), name).toEqual([]);
        const wide = await page.locator('.bench-page').evaluate((e) => e.scrollWidth - e.clientWidth);
        expect(wide, name).toBeLessThanOrEqual(0);
        expect(await collisions(page), name).toEqual([]);
        // What a maker can't do without stays on it.
        for (const title of [
          'Section',
          'Gaps and field',
          'Wiring',
          'Parts',
          'At its leads',
          'Coils',
          'What follows',
          'Cautions',
        ])
          expect(await page.locator('.bench-page h2', { hasText: title }).count(), `${name}: ${title}`).toBe(
            1,
          );
      }
    }
  } finally {
    await page.close();
  }
});

/** What the sheet on the screen says of the chosen pickup. */
async function onScreen(page: Page): Promise<{ coil: string[]; peak: string; field: string[] }> {
  const cell = (name: string): Promise<string> =>
    page
      .getByRole('textbox', { name: `neck coil, ${name}` })
      .evaluate((e) => (e as HTMLInputElement).value || (e as HTMLInputElement).placeholder);
  return {
    coil: [await cell('DC resistance'), await cell('inductance'), await cell('self-capacitance')],
    peak: (await page.locator('.callout text').first().textContent())!
      .replace('resonance ', '')
      .replaceAll(' · ', ', '),
    field: await page
      .locator('section[aria-labelledby="strings-title"] tbody tr td:nth-child(2)')
      .allInnerTexts(),
  };
}

test('by keyboard there and back; its figures are the screen’s; it prints alone', async ({ openSheet }) => {
  const { page } = await openSheet('', { viewport: { width: 1440, height: 900 }, fresh: true });
  await ready(page);
  await atRest(page);
  const seen = await onScreen(page);
  const opener = button(page, 'bench sheet');
  await opener.focus();
  await page.keyboard.press('Enter');
  const view = page.getByRole('main', { name: 'Bench sheet' });
  await soon(() => view.getAttribute('aria-busy')).toBe('false');
  expect(await page.evaluate(() => document.activeElement?.textContent)).toBe('back to the sheet');
  const coils = await view
    .getByRole('table', { name: 'Coils' })
    .locator('tbody tr')
    .first()
    .locator('td')
    .allInnerTexts();
  expect(coils.slice(-3)).toEqual(seen.coil);
  expect(await view.locator('section.table p').filter({ hasText: 'In the guitar' }).innerText()).toContain(
    seen.peak,
  );
  const field = await view
    .getByRole('table', { name: 'Gaps and field' })
    .locator('tbody tr td:last-child')
    .allInnerTexts();
  expect(field).toEqual(seen.field);
  await shot(page, 'bench-1440');
  expect(await overflow(page)).toBe(0);
  expect(await smallText(page, 14)).toEqual([]);
  // Where it is narrower than on paper, no drawing is cut off by its half of it.
  for (const width of [980, 940, 900]) {
    await page.setViewportSize({ width, height: 900 });
    const cut = await view
      .locator('.scroll')
      .evaluateAll((rooms) =>
        rooms.map((room) => room.scrollWidth - room.clientWidth).filter((over) => over > 0),
      );
    expect(cut, `${width} px`).toEqual([]);
  }
  await page.setViewportSize({ width: 1440, height: 900 });

  // What a meter reads: what follows is said on the screen and on the page, and is taken over as one step.
  const says = view.getByRole('region', { name: 'What was read' }).getByRole('status').first();
  await type(page, 'resistance that was read', '5.62k');
  await soon(() => says.innerText()).toMatch(
    /^R is 4\.1 % low, .*about \d+0 turns too few .* or wire 2\.1 % thick\.$/,
  );
  await type(page, 'peak that was read', '7.5 kHz');
  await soon(() => says.innerText()).toMatch(/The peak says C = \d+(\.\d)? pF/);
  await type(page, 'peak that was read', 'high');
  expect(await view.getByRole('alert').innerText()).toMatch(
    /^Peak must be a figure with a unit, such as 8\.2 kHz; got "high"\.$/,
  );
  await page.keyboard.press('Escape');
  expect(await view.locator('section.text p').innerText()).toMatch(/R is 4\.1 % low/);
  await button(page, 'take over as the coil’s figures').click();
  await soon(() =>
    view.getByRole('table', { name: 'Coils' }).locator('tbody tr').first().innerText(),
  ).toMatch(/5\.62 kΩ\*/);
  await page.keyboard.press('Control+z');
  await soon(() =>
    view.getByRole('table', { name: 'Coils' }).locator('tbody tr').first().innerText(),
  ).not.toMatch(/5\.62 kΩ\*/);
  // Readings are kept from one look to the next.
  await page.keyboard.press('Escape');
  await opener.click();
  expect(await view.getByRole('textbox', { name: 'resistance that was read' }).inputValue()).toBe('5.62 kΩ');

  // Of another pickup: asked for and shown.
  await view.getByRole('combobox', { name: 'pickup on the bench sheet' }).selectOption('3 bridge');
  await soon(() => view.locator('header p').innerText()).toBe('Bench sheet · bridge pickup');

  const pdf = await page.pdf({ preferCSSPageSize: true });
  expect(pagesOf(pdf)).toBe(1);
  expect(/\/MediaBox\s*\[\s*0 0 ([\d.]+)/.exec(pdf.toString('latin1'))?.[1]).toMatch(/^59[45]/);

  await page.keyboard.press('Escape');
  await soon(() => view.count()).toBe(0);
  expect(await opener.evaluate((e) => e === document.activeElement)).toBe(true);
  expect(await page.locator('#sheet').getAttribute('inert')).toBeNull();
});

test('axe finds nothing to object to from 1440 to 390 px, on both papers', async ({ openSheet }) => {
  const { page } = await openSheet();
  await ready(page);
  for (const [width, height, paper] of [
    [1440, 844, 'day'],
    [390, 844, 'night'],
    // A window of 1440 × 900 px at twice its size.
    [720, 450, 'day'],
  ] as const) {
    const at = `${width} px`;
    await page.setViewportSize({ width, height });
    await layOn(page, paper);
    await button(page, 'bench sheet').click();
    const view = page.getByRole('main', { name: 'Bench sheet' });
    await soon(() => view.getAttribute('aria-busy')).toBe('false');
    await shot(page, `bench-${width}`);
    expect(await overflow(page), at).toBe(0);
    if (width < 700) expect(await smallTargets(page, 44), at).toEqual([]);
    expect(await smallText(page, 14), at).toEqual([]);
    // At twice its size all of it is there that is there at 390 px, on the paper that it has at 1440 px.
    if (width !== 720) expect(await breaches(page), at).toEqual([]);
    await page.keyboard.press('Escape');
    await soon(() => view.count()).toBe(0);
  }
});
