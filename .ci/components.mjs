// Types and warnings of everything that tsconfig.json names, and what lint asks of the types in components: svelte-check
// makes TypeScript of each of them, and leaves it where oxlint reads it.
import { spawnSync } from 'node:child_process';
import { readdirSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { root } from './setup.mjs';

const bin = (/** @type {string} */ path) => join(root, 'node_modules', path);

/**
 * @param {string} workspace a folder with a tsconfig.json
 * @param {string[]} options of svelte-check
 * @returns {{ code: number, output: string }} code 0 when nothing is wrong
 */
export function checkComponents(workspace, options = []) {
  const made = join(workspace, '.svelte-check');
  rmSync(made, { recursive: true, force: true });
  const config = join(workspace, 'tsconfig.json');
  const checked = node(
    [bin('svelte-check/bin/svelte-check'), '--tsgo', '--workspace', workspace, '--tsconfig', config],
    ['--fail-on-warnings', ...options],
  );
  const files = readdirSync(join(made, 'svelte'), { recursive: true, encoding: 'utf8' })
    .filter((file) => /\+\+[^/\\]*\.svelte\.ts$/.test(file))
    .map((file) => join(made, 'svelte', file));
  if (files.length === 0)
    return { code: 1, output: `${checked.output}No component was found in ${workspace}.\n` };
  // Named one by one: what git ignores it looks for nowhere.
  const linted = node(
    [bin('oxlint/bin/oxlint'), '--type-aware', '--config', join(root, '.ci/oxlint.components.json')],
    ['--format', 'unix', '--no-ignore', ...files],
  );
  return { code: checked.code || linted.code, output: checked.output + linted.output };
}

/** @param {string[]} program @param {string[]} options @returns {{ code: number, output: string }} */
function node(program, options) {
  const { status, stdout, stderr } = spawnSync(process.execPath, [...program, ...options], {
    cwd: root,
    encoding: 'utf8',
  });
  return { code: status ?? 1, output: stdout + stderr };
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const { code, output } = checkComponents(root);
  console.log(output.trimEnd());
  process.exitCode = code;
}
