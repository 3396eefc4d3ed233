/** A random drag of the focus in a page, and what of it is not as it must be. */
import type { Page } from 'playwright-core';
import { LEVERS, type Lever } from '../../../src/sheet/focusLever.ts';
import { readRecord } from '../../../src/sheet/record.ts';
import type { Trials } from '../../../src/sheet/trials.ts';
import { FOCUS_WORDS } from '../../../src/ui/section/focus.ts';
import { button, figures, focusBy, middle, slider } from '../../browser/rig/hands.ts';
import { atRest } from '../../browser/rig/rest.ts';
import type { Random } from './random.ts';

/** What is taken hold of. */
export interface Edge {
  /** «neck pickup», «bridge row 2» */
  readonly name: string;
  readonly towards: 'nut' | 'saddle';
  /** From 0. */
  readonly pickup: number;
  readonly row: number;
}

export interface FocusDrag {
  readonly lever: Lever;
  /** px to the right, one after the other. */
  readonly moves: readonly number[];
  /** Let go where it is, where it began, or put back by Escape. */
  readonly end: 'keep' | 'back' | 'Escape';
  /** Whether it is held before anything is known of how far it can go. */
  readonly early: boolean;
}

/** m: what the focus may jump by while the hand goes on by a pixel. */
const JUMP = 0.3e-3;
/** m: the focus is shown to a tenth of a millimetre, and near enough to an end it stands there. */
const SHOWN = 1e-4;
const AT_END = 2e-4;
/** px: half a step of the figure, and a little more. */
const UNDER_HAND = 1.5;
/** px beyond which a hand is past an end. */
const PAST = 3;
/** px from the edges of the screen. */
const MARGIN = 4;
/** How often, of so many moves, the rest of the sheet is looked at while the focus is held. */
const LOOKS = 8;
const CHANGES: Readonly<Record<Lever, RegExp>> = {
  gap: /^build\.gap(Bass|Treble)$/,
  tip: /^build\.rows\.\d\.pole\.tip\.(shape|size)$/,
  diameter: /^build\.rows\.\d\.pole\.(head\.)?diameter$/,
};
/** Figures in the parts list that hold it. */
const FIGURES: Readonly<Record<Lever, RegExp>> = { gap: /gap/, tip: /tip/, diameter: /diameter/ };

export function anyDrag(lever: Lever, random: Random): FocusDrag {
  const sense = (): 1 | -1 => (random.once(2) ? 1 : -1);
  const creep = (): number[] => Array<number>(3 + random.below(16)).fill(sense());
  const stride = (): number[] => [sense() * (10 + random.below(60))];
  const beyond = (): number[] => [sense() * (150 + random.below(250))];
  // By as much as a hand goes from one frame to the next, by single pixels, past an end, and what comes of it.
  const more = Array.from({ length: random.below(3) }, () => random.of([creep, stride])());
  return {
    ...{ lever, moves: [stride(), creep(), ...more, beyond(), creep(), stride()].flat() },
    end: random.of(['keep', 'keep', 'back', 'Escape'] as const),
    early: random.once(4),
  };
}

/** What the page's window keeps, which it writes at the end of every gesture. */
export async function keptBy(page: Page): Promise<Trials> {
  const text = await page.evaluate(() =>
    localStorage.getItem(`lodetone.work.${sessionStorage.getItem('lodetone.window') ?? ''}`),
  );
  const present = readRecord(text ?? '')?.history.present;
  if (!present) throw new Error('The window must keep its sheet; it keeps none.');
  return present;
}

/** Paths of all that two documents differ in. */
export function unlike(a: unknown, b: unknown, at = ''): string[] {
  if (Object.is(a, b)) return [];
  const both = [a, b].map((one) => (typeof one === 'object' && one !== null ? one : null));
  if (!both[0] || !both[1]) return [at];
  const [from, to] = both as [Record<string, unknown>, Record<string, unknown>];
  return [...new Set([...Object.keys(from), ...Object.keys(to)])].flatMap((key) =>
    unlike(from[key], to[key], at === '' ? key : `${at}.${key}`),
  );
}

/** What stands at the focus: its width and how far that goes, m; the middle of its ring, px; what is said there. */
interface Stand {
  readonly value: number;
  readonly least: number;
  readonly most: number;
  readonly x: number;
  readonly told: string;
  readonly valueText: string;
}

/** The parts list, without figures that only say what follows; without those, if asked, that a lever may change. */
const parts = (page: Page): Promise<string[]> =>
  page
    .locator('section[aria-labelledby="parts-title"] :is(input[type="text"], select)')
    .evaluateAll((all) =>
      all.map((e) => `${e.ariaLabel ?? ''}: ${(e as HTMLInputElement | HTMLSelectElement).value}`),
    );

/** Lines that only one of two lists has. */
const news = (a: readonly string[], b: readonly string[]): string[] => [
  ...a.filter((line) => !b.includes(line)).map((line) => `no more «${line}»`),
  ...b.filter((line) => !a.includes(line)).map((line) => `«${line}»`),
];

const without = (all: readonly string[], lever: Lever): string[] =>
  all.filter((line) => !FIGURES[lever].test(line.split(':')[0]!));

/**
 * Does it, and takes it back.
 * @returns what was not as it must be, a line each; and how many moves of the pointer were looked at
 */
export async function focusDrag(
  page: Page,
  { name, towards, pickup }: Edge,
  { lever, moves, end, early }: FocusDrag,
): Promise<{ readonly faults: string[]; readonly moves: number; readonly changed: boolean }> {
  const faults: string[] = [];
  const expect = (so: boolean, what: string): void => {
    if (!so) faults.push(what);
  };
  const handle = slider(page, `focus of the ${name}, edge towards the ${towards}`);
  const grip = await handle.elementHandle();
  const stand = (): Promise<Stand> =>
    page.evaluate((e) => {
      const number = (key: string): number => Number(e.getAttribute(`aria-value${key}`));
      const { left, right } = e.getBoundingClientRect();
      return {
        ...{ value: number('now'), least: number('min'), most: number('max'), x: (left + right) / 2 },
        told: document.querySelector<HTMLElement>('.told')?.innerText ?? '',
        valueText: e.getAttribute('aria-valuetext') ?? '',
      };
    }, grip);
  if (early) {
    // Of another lever nothing need be known.
    await focusBy(page, FOCUS_WORDS[LEVERS.find((other) => other !== lever)!]);
    await atRest(page);
    await focusBy(page, FOCUS_WORDS[lever]);
  } else {
    await focusBy(page, FOCUS_WORDS[lever]);
    await atRest(page);
  }
  await handle.scrollIntoViewIfNeeded();
  const document_ = await keptBy(page);
  const [list, sheet] = [await parts(page), early ? [] : await figures(page)];
  const from = await middle(handle);
  const first = await stand();
  if (!early) {
    expect(first.least <= first.value + SHOWN && first.value - SHOWN <= first.most, `not on its track`);
  }

  const { mouse } = page;
  const right = page.viewportSize()!.width - MARGIN;
  const wider = towards === 'nut' ? -1 : 1;
  let at = from.x;
  let last = first;
  const checkMove = (by: number, now: Stand): void => {
    const step = now.value - last.value;
    const where = `${(1e3 * last.value).toFixed(1)} → ${(1e3 * now.value).toFixed(1)} mm by ${by.toFixed(0)} px`;
    expect(step * by * wider >= -1e-12, `against the hand: ${where}`);
    expect(Math.abs(step) <= JUMP * Math.max(1, Math.abs(by)) + 1e-9, `a jump: ${where}`);
    expect(
      now.value > now.least - SHOWN && now.value < now.most + SHOWN,
      `off its track of ${(1e3 * now.least).toFixed(2)} to ${(1e3 * now.most).toFixed(2)} mm: ${where}`,
    );
    const off = now.x - at;
    if (now.value > now.least + AT_END && now.value < now.most - AT_END)
      expect(Math.abs(off) < UNDER_HAND, `${off.toFixed(1)} px from the hand: ${where}`);
    else if (Math.abs(off) > PAST) {
      const which = off * wider < 0 ? 'wider' : 'narrower';
      const reason = new RegExp(`No ${which} by the ${lever}: .{8}`);
      expect(reason.test(now.told), `no reason at its end: «${now.told}», ${where}`);
      expect(reason.test(now.valueText), `no reason for the ear: «${now.valueText}», ${where}`);
    }
  };
  const moveTo = async (to: number): Promise<void> => {
    const by = to - at;
    if (by === 0) return;
    at = to;
    await mouse.move(at, from.y);
    const now = await stand();
    if (!early) checkMove(by, now);
    last = now;
  };
  await mouse.move(from.x, from.y);
  await mouse.down();
  for (const [i, by] of moves.entries()) {
    await moveTo(Math.min(right, Math.max(MARGIN, at + by)));
    if (i % LOOKS === 0) {
      const other = news(without(list, lever), without(await parts(page), lever));
      expect(other.length === 0, `something else moved: ${other.join(', ')}`);
    }
  }
  if (end === 'back') {
    await moveTo(from.x);
    if (!early) expect(last.value === first.value, `${last.value} and not ${first.value} m where it began`);
    const other = news(list, await parts(page));
    expect(other.length === 0, `other parts where it began: ${other.join(', ')}`);
  }
  if (end === 'Escape') await page.keyboard.press('Escape');
  await mouse.up();
  await atRest(page);

  const now = await stand();
  const kept = await keptBy(page);
  const differs = unlike(document_, kept);
  const of = `trials.${document_.open}.pickups.${pickup}.`;
  const foreign = differs.filter(
    (path) => !(path.startsWith(of) && CHANGES[lever].test(path.slice(of.length))),
  );
  expect(foreign.length === 0, `changed besides the ${lever}: ${foreign.join(', ')}`);
  if (!early) {
    expect(
      Math.abs(now.least - first.least) + Math.abs(now.most - first.most) < 1e-9,
      `another track: ${first.least}–${first.most} and then ${now.least}–${now.most} m`,
    );
    const away = Math.abs(now.value - (end === 'keep' ? last.value : first.value));
    expect(away <= SHOWN + 1e-9, `${(1e3 * away).toFixed(1)} mm from where it was let go`);
  } else
    expect(
      now.value > now.least - SHOWN && now.value < now.most + SHOWN,
      `${now.value} is off its track of ${now.least} to ${now.most} m`,
    );
  if (end !== 'keep') {
    expect(differs.length === 0, `${end}: ${differs.join(', ')}`);
    const other = early ? [] : news(sheet, await figures(page));
    expect(other.length === 0, `${end}: other figures, ${other.join(', ')}`);
  }
  if (differs.length > 0) {
    await button(page, 'undo').click();
    await atRest(page);
    const left = unlike(document_, await keptBy(page));
    expect(left.length === 0, `undone, and yet: ${left.join(', ')}`);
  }
  return { faults, moves: moves.length, changed: differs.length > 0 };
}
