/** Whether the sheet stands still under the hand. */
import type { Page } from 'playwright-core';
import { expect } from './app.ts';
import { pull } from './hands.ts';
import { atRest } from './rest.ts';

/** Where every part of the sheet stands on the page, px, by its name. */
export const places = (page: Page): Promise<string[]> =>
  page.locator('main section, main .drawing, main table').evaluateAll((all) =>
    all.flatMap((e) => {
      if (!e.checkVisibility()) return [];
      const { top, height } = e.getBoundingClientRect();
      const name = e.ariaLabel ?? e.getAttribute('aria-labelledby') ?? e.getAttribute('class');
      return [`${name} ${(top + scrollY).toFixed(1)} ${height.toFixed(1)}`];
    }),
  );

const GAP = '.drawing [role="slider"][aria-label^="gap from"]';
const named = (name: string): string => `.drawing [role="slider"][aria-label="${name}"]`;

/** What most is said of: a handle, and how far it is dragged, px. */
const GESTURES = {
  'the gap far down': [GAP, { x: 0, y: -32 }],
  'the gap far up': [GAP, { x: 0, y: 25 }],
  'the focus past its end': [named('focus of the neck pickup, edge towards the saddle'), { x: 90, y: 0 }],
  'a tip': [named('neck, chamfer of the pole'), { x: 0, y: 8 }],
  'the pole thicker than its coil’s hole': [named('neck, rod diameter'), { x: 30, y: 0 }],
  'the bass side alone': [named('gap at the bass side'), { x: 0, y: -12 }],
} as const;

export type SteadyGesture = keyof typeof GESTURES;

export const STEADY_GESTURES = Object.keys(GESTURES) as SteadyGesture[];

/** Held, let go and taken back, a gesture leaves every part of the sheet where it was `before`. */
export async function moveNothing(
  page: Page,
  gestures: readonly SteadyGesture[],
  before: readonly string[],
): Promise<void> {
  for (const gesture of gestures) {
    const [handle, by] = GESTURES[gesture];
    await pull(page, page.locator(handle).first(), by);
    await atRest(page);
    expect(await places(page), `${gesture}, held`).toEqual(before);
    await page.mouse.up();
    await atRest(page);
    expect(await places(page), `${gesture}, let go`).toEqual(before);
    await page.keyboard.press('Control+z');
    await atRest(page);
    expect(await places(page), `${gesture}, taken back`).toEqual(before);
  }
}
