// The checks, each once: npm test runs all of them, npm run check the quick ones.
import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { canary } from './canary.mjs';
import { root, runNode } from './setup.mjs';
import { size } from './size.mjs';

/** Where the counts of a run are kept for tally.mjs. */
export const results = join(root, '.cache/results');

/** @param {string} path */
const bin = (path) => join(root, 'node_modules', path);

/** @param {string} config */
const types = (config) => runNode(bin('typescript/bin/tsc'), ['--noEmit', '-p', config]);

/** @param {string} name @param {string[]} args */
const vitest = (name, args) =>
  runNode(bin('vitest/vitest.mjs'), [
    'run',
    ...args,
    '--reporter=default',
    '--reporter=json',
    `--outputFile.json=${join(results, `${name}.json`)}`,
  ]);

/**
 * @typedef {{ name: string, title: string, quick: boolean, run: () => number | Promise<number> }} Step
 * @type {Step[]}
 */
export const steps = [
  {
    name: 'types',
    title: 'Types: all, without a DOM, in the audio worklet',
    quick: true,
    run: () =>
      types('tsconfig.json') || types('.ci/tsconfig.core.json') || types('.ci/tsconfig.worklet.json'),
  },
  {
    name: 'svelte',
    title: 'Types and warnings of the components',
    quick: true,
    run: () =>
      runNode(bin('svelte-check/bin/svelte-check'), ['--tsconfig', './tsconfig.json', '--fail-on-warnings']),
  },
  { name: 'canary', title: 'The component check notices a planted error', quick: false, run: canary },
  {
    name: 'lint',
    title: 'Lint and walls',
    quick: true,
    run: () =>
      runNode(bin('eslint/bin/eslint.js'), ['--max-warnings', '0', '--config', '.ci/eslint.config.js', '.']),
  },
  {
    name: 'format',
    title: 'Format',
    quick: true,
    run: () =>
      runNode(bin('prettier/bin/prettier.cjs'), [
        ...['--check', '--log-level', 'warn'],
        ...['--config', '.ci/prettier.json', '--ignore-path', '.ci/prettierignore', '.'],
      ]),
  },
  { name: 'unit', title: 'Unit and reference tests', quick: false, run: () => vitest('unit', []) },
  {
    name: 'build',
    title: 'Build',
    quick: false,
    run: () => runNode(bin('vite/bin/vite.js'), ['build', '--logLevel', 'warn']),
  },
  { name: 'size', title: 'Size and contents of the build', quick: false, run: size },
  {
    name: 'browser',
    title: 'Browser tests of the built app',
    quick: false,
    run: () => vitest('browser', ['--config', '.ci/vitest.browser.config.ts']),
  },
  {
    name: 'soak',
    title: 'Random work, a little of it; npm run soak does more',
    quick: false,
    run: () => vitest('soak', ['--config', '.ci/vitest.soak.config.ts']),
  },
];

/**
 * Runs the steps in order with a heading and the time each took; ends the program at the first that fails.
 * @param {Step[]} wanted
 */
export async function runSteps(wanted) {
  rmSync(results, { recursive: true, force: true });
  mkdirSync(results, { recursive: true });
  const begun = performance.now();
  for (const step of wanted) {
    console.log(`\n── ${step.title}`);
    const started = performance.now();
    const code = await step.run();
    console.log(`   ${step.name} ${code === 0 ? 'passed' : 'failed'}, ${seconds(started)} s`);
    if (code !== 0) {
      writeFileSync(join(results, 'failed'), step.name);
      console.error(`\n${step.title}: failed. To run it alone: node .ci/test.mjs ${step.name}`);
      process.exit(1);
    }
  }
  console.log(`\nAll of it passed, ${seconds(begun)} s`);
}

/** @param {number} since */
const seconds = (since) => ((performance.now() - since) / 1000).toFixed(1);
