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
const types = (config) => [bin('@typescript/native/bin/tsc'), '--noEmit', '-p', config];

/** With types, which it asks of the compiler. @param {string} config @param {string[]} args */
export const oxlint = (config, ...args) => [
  bin('oxlint/bin/oxlint'),
  ...[
    '--type-aware',
    '--config',
    config,
    '--format',
    'unix',
    '--report-unused-disable-directives-severity',
    'error',
  ],
  ...args,
];

/** @param {string} name @param {string[]} args */
const vitest = (name, ...args) => [
  bin('vitest/vitest.mjs'),
  'run',
  ...args,
  '--reporter=default',
  '--reporter=json',
  `--outputFile.json=${join(results, `${name}.json`)}`,
];

/** Where code of ours lies. */
const CODE = ['src', 'tests', '.ci', 'vite.config.ts', 'svelte.config.js'];

const BROWSER = ['--config', '.ci/vitest.browser.config.ts', '--project'];

/**
 * When a step's turn is: `first` alone and in order; `waiting` from then on beside everything, since it often waits, for
 * sounds to be played or for frames; `beside` side by side, as many as there are processors; `wide` after these, in order, for they
 * use all processors by themselves.
 * @typedef {'first' | 'waiting' | 'beside' | 'wide'} Turn
 * @typedef {{ name: string, title: string, turn: Turn, quick?: boolean }} Named
 * @typedef {Named & { commands: string[][] }} Commands for this Node, one after another
 * @typedef {Named & { run: () => number }} Alone
 * @typedef {Commands | Alone} Step
 * @type {Step[]}
 */
export const steps = [
  {
    name: 'build',
    title: 'Build',
    turn: 'first',
    run: () => runNode(bin('vite/bin/vite.js'), ['build', '--logLevel', 'warn']),
  },
  { name: 'size', title: 'Size and contents of the build', turn: 'first', run: size },
  {
    name: 'sound',
    title: 'Browser tests of what plays and listens',
    turn: 'waiting',
    commands: [vitest('sound', ...BROWSER, 'sound')],
  },
  // The longest first.
  {
    name: 'lint',
    title: 'Lint and walls',
    turn: 'beside',
    quick: true,
    commands: [
      oxlint('.ci/oxlint.json', ...CODE),
      [
        bin('eslint/bin/eslint.js'),
        ...['--max-warnings', '0', '--config', '.ci/eslint.config.js', 'src/**/*.svelte'],
      ],
    ],
  },
  {
    // All that tsconfig.json names, also what is no component: canary.mjs sees to it.
    name: 'svelte',
    title: 'Types and warnings: all, components too, and what lint asks of their types',
    turn: 'beside',
    quick: true,
    commands: [[join(root, '.ci/components.mjs')]],
  },
  {
    name: 'format',
    title: 'Format',
    turn: 'beside',
    quick: true,
    commands: [
      [
        bin('oxfmt/bin/oxfmt'),
        '--check',
        '--config',
        '.ci/oxfmt.json',
        '--ignore-path',
        '.ci/formatignore',
        '.',
      ],
      [
        bin('prettier/bin/prettier.cjs'),
        ...['--check', '--log-level', 'warn'],
        ...['--config', '.ci/prettier.json', 'src/**/*.svelte'],
      ],
    ],
  },
  {
    name: 'types',
    title: 'Types without a DOM, and in the audio worklet',
    turn: 'beside',
    quick: true,
    commands: [types('.ci/tsconfig.core.json'), types('.ci/tsconfig.worklet.json')],
  },
  {
    name: 'canary',
    title: 'Types and lint notice planted errors',
    turn: 'beside',
    commands: [[join(root, '.ci/canary.mjs')]],
  },
  {
    name: 'unit',
    title: 'Unit and reference tests, and a little random work',
    turn: 'wide',
    commands: [vitest('unit')],
  },
  {
    name: 'browser',
    title: 'Browser tests of the built app, and a little random work on it',
    turn: 'wide',
    commands: [vitest('browser', ...BROWSER, 'pages')],
  },
];

/**
 * Runs the steps, each at its turn, with a heading and the time it took; ends the program at the first that fails.
 * @param {Step[]} wanted
 */
export async function runSteps(wanted) {
  rmSync(results, { recursive: true, force: true });
  mkdirSync(results, { recursive: true });
  const begun = performance.now();
  const at = (/** @type {Turn} */ turn) => wanted.filter((step) => step.turn === turn);
  for (const step of at('first')) {
    console.log(`\n── ${step.title}`);
    await take(step, true);
  }
  const waiting = at('waiting').map((step) => take(step));
  const queue = at('beside');
  const worker = async () => {
    for (let step = queue.shift(); step; step = queue.shift()) await take(step);
  };
  await Promise.all(Array.from({ length: Math.max(1, availableParallelism()) }, worker));
  for (const step of at('wide')) await take(step);
  await Promise.all(waiting);
  console.log(`\nAll of it passed, ${seconds(begun)} s`);
}

/** @param {Step} step @param {boolean} [open] whether what it says is shown as it says it */
async function take(step, open = false) {
  const started = performance.now();
  let code = 0;
  let said = '';
  if ('run' in step) code = step.run();
  else
    for (const command of step.commands) {
      const ended = await hear(command);
      code ||= ended.code;
      said += ended.said;
    }
  // Said in one piece: two that speak at once can't be read.
  if (!open) console.log(`\n── ${step.title}${said === '' ? '' : `\n${said.trimEnd()}`}`);
  console.log(`   ${step.name} ${code === 0 ? 'passed' : 'failed'}, ${seconds(started)} s`);
  if (code === 0) return;
  writeFileSync(join(results, 'failed'), step.name);
  console.error(`\n${step.title}: failed. To run it alone: node .ci/test.mjs ${step.name}`);
  for (const child of running) child.kill();
  process.exit(1);
}

/** @type {Set<import('node:child_process').ChildProcess>} */
const running = new Set();

/** @param {string[]} command @returns {Promise<{ code: number, said: string }>} */
function hear(command) {
  return new Promise((resolve) => {
    const child = spawn(process.execPath, command, { cwd: root, stdio: ['ignore', 'pipe', 'pipe'] });
    running.add(child);
    let said = '';
    for (const stream of [child.stdout, child.stderr]) {
      stream.setEncoding('utf8');
      stream.on('data', (/** @type {string} */ text) => (said += text));
    }
    child.on('error', (error) => resolve({ code: 127, said: `${said}${error.message}\n` }));
    child.on('close', (code) => {
      running.delete(child);
      resolve({ code: code ?? 1, said });
    });
  });
}

/** @param {number} since */
const seconds = (since) => ((performance.now() - since) / 1000).toFixed(1);
