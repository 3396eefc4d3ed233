/** One Chromium for the whole run; each file serves the app and each test gets a context of its own (app.ts). */
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { chromium } from 'playwright-core';
import type { TestProject } from 'vitest/node';
import { findChromium } from '../../../.ci/programs.mjs';
import { root } from '../../../.ci/setup.mjs';

declare module 'vitest' {
  interface ProvidedContext {
    /** The folder of the built app. */
    dist: string;
    /** Where the running Chromium listens. */
    browserEndpoint: string;
  }
}

/**
 * What a window of the browser loads for itself, pages beneath its address field above all: every test opens a window, and
 * these took longer than our page. From AimEnabled on it is
 * the driver's own list, whose place this one takes.
 */
const NOT_OURS = [
  'PreloadTopChromeWebUI',
  'WebUIOmniboxPopup',
  'WebUIOmniboxAimPopup',
  'WebUIOmniboxFullPopup',
  'AimEnabled',
  'OptimizationHints',
  'NetworkTimeServiceQuerying',
  'PreconnectToSearch',
  'MediaRouter',
  'PaintHolding',
  'HttpsUpgrades',
  'HttpsFirstBalancedModeAutoEnable',
  'AvoidUnnecessaryBeforeUnloadCheckSync',
  'DestroyProfileOnBrowserClose',
  'ThirdPartyStoragePartitioning',
  'AvoidCorsURLLoaderRestartOnRedirect',
];

export default async function start(project: TestProject): Promise<() => Promise<void>> {
  const dist = process.env['LODETONE_DIST'] ?? join(root, 'dist');
  if (!existsSync(join(dist, 'index.html'))) {
    throw new Error(`${dist} must hold the built app; run npm run build first.`);
  }
  const browser = await chromium.launchServer({
    executablePath: findChromium(),
    headless: true,
    // The tests may run as root; nothing but our own page is opened.
    chromiumSandbox: false,
    args: [
      '--disable-gpu',
      '--disable-quic',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
      `--disable-features=${NOT_OURS.join(',')}`,
    ],
  });
  project.provide('dist', dist);
  project.provide('browserEndpoint', browser.wsEndpoint());
  return () => browser.close();
}
