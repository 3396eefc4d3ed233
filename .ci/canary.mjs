// A type checker that silently checks nothing looks like one that finds nothing. So: plant an error and demand it is seen.
import { spawnSync } from 'node:child_process';
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { root } from './setup.mjs';

const folder = join(root, '.cache/canary'); // inside the project, so that its packages are found; ignored by git

/** The planted error in each kind of file that is checked, and where. @type {Record<string, (value: string) => string>} */
const planted = {
  'Canary.svelte': (value) =>
    `<script lang="ts">\n  const turns: number = ${value};\n</script>\n\n<p>{turns}</p>\n`,
  'canary.ts': (value) => `export const turns: number = ${value};\n`,
  'canary.mjs': (value) => `/** @type {number} */\nexport const turns = ${value};\n`,
};

/** @param {string} value @returns {{ code: number | null, output: string }} what svelte-check says of it */
function check(value) {
  mkdirSync(folder, { recursive: true });
  writeFileSync(
    join(folder, 'tsconfig.json'),
    JSON.stringify({ extends: '../../tsconfig.json', include: ['*'], exclude: [] }),
  );
  for (const [name, content] of Object.entries(planted)) writeFileSync(join(folder, name), content(value));
  const script = join(root, 'node_modules/svelte-check/bin/svelte-check');
  const args = ['--workspace', folder, '--tsconfig', join(folder, 'tsconfig.json'), '--fail-on-warnings'];
  const { status, stdout } = spawnSync(process.execPath, [script, ...args, '--output', 'machine'], {
    cwd: root,
    encoding: 'utf8',
  });
  return { code: status, output: stdout };
}

/** @returns {number} 0 when the planted errors, and only these, are found */
function canary() {
  const sound = check('8000');
  if (sound.code !== 0) {
    console.error(`svelte-check must accept sound files; it said:\n${sound.output}`);
    return 1;
  }
  const broken = check("'many'");
  const found = (/** @type {string} */ name) =>
    broken.output
      .split('\n')
      .some((line) => line.includes(`ERROR "${name}"`) && line.includes("Type 'string' is not assignable"));
  if (broken.code === 0 || !Object.keys(planted).every(found)) {
    console.error(`svelte-check must report every planted type error; it said:\n${broken.output}`);
    return 1;
  }
  return 0;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) process.exitCode = canary();
