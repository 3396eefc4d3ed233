/** The Chromium of this process, which all files that run in it share; it ends with the process. */
import { chromium, type Browser } from 'playwright-core';
import { inject } from 'vitest';
import { launchOptions } from './launch.ts';

let running: Promise<Browser> | undefined;

export const browser = (): Promise<Browser> =>
  (running ??= chromium.launch(launchOptions(inject('compiler'))));
