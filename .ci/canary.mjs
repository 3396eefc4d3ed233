// A check that silently checks nothing looks like one that finds nothing. So: plant errors and demand they are seen.
import { spawnSync } from 'node:child_process';
import { mkdirSync, writeFileSync } from 'node:fs';
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
const FILES = Object.keys(planted);

/** @param {string} value @param {string} call @param {string} idle @returns {{ sound: boolean, output: string }} what is said of them */
function check(value, call, idle) {
  mkdirSync(folder, { recursive: true });
  writeFileSync(
    join(folder, 'tsconfig.json'),
    JSON.stringify({ extends: '../../tsconfig.json', include: ['*'], exclude: [] }),
  );
  for (const [name, content] of Object.entries(planted))
    writeFileSync(join(folder, name), content(value, call, idle));
  const checked = checkComponents(folder, ['--output', 'machine']);
  const files = FILES.filter((name) => !name.endsWith('.svelte')).map((name) => join(folder, name));
  const linted = spawnSync(process.execPath, oxlint('.ci/oxlint.json', '--no-ignore', ...files), {
    cwd: root,
    encoding: 'utf8',
  });
  return { sound: checked.code === 0 && linted.status === 0, output: checked.output + linted.stdout };
}

/** @returns {number} 0 when the planted errors, and only these, are found */
function canary() {
  const sound = check('8000', 'void wind()', '');
  if (!sound.sound) {
    console.error(`Sound files must be accepted; what was said:\n${sound.output}`);
    return 1;
  }
  const { output } = check("'many'", 'wind()', 'const unused = 1;');
  const lines = output.split('\n');
  const seen = (/** @type {string} */ name) => [
    lines.some((l) => l.includes(`ERROR "${name}"`) && l.includes("Type 'string' is not assignable")),
    lines.some((l) => l.includes(name) && l.includes('no-floating-promises')),
  ];
  const unused = lines.some((l) => l.includes('ERROR "Canary.svelte"') && l.includes("'unused' is declared"));
  if (!unused || !FILES.flatMap(seen).every(Boolean)) {
    console.error(`Every planted error must be reported; what was said:\n${output}`);
    return 1;
  }
  return 0;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) process.exitCode = canary();
