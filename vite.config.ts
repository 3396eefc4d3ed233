import { createHash } from 'node:crypto';
import { mkdirSync, readFileSync, renameSync, rmdirSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { svelte } from '@sveltejs/vite-plugin-svelte';
import { transformWithOxc, type Plugin } from 'vite';
import { defineConfig } from 'vitest/config';
import { pagePolicy } from './.ci/serve.mjs';
import { manifestOf } from './.ci/size.mjs';
import { packFields } from './src/jobs/fieldsFile.ts';
import { fieldsOf } from './src/physics/field.ts';
import { checkSheet } from './src/sheet/check.ts';
import { schemaText } from './src/sheet/schema.ts';

/** The built page says its policy itself, whatever its host sends. The dev server's inline styles would be refused. */
const policyInPage: Plugin = {
  name: 'policy-in-page',
  apply: 'build',
  transformIndexHtml: () => [
    {
      tag: 'meta',
      attrs: { 'http-equiv': 'Content-Security-Policy', content: pagePolicy },
      injectTo: 'head-prepend',
    },
  ],
};

/** What a design's file must be, for editors and other programs. */
const schemaBeside: Plugin = {
  name: 'schema-beside',
  apply: 'build',
  generateBundle() {
    this.emitFile({ type: 'asset', fileName: 'design.schema.json', source: schemaText() });
  },
};

/** «sheet.json?fields»: the address of a file with that sheet's fields (`src/jobs/fieldsFile.ts`); null where nothing is built. */
const FIELDS = '?fields';
const fieldsBeside = (): Plugin => {
  let builds = false;
  return {
    name: 'fields-beside',
    enforce: 'pre',
    configResolved: ({ command }) => void (builds = command === 'build'),
    load(id) {
      if (!id.endsWith(FIELDS)) return;
      if (!builds) return 'export default null;';
      const checked = checkSheet(JSON.parse(readFileSync(id.slice(0, -FIELDS.length), 'utf8')));
      if (!checked.ok) throw new Error(`${id}: ${checked.message}`);
      const source = packFields(fieldsOf(checked.sheet));
      const file = this.emitFile({ type: 'asset', name: 'first.fields', source });
      return `export default import.meta.ROLLUP_FILE_URL_${file};`;
    },
  };
};

/** What the bundler notes for .ci/size.mjs is no part of the app. */
const manifestBeside: Plugin = {
  name: 'manifest-beside',
  apply: 'build',
  writeBundle({ dir = '' }) {
    const to = manifestOf(dir);
    mkdirSync(join(to, '..'), { recursive: true });
    renameSync(join(dir, '.vite/manifest.json'), to);
    rmdirSync(join(dir, '.vite'));
  },
};

const SERVICE_WORKER = fileURLToPath(new URL('src/serviceWorker.ts', import.meta.url));

/** What a browser shows of an installed app; Web Application Manifest. */
const APP = 'lodetone.webmanifest';
const appOf = (icon: string): object => ({
  name: 'Lodetone',
  short_name: 'Lodetone',
  description: 'Hear a pickup magnet before it is built.',
  start_url: './',
  scope: './',
  display: 'standalone',
  background_color: '#f5f0e2',
  theme_color: '#f5f0e2',
  icons: [{ src: `./${icon}`, sizes: 'any', type: 'image/svg+xml' }],
});

/**
 * Puts the service worker beside the page, with what is to be had without a network: all but the older form of the typefaces
 * and the icon, and the page itself, which is asked for by its address.
 */
const serviceWorkerBeside: Plugin = {
  name: 'service-worker-beside',
  apply: 'build',
  enforce: 'post',
  async generateBundle(_options, bundle) {
    const icon = Object.keys(bundle).find((name) => /mark-[^/]*\.svg$/.test(name)) ?? '';
    this.emitFile({ type: 'asset', fileName: APP, source: JSON.stringify(appOf(icon)) });
    const files = [...Object.keys(bundle).filter((name) => !/\.(html|woff|json)$/.test(name)), APP].sort();
    const version = createHash('sha256');
    for (const part of [bundle['index.html'], ...files.map((name) => bundle[name])])
      if (part) version.update(part.type === 'chunk' ? part.code : part.source);
    const built = { version: version.digest('hex').slice(0, 12), files };
    const { code } = await transformWithOxc(readFileSync(SERVICE_WORKER, 'utf8'), SERVICE_WORKER);
    const source = `const BUILT = ${JSON.stringify(built)};\n${code.replace(/^export \{\};?$/m, '')}`;
    this.emitFile({ type: 'asset', fileName: 'serviceWorker.js', source });
  },
};

/** What is needed at once is one file, whatever of it is needed later as well: in pieces it compresses less. */
const inOneFile = (name: string) => ({
  output: { codeSplitting: { groups: [{ name, tags: ['$initial' as const] }] } },
});

/** Unit tests that exchange a module; no other may (`tests/tooling/mocks.test.ts`). */
const MOCKED = [
  'tests/jobs/solvedOnce.test.ts',
  'tests/physics/assembled.test.ts',
  'tests/soak/fields.soak.ts',
];

export default defineConfig({
  root: 'src',
  base: './',
  publicDir: false,
  plugins: [
    svelte({ configFile: fileURLToPath(new URL('svelte.config.js', import.meta.url)) }),
    fieldsBeside(),
    policyInPage,
    schemaBeside,
    manifestBeside,
    serviceWorkerBeside,
  ],
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
    rolldownOptions: inOneFile('opening'),
  },
  // The same holds for what a worker begins with.
  worker: { format: 'es', rolldownOptions: inOneFile('beginning') },
  test: {
    root: '.',
    environment: 'node',
    // All processors: left to itself, a run keeps one free, which of two is half.
    maxWorkers: '100%',
    // What is young is collected less often: a tenth of a run.
    execArgv: ['--min-semi-space-size=64', '--max-semi-space-size=128'],
    // No test is about time; a busy machine must not fail one.
    testTimeout: 300_000,
    hookTimeout: 300_000,
    projects: [
      {
        extends: true,
        test: {
          name: 'unit',
          // And of random work a little.
          include: ['tests/**/*.test.ts', 'tests/soak/**/*.soak.ts'],
          exclude: [...MOCKED, 'tests/**/*.browser.soak.ts'],
          // Files that run in one process share what they import: half of a run went into importing it anew for each.
          isolate: false,
        },
      },
      // Who exchanges a module would find it imported already.
      { extends: true, test: { name: 'mocked', include: MOCKED } },
    ],
  },
});
