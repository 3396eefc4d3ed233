// A type checker that silently checks nothing looks like one that finds nothing. So: plant an error and demand it is seen.
import { spawnSync } from 'node:child_process';
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { root } from './setup.mjs';

const folder = join(root, '.cache/canary'); // inside the project, so that its packages are found; ignored by git

/** @param {string} value @returns {{ code: number | null, output: string }} what svelte-check says of it */
function check(value) {
  mkdirSync(folder, { recursive: true });
  writeFileSync(
    join(folder, 'tsconfig.json'),
    JSON.stringify({ extends: '../../tsconfig.json', include: ['*'], exclude: [] }),
  );
  writeFileSync(
    join(folder, 'Canary.svelte'),
    `<script lang="ts">\n  const turns: number = ${value};\n</script>\n\n<p>{turns}</p>\n`,
  );
  const script = join(root, 'node_modules/svelte-check/bin/svelte-check');
  const args = [
    script,
    '--workspace',
    folder,
    '--tsconfig',
    join(folder, 'tsconfig.json'),
    '--fail-on-warnings',
  ];
  const { status, stdout } = spawnSync(process.execPath, args, { cwd: root, encoding: 'utf8' });
  return { code: status, output: stdout };
}

/** @returns {number} 0 when the planted error, and only that, is found */
function canary() {
  const sound = check('8000');
  if (sound.code !== 0) {
    console.error(`svelte-check must accept a sound component; it said:\n${sound.output}`);
    return 1;
  }
  const broken = check("'many'");
  if (broken.code === 0 || !broken.output.includes("Type 'string' is not assignable to type 'number'")) {
    console.error(`svelte-check must report the planted type error; it said:\n${broken.output}`);
    return 1;
  }
  return 0;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) process.exitCode = canary();
