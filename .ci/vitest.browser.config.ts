import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

// Node drives a real Chromium at the built app. One file after another, each test once: a flaky test is a finding.
export default defineConfig({
  root: fileURLToPath(new URL('..', import.meta.url)),
  test: {
    include: ['tests/browser/**/*.browser.ts'],
    environment: 'node',
    globalSetup: ['tests/browser/rig/global.ts'],
    fileParallelism: false,
    retry: 0,
    // No test is about time; a slow or busy machine must not fail one.
    testTimeout: 300_000,
    hookTimeout: 300_000,
  },
});
