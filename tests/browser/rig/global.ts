/** One Chromium for the whole run; each file serves the app and each test gets a context of its own (app.ts). */
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { chromium } from 'playwright-core';
import type { TestProject } from 'vitest/node';
import { root } from '../../../.ci/setup.mjs';
import { launchOptions } from './launch.ts';

declare module 'vitest' {
  interface ProvidedContext {
    /** The folder of the built app. */
    dist: string;
    /** Where the running Chromium listens. */
    browserEndpoint: string;
  }
}

export default async function start(project: TestProject): Promise<() => Promise<void>> {
  const dist = process.env['LODETONE_DIST'] ?? join(root, 'dist');
  if (!existsSync(join(dist, 'index.html'))) {
    throw new Error(`${dist} must hold the built app; run npm run build first.`);
  }
  const browser = await chromium.launchServer(launchOptions());
  project.provide('dist', dist);
  project.provide('browserEndpoint', browser.wsEndpoint());
  return () => browser.close();
}
