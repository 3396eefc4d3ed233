import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

const all = 'tests/browser/**/*.browser.ts';
/** What plays and listens in real time: with another page beside it, it would measure that page. */
const alone = ['line', 'listening', 'live', 'scenario', 'sound', 'trialSound', 'why'].map(
  (name) => `tests/browser/${name}.browser.ts`,
);

const common = {
  environment: 'node' as const,
  globalSetup: ['tests/browser/rig/global.ts'],
  // Files that run in one process share its Chromium, its server and its pages (rig/pages.ts).
  isolate: false,
  // Each test once: a flaky test is a finding.
  retry: 0,
  // No test is about time; a slow or busy machine must not fail one.
  testTimeout: 300_000,
  hookTimeout: 300_000,
};

// Node drives a real Chromium at the built app: two files side by side, then one after another what is about sound.
export default defineConfig({
  root: fileURLToPath(new URL('..', import.meta.url)),
  test: {
    projects: [
      {
        test: {
          ...common,
          name: 'pages',
          provide: { compiler: 'without the last stage' },
          // And of random hands a little.
          include: [all, 'tests/soak/**/*.browser.soak.ts'],
          exclude: alone,
          maxWorkers: 2,
          sequence: { groupOrder: 0 },
        },
      },
      {
        test: {
          ...common,
          name: 'sound',
          include: alone,
          fileParallelism: false,
          maxWorkers: 1,
          sequence: { groupOrder: 1 },
        },
      },
    ],
  },
});
