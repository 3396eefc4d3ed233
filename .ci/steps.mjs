// The checks, each once: npm test runs all of them, npm run check the quick ones.
import { spawn } from 'node:child_process';
import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { join } from 'node:path';
import { root, runNode } from './setup.mjs';
import { size } from './size.mjs';

/** Where the counts of a run are kept for tally.mjs. */
export const results = join(root, '.cache/results');

/** @param {string} path */
const bin = (path) => join(root, 'node_modules', path);

/** @param {string} config */
const types = (config) => [bin('typescript/bin/tsc'), '--noEmit', '-p', config];

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
 * A check is commands for this Node, one after another; it shares nothing with others and may run beside them. The rest
 * runs alone, and in order.
 * @typedef {{ name: string, title: string, quick: boolean }} Named
 * @typedef {Named & { commands: string[][] }} Check
 * @typedef {Named & { run: () => number | Promise<number> }} Alone
 * @typedef {Check | Alone} Step
 * @type {Step[]}
 */
export const steps = [
  {
    name: 'lint',
    title: 'Lint and walls',
    quick: true,
    commands: [[bin('eslint/bin/eslint.js'), '--max-warnings', '0', '--config', '.ci/eslint.config.js', '.']],
  },
  {
    name: 'types',
    title: 'Types: all, without a DOM, in the audio worklet',
    quick: true,
    commands: [types('tsconfig.json'), types('.ci/tsconfig.core.json'), types('.ci/tsconfig.worklet.json')],
  },
  {
    name: 'svelte',
    title: 'Types and warnings of the components',
    quick: true,
    commands: [[bin('svelte-check/bin/svelte-check'), '--tsconfig', './tsconfig.json', '--fail-on-warnings']],
  },
  {
    name: 'canary',
    title: 'The component check notices a planted error',
    quick: false,
    commands: [[join(root, '.ci/canary.mjs')]],
  },
  {
    name: 'format',
    title: 'Format',
    quick: true,
    commands: [
      [
        bin('prettier/bin/prettier.cjs'),
        ...['--check', '--log-level', 'warn'],
        ...['--config', '.ci/prettier.json', '--ignore-path', '.ci/prettierignore', '.'],
      ],
    ],
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
 * Runs the checks side by side, as many as there are processors, then the other steps in order, each with a heading and
 * the time it took; ends the program at the first that fails.
 * @param {Step[]} wanted
 */
export async function runSteps(wanted) {
  rmSync(results, { recursive: true, force: true });
  mkdirSync(results, { recursive: true });
  const begun = performance.now();
  await runChecks(wanted.filter((step) => 'commands' in step));
  for (const step of wanted) {
    if ('commands' in step) continue;
    console.log(`\n── ${step.title}`);
    const started = performance.now();
    report(step, await step.run(), started);
  }
  console.log(`\nAll of it passed, ${seconds(begun)} s`);
}

/** @param {Check[]} checks */
async function runChecks(checks) {
  const waiting = [...checks];
  const worker = async () => {
    for (let check = waiting.shift(); check; check = waiting.shift()) {
      const started = performance.now();
      let code = 0;
      let said = '';
      for (const command of check.commands) {
        const ended = await hear(command);
        code ||= ended.code;
        said += ended.said;
      }
      // Said in one piece: two that speak at once can't be read.
      console.log(`\n── ${check.title}${said === '' ? '' : `\n${said.trimEnd()}`}`);
      report(check, code, started);
    }
  };
  await Promise.all(Array.from({ length: Math.max(1, availableParallelism()) }, worker));
}

/** @param {string[]} command @returns {Promise<{ code: number, said: string }>} */
function hear(command) {
  return new Promise((resolve) => {
    const child = spawn(process.execPath, command, { cwd: root, stdio: ['ignore', 'pipe', 'pipe'] });
    let said = '';
    for (const stream of [child.stdout, child.stderr]) {
      stream.setEncoding('utf8');
      stream.on('data', (/** @type {string} */ text) => (said += text));
    }
    child.on('error', (error) => resolve({ code: 127, said: `${said}${error.message}\n` }));
    child.on('close', (code) => resolve({ code: code ?? 1, said }));
  });
}

/** @param {Named} step @param {number} code @param {number} started */
function report(step, code, started) {
  console.log(`   ${step.name} ${code === 0 ? 'passed' : 'failed'}, ${seconds(started)} s`);
  if (code === 0) return;
  writeFileSync(join(results, 'failed'), step.name);
  console.error(`\n${step.title}: failed. To run it alone: node .ci/test.mjs ${step.name}`);
  process.exit(1);
}

/** @param {number} since */
const seconds = (since) => ((performance.now() - since) / 1000).toFixed(1);
