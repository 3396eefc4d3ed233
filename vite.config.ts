import { svelte } from '@sveltejs/vite-plugin-svelte';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  root: 'src',
  base: './',
  publicDir: false,
  plugins: [svelte({ configFile: '../svelte.config.js' })],
  server: { fs: { allow: ['..'] } },
  build: {
    outDir: '../dist',
    emptyOutDir: true,
    target: 'es2022',
    // Nothing may become a data: URL; the page runs under a policy that forbids them.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    // .ci/size.mjs reads which chunks the entry needs.
    manifest: true,
  },
  worker: { format: 'es' },
  test: {
    root: '.',
    include: ['tests/**/*.test.ts'],
    exclude: ['tests/browser/**'],
    environment: 'node',
    // No test is about time; a busy machine must not fail one.
    testTimeout: 300_000,
    hookTimeout: 300_000,
  },
});
