// npm run soak: random work in quantity, for an hour or a night. With words only the soaks and sweeps whose paths hold one of them;
// --seed N does what another run did, --count N does so many of each, --short as many as npm test.
import { readdirSync } from 'node:fs';
import { join, sep } from 'node:path';
import { parseArgs } from 'node:util';
import { findChromium } from './programs.mjs';
import { root, runNode, setup, stop } from './setup.mjs';

const usage =
  'Usage: npm run soak -- [words of names] [--seed whole number] [--count whole number] [--short]';

function options() {
  try {
    return parseArgs({
      allowPositionals: true,
      options: { seed: { type: 'string' }, count: { type: 'string' }, short: { type: 'boolean' } },
    });
  } catch {
    return stop(usage);
  }
}

const { values, positionals } = options();
for (const [name, least] of /** @type {const} */ ([
  ['seed', 0],
  ['count', 1],
])) {
  const value = values[name];
  if (value !== undefined && !(/^\d{1,9}$/.test(value) && Number(value) >= least)) {
    stop(`--${name} must be a whole number from ${least} to 999999999; got ${value}. ${usage}`);
  }
}

const soaks = readdirSync(join(root, 'tests'), { recursive: true, encoding: 'utf8' })
  .map((name) => name.replaceAll(sep, '/'))
  .filter((name) => name.endsWith('.soak.ts') || name.endsWith('.sweep.test.ts'))
  .filter((name) => positionals.length === 0 || positionals.some((word) => name.includes(word)));
if (soaks.length === 0) {
  stop(`There is no soak of that name in tests; got ${positionals.join(' ') || 'none at all'}.`);
}
setup();
if (soaks.some((name) => name.endsWith('.browser.soak.ts'))) {
  process.env['LODETONE_CHROMIUM'] = findChromium();
  if (runNode(join(root, 'node_modules/vite/bin/vite.js'), ['build', '--logLevel', 'warn']) !== 0) {
    stop('The app could not be built; see the message above.');
  }
}
process.exitCode = runNode(
  join(root, 'node_modules/vitest/vitest.mjs'),
  ['run', '--config', '.ci/vitest.soak.config.ts', ...soaks.map((name) => `tests/${name}`)],
  {
    env: {
      LODETONE_SOAK: values.short ? 'short' : 'long',
      LODETONE_SOAK_SEED: values.seed ?? String(Date.now() % 1_000_000_000),
      ...(values.count && { LODETONE_SOAK_COUNT: values.count }),
    },
  },
);
