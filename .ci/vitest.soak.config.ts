import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

const common = {
  environment: 'node',
  fileParallelism: false,
  retry: 0,
  // A long soak ends when its count is done.
  testTimeout: 0,
  hookTimeout: 300_000,
} as const;

const SWEEPS = 'tests/**/*.sweep.test.ts';
/** It exchanges a module, so it may find nothing imported already. */
const MOCKED = 'tests/soak/fields.soak.ts';

// Random work in quantity. Soaks named *.browser.soak.ts have the Chromium and the built app of the browser tests.
export default defineConfig({
  root: fileURLToPath(new URL('..', import.meta.url)),
  test: {
    projects: [
      {
        test: {
          ...common,
          name: 'soak',
          // Sweeps are unit tests that npm test runs a little of; they are here when more is asked for.
          include: ['tests/soak/**/*.soak.ts', ...(process.env['LODETONE_SOAK'] ? [SWEEPS] : [])],
          exclude: ['tests/soak/**/*.browser.soak.ts', MOCKED],
          isolate: false,
        },
      },
      { test: { ...common, name: 'soak with a module exchanged', include: [MOCKED] } },
      {
        test: {
          ...common,
          name: 'soak in the browser',
          // A long one is worked with as people work.
          provide: { compiler: process.env['LODETONE_SOAK'] ? 'as it comes' : 'without the last stage' },
          include: ['tests/soak/**/*.browser.soak.ts'],
          globalSetup: ['tests/browser/rig/global.ts'],
          // They share a Chromium and its pages, as the browser tests do.
          isolate: false,
        },
      },
    ],
  },
});
