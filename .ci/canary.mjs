// A check that silently checks nothing looks like one that finds nothing. So: plant errors and demand they are seen.
import { spawnSync } from 'node:child_process';
import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { checkComponents } from './components.mjs';
import { root } from './setup.mjs';
import { oxlint } from './steps.mjs';

const folder = join(root, '.cache/canary'); // inside the project, so that its packages are found; ignored by git

/**
 * What stands in each kind of file that is checked: a figure that must be a number, a promise that must not be let go, and in
 * a component a name that nothing uses.
 * @type {Record<string, (value: string, call: string, idle: string) => string>}
 */
const planted = {
  'Canary.svelte': (value, call, idle) =>
    `<script lang="ts">\n  ${idle}\n  const turns: number = ${value};\n  const wind = async (): Promise<number> => Promise.resolve(turns);\n` +
    `  function press(): void {\n    ${call};\n  }\n</script>\n\n<button onclick={press}>{turns}</button>\n`,
  'canary.ts': (value, call) =>
    `export const turns: number = ${value};\nconst wind = async (): Promise<number> => Promise.resolve(turns);\n${call};\n`,
  'canary.mjs': (value, call) =>
    `/** @type {number} */\nexport const turns = ${value};\nconst wind = async () => Promise.resolve(turns);\n${call};\n`,
};
/** The same files without an error, each beside one with: only what was planted may be found. */
const sound = (/** @type {string} */ name) => `sound-${name}`;

/** @returns {string} what is said of all of them */
function check() {
  rmSync(folder, { recursive: true, force: true });
  mkdirSync(folder, { recursive: true });
  writeFileSync(
    join(folder, 'tsconfig.json'),
    JSON.stringify({ extends: '../../tsconfig.json', include: ['*'], exclude: [] }),
  );
  for (const [name, content] of Object.entries(planted)) {
    writeFileSync(join(folder, name), content("'many'", 'wind()', 'const unused = 1;'));
    writeFileSync(join(folder, sound(name)), content('8000', 'void wind()', ''));
  }
  const { output } = checkComponents(folder, ['--output', 'machine']);
  const files = Object.keys(planted)
    .filter((name) => !name.endsWith('.svelte'))
    .flatMap((name) => [join(folder, name), join(folder, sound(name))]);
  const { stdout } = spawnSync(process.execPath, oxlint('.ci/oxlint.json', '--no-ignore', ...files), {
    cwd: root,
    encoding: 'utf8',
  });
  return output + stdout;
}

/** @returns {number} 0 when the planted errors, and only these, are found */
function canary() {
  const output = check();
  const lines = output.split('\n');
  const refused = Object.keys(planted).filter((name) => output.includes(sound(name)));
  const seen = (/** @type {string} */ name) => [
    lines.some((l) => l.includes(`ERROR "${name}"`) && l.includes("Type 'string' is not assignable")),
    lines.some((l) => l.includes(name) && l.includes('no-floating-promises')),
  ];
  const unused = lines.some((l) => l.includes('ERROR "Canary.svelte"') && l.includes("'unused' is declared"));
  if (refused.length === 0 && unused && Object.keys(planted).flatMap(seen).every(Boolean)) return 0;
  console.error(
    refused.length > 0
      ? `Sound files must be accepted; what was said:\n${output}`
      : `Every planted error must be reported; what was said:\n${output}`,
  );
  return 1;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) process.exitCode = canary();
