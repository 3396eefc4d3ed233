/** Plants an import through every wall and expects the sentence; and one through every door and expects none. */
import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { delimiter, dirname, join } from 'node:path';
import { ESLint } from 'eslint';
import { describe, expect, test } from 'vitest';
import { root } from '../../.ci/setup.mjs';
import { oxlint } from '../../.ci/steps.mjs';

const eslint = new ESLint({ cwd: root, overrideConfigFile: '.ci/eslint.config.js' });

async function lint(filePath: string, code: string): Promise<{ rule: string | null; message: string }[]> {
  const [result] = await eslint.lintText(`${code}\n`, { filePath });
  return (result?.messages ?? []).map(({ ruleId, message }) => ({ rule: ruleId, message }));
}

async function objections(file: string, code: string): Promise<string> {
  const found = await lint(file, file.endsWith('.svelte') ? `<script lang="ts">\n${code}\n</script>` : code);
  const unread = found.find(({ rule }) => rule === null);
  if (unread) throw new Error(`The planted code must parse; got: ${unread.message}`);
  return found
    .filter(({ rule }) => rule?.startsWith('walls/'))
    .map(({ message }) => message)
    .join('\n');
}

describe('a wall stops', () => {
  test.each([
    ['src/physics/a.ts', "import { x } from '../sheet/sheet.ts';", /physics\/ must run anywhere/],
    ['src/physics/a.ts', "import type { X } from '../sheet/units.ts';", /physics\/ must run anywhere/],
    ['src/physics/a.ts', "import { complex } from 'mathjs';", /physics\/ must run anywhere/],
    ['src/physics/deep/a.ts', "import { readFileSync } from 'node:fs';", /physics\/ must run anywhere/],
    ['src/physics/deep/a.ts', "export { x } from '../../plot/x.ts';", /physics\/ must run anywhere/],
    ['src/sheet/a.ts', "import { predict } from '../physics/predict.ts';", /sheet\/ is the document/],
    ['src/sheet/a.ts', "import { unit } from 'mathjs';", /load it with import\(\)/],
    ['src/sheet/units.ts', "import { predict } from '../physics/predict.ts';", /sheet\/units reads figures/],
    ['src/shape/a.ts', "import type { Pole } from '../sheet/build.ts';", /shape\/ is figures and geometry/],
    ['src/shape/a.ts', "import { x } from '../physics/units.ts';", /shape\/ is figures and geometry/],
    ['src/shape/a.ts', "import { hypot } from 'mathjs';", /shape\/ is figures and geometry/],
    ['src/shape/a.ts', "import { niceStep } from '../plot/scale.ts';", /shape\/ is figures and geometry/],
    ['src/benchSheet/a.ts', "import { predict } from '../physics/predict.ts';", /benchSheet\/ sets a page/],
    [
      'src/benchSheet/a.ts',
      "import { benchFigures } from '../physics/benchFigures.ts';",
      /benchSheet\/ sets a page/,
    ],
    ['src/benchSheet/a.ts', "import { x } from '../state/x.svelte.ts';", /benchSheet\/ sets a page/],
    ['src/jobs/a.ts', "import { FLANGE } from '../shape/bobbin.ts';", /jobs\/ runs the prediction/],
    ['src/plot/a.ts', "import type { Sheet } from '../sheet/sheet.ts';", /plot\/ is geometry alone/],
    ['src/plot/a.ts', "import { scaleLog } from 'd3-scale';", /plot\/ is geometry alone/],
    ['src/jobs/a.worker.ts', "import { x } from '../state/x.svelte.ts';", /jobs\/ runs the prediction/],
    ['src/jobs/a.ts', "import { x } from '../audio/x.ts';", /jobs\/ runs the prediction/],
    ['src/audio/a.ts', "import { x } from '../ui/x.ts';", /audio\/ plays what physics renders/],
    ['src/audio/a.worklet.ts', "import { x } from './player.ts';", /A worklet is bundled by itself/],
    [
      'src/audio/a.worklet.ts',
      "import { x } from '../physics/predict.ts';",
      /A worklet is bundled by itself/,
    ],
    [
      'src/state/a.svelte.ts',
      "import type { X } from '../physics/prediction.ts';",
      /state\/ reaches physics only/,
    ],
    ['src/state/a.svelte.ts', "import { x } from '../ui/x.ts';", /state\/ reaches physics only/],
    ['src/ui/A.svelte', "import type { X } from '../physics/prediction.ts';", /ui\/ computes nothing/],
    ['src/ui/A.svelte', "import { x } from '../jobs/client.ts';", /ui\/ computes nothing/],
    ['src/ui/deep/A.svelte', "import { x } from '../../audio/player.ts';", /ui\/ computes nothing/],
    [
      'src/ui/a.ts',
      "export type X = import('../physics/prediction.ts').Prediction;",
      /ui\/ computes nothing/,
    ],
    ['src/ui/a.ts', "export * from '../physics/prediction.ts';", /ui\/ computes nothing/],
    ['src/ui/a.ts', "export const x = import('../physics/predict.ts');", /ui\/ computes nothing/],
    ['src/ui/a.ts', "new Worker(new URL('../jobs/x.worker.ts', import.meta.url));", /ui\/ computes nothing/],
    ['src/ui/a.ts', 'export const x = (y: string) => import(`../${y}.ts`);', /in plain quotes/],
    ['src/ui/a.ts', "export const x = import.meta.glob('../physics/*.ts');", /glob hides/],
    ['src/cli/a.ts', "import { x } from '../jobs/x.ts';", /cli\/ is the prediction in a terminal/],
    ['src/cli/a.ts', "import { x } from '../plot/x.ts';", /cli\/ is the prediction in a terminal/],
    ['src/main.ts', "import { x } from '../tests/x.ts';", /nothing from the tests/],
    ['src/attic/a.ts', "import { x } from '../sheet/sheet.ts';", /no room of this house/],
    ['src/sheet/a.ts', "import { x } from './b';", /Write the file's ending/],
    ['src/audio/a.ts', "import url from './a.worklet.ts?url';", /only when it is imported as/],
    ['src/jobs/a.ts', "export const u = new URL('./a.worker.ts', import.meta.url);", /in one piece/],
  ])('%s: %s', async (file, code, sentence) => {
    expect(await objections(file, code)).toMatch(sentence);
  });
});

describe('a wall inside physics stops', () => {
  const physics = 'src/physics';
  const magnetics = `${physics}/magnetics`;
  test.each([
    [
      `${physics}/numerics/a.ts`,
      "import { x } from '../string/x.ts';",
      /numerics\/ is mathematics.* no other room/,
    ],
    [
      `${physics}/string/a.ts`,
      "import type { X } from '../magnetics/overPickup/x.ts';",
      /string\/ is the string by/,
    ],
    [
      `${physics}/string/a.ts`,
      "import type { X } from '../heard/resolved.ts';",
      /string\/ is the string by itself/,
    ],
    [
      `${physics}/circuit/a.ts`,
      "import type { X } from '../prediction.ts';",
      /circuit\/ .* got a file of the top floor/,
    ],
    [
      `${physics}/circuit/a.ts`,
      "import type { X } from '../heard/resolved.ts';",
      /circuit\/ is coils and controls/,
    ],
    [`${physics}/sound/a.ts`, "import { x } from './live/x.ts';", /sound\/ is the sound of a whole phrase/],
    [`${physics}/sound/live/a.ts`, "import { x } from '../../picture/x.ts';", /live\/ is sound in blocks/],
    [
      `${physics}/heard/a.ts`,
      "import { x } from '../sound/x.ts';",
      /heard\/ is a sheet with nothing left open/,
    ],
    [`${physics}/picture/a.ts`, "import { x } from '../sound/x.ts';", /picture\/ is pictures of the field/],
    [
      `${magnetics}/materials/a.ts`,
      "import { x } from '../bodies/x.ts';",
      /materials\/ is what magnets, steels/,
    ],
    [
      `${magnetics}/bodies/a.ts`,
      "import type { X } from '../kernels/x.ts';",
      /bodies\/ is bodies and their meshes/,
    ],
    [
      `${magnetics}/kernels/a.ts`,
      "import { x } from '../charges/x.ts';",
      /kernels\/ is what one element does/,
    ],
    [
      `${magnetics}/charges/a.ts`,
      "import { x } from '../coil/x.ts';",
      /charges\/ is the charges on a set of bodies/,
    ],
    [
      `${magnetics}/coil/a.ts`,
      "import { x } from '../plates/x.ts';",
      /coil\/ is wire, coils and their cores/,
    ],
    [`${magnetics}/plates/a.ts`, "import { x } from '../build/x.ts';", /plates\/ is eddy currents in plates/],
    [`${magnetics}/build/a.ts`, "import { x } from '../pickup/x.ts';", /build\/ is a pickup as its maker/],
    [
      `${magnetics}/pickup/a.ts`,
      "import type { X } from '../overPickup/x.ts';",
      /pickup\/ is a build, solved/,
    ],
    [
      `${magnetics}/overPickup/a.ts`,
      "import { x } from '../../circuit/x.ts';",
      /overPickup\/ is strings over a/,
    ],
    [
      `${magnetics}/attic/a.ts`,
      "import { x } from '../coil/x.ts';",
      /magnetics\/attic\/ is no room of physics/,
    ],
  ])('%s: %s', async (file, code, sentence) => {
    expect(await objections(file, code)).toMatch(sentence);
  });
});

describe('files that need each other are refused', () => {
  // complex-lu.ts imports complex.ts.
  const file = 'src/physics/numerics/complex.ts';
  test.each([
    "import { x } from './complex-lu.ts';",
    "import type { X } from './complex-lu.ts';",
    "export type X = import('./complex-lu.ts').X;",
    "export * from './complex-lu.ts';",
  ])('%s', async (code) => {
    expect(await objections(file, code)).toMatch(
      /not even for a type; got src\/physics\/numerics\/complex\.ts → .*complex-lu\.ts → .*complex\.ts\. Make them one/,
    );
  });

  test('over several files', async () => {
    // predict.ts imports sound/render.ts, which imports partials.ts by way of others.
    const code = "import type { Prediction } from '../predict.ts';";
    expect(await objections('src/physics/sound/partials.ts', code)).toMatch(
      /got src\/physics\/sound\/partials\.ts → src\/physics\/predict\.ts → .+ → src\/physics\/sound\/partials\.ts/,
    );
  });
});

describe('a door lets through', () => {
  test.each([
    ['src/physics/a.ts', "import type { Sheet } from '../sheet/sheet.ts';"],
    ['src/physics/a.ts', "import { type Sheet } from '../sheet/sheet.ts';"],
    ['src/physics/numerics/a.ts', "import FFT from 'fft.js';\nimport { x } from './b.ts';"],
    ['src/physics/string/a.ts', "import { x } from '../numerics/x.ts';"],
    ['src/physics/magnetics/overPickup/a.ts', "import { x } from '../../string/x.ts';"],
    ['src/physics/magnetics/kernels/a.ts', "import type { X } from '../bodies/x.ts';"],
    ['src/physics/a.ts', "import { x } from './magnetics/overPickup/x.ts';\nimport { y } from './b.ts';"],
    ['src/ui/A.svelte', "import A from './A.svelte';"],
    ['src/sheet/a.ts', "import { x } from '../physics/units.ts';\nimport y from '../../presets/y.json';"],
    ['src/sheet/a.ts', "export const m = import('mathjs');"],
    ['src/sheet/a.ts', "import { FLANGE } from '../shape/bobbin.ts';"],
    ['src/physics/deep/a.ts', "import { FLANGE } from '../../shape/bobbin.ts';"],
    ['src/ui/deep/A.svelte', "import { FLANGE } from '../../shape/bobbin.ts';"],
    ['src/plot/a.ts', "import { insideOutline } from '../shape/outline.ts';"],
    ['src/state/a.svelte.ts', "import { polePlace } from '../shape/poleRow.ts';"],
    ['src/shape/deep/a.ts', "import { x } from '../b.ts';"],
    ['src/sheet/units-maths.ts', "import { unit } from 'mathjs';"],
    ['src/jobs/a.ts', "new Worker(new URL('./a.worker.ts', import.meta.url), { type: 'module' });"],
    [
      'src/jobs/a.worker.ts',
      "import { x } from '../physics/predict.ts';\nimport { y } from '../sheet/y.ts';",
    ],
    ['src/audio/a.worklet.ts', "import { x } from '../physics/sound/x.ts';"],
    ['src/audio/a.ts', "import url from './a.worklet.ts?worker&url';\nimport { x } from '../sheet/x.ts';"],
    ['src/state/a.svelte.ts', "import { x } from '../jobs/x.ts';\nimport { flushSync } from 'svelte';"],
    [
      'src/ui/A.svelte',
      "import B from './B.svelte';\nimport type { S } from '../state/s.svelte.ts';\nimport './a.css';",
    ],
    ['src/cli/a.ts', "import { x } from '../physics/x.ts';\nimport { join } from 'node:path';"],
    ['src/main.ts', "export const p = import.meta.glob('../presets/*.json');"],
    ['src/presets.ts', "export const p = import.meta.glob('../presets/*.json');"],
    ['src/main.ts', "import { x } from './state/x.svelte.ts';\nimport { y } from './physics/y.ts';"],
  ])('%s: %s', async (file, code) => {
    expect(await objections(file, code)).toBe('');
  });
});

describe('in a component', () => {
  const fixed = /fixed style attribute breaks the Content-Security-Policy/;
  test.each([
    ['<p style="color: red">x</p>', fixed],
    ["<p style={'color: red'}>x</p>", fixed],
    ['<p>{@html "<b>x</b>"}</p>', /@html/],
  ])('%s is refused', async (code, sentence) => {
    const found = await lint('src/ui/A.svelte', code);
    expect(found.map(({ message }) => message).join('\n')).toMatch(sentence);
  });

  test('a style: directive and a computed style are accepted', async () => {
    const code =
      '<script lang="ts">\n  let x = $state(1);\n</script>\n\n<button onclick={() => x++} style:width="{x}px">x</button>';
    expect(await lint('src/ui/A.svelte', `${code}\n<p style="width: {x}px" style:color="red">x</p>`)).toEqual(
      [],
    );
  });
});

describe('a list on the screen', () => {
  const twice = /a text or a figure can stand twice/;
  test.each([
    '{#each names as name (name)}{name}{/each}',
    '{#each rows as row (row.name)}{row.name}{/each}',
    '{#each rows as { label } (label)}{label}{/each}',
    '{#each rows as row (`${row.a} ${row.b}`)}{row.a}{/each}',
    '{#each rows as row (row.x + row.y)}{row.x}{/each}',
    '{#each [0, 1, 1] as n (n)}{n}{/each}',
    '{#each [0, most] as n (n)}{n}{/each}',
  ])('%s is refused', async (code) => {
    const found = await lint('src/ui/A.svelte', code);
    expect(found.map(({ message }) => message).join('\n')).toMatch(twice);
  });

  test.each([
    '{#each names as name, i (i)}{name}{/each}',
    '{#each rows as row (row.key)}{row.key}{/each}',
    '{#each rows as { string, x } (string)}{x}{/each}',
    '{#each [-1, 1] as n (n)}{n}{/each}',
  ])('%s is accepted', async (code) => {
    const found = await lint('src/ui/A.svelte', code);
    expect(found.map(({ message }) => message).join('\n')).not.toMatch(twice);
  });
});

test('a file of more than 400 lines is refused', async () => {
  const found = await lint('src/plot/a.ts', 'export {};\n'.repeat(401));
  expect(found.some(({ rule }) => rule === 'max-lines')).toBe(true);
});

/** What is asked of them is planted above, one by one. */
test('what lints files of TypeScript asks all this of those in src, and of no other', () => {
  const folder = mkdtempSync(join(tmpdir(), 'lodetone-'));
  const planted = {
    'src/physics/a.ts': "import { B } from './b.ts';\n\nexport const a = (x: number): number => x + B;\n",
    'src/physics/b.ts': "export type { Sheet } from '../sheet/units.ts';\n\nexport const B = 1;\n",
    'src/state/c.svelte.ts': "import type { D } from './d.ts';\n\nexport type C = D;\n",
    'src/state/d.ts': `import type { C } from './c.svelte.ts';\n\nexport type D = C;\n${'//\n'.repeat(400)}`,
    'tests/e.ts':
      "import { B } from '../src/state/d.ts';\n\nexport const e = (x: number): number => x + B;\n",
  };
  try {
    for (const [name, code] of Object.entries(planted)) {
      mkdirSync(dirname(join(folder, name)), { recursive: true });
      writeFileSync(join(folder, name), code);
    }
    const command = oxlint(join(root, '.ci/oxlint.json'), 'src', 'tests');
    // Far from our packages it finds its type checker on PATH alone.
    const PATH = [join(root, 'node_modules/.bin'), process.env['PATH']].join(delimiter);
    const options = { cwd: folder, encoding: 'utf8', env: { ...process.env, PATH } } as const;
    const { stdout } = spawnSync(process.execPath, command, options);
    for (const one of [
      /^src\/physics\/a\.ts:.* must name a unit .*units\(doc\)/m,
      /^src\/physics\/b\.ts:.* must run anywhere.*walls\(imports\)/m,
      /^src\/state\/c\.svelte\.ts:.* got src\/state\/c\.svelte\.ts → src\/state\/d\.ts → src\/state\/c\.svelte\.ts\..*walls\(circles\)/m,
      /^src\/state\/d\.ts:.* got src\/state\/d\.ts → .*walls\(circles\)/m,
      /^src\/state\/d\.ts:.*max-lines/m,
    ])
      expect(stdout).toMatch(one);
    expect(stdout).not.toMatch(/^tests\/.*(walls|units)\(/m);
  } finally {
    rmSync(folder, { recursive: true });
  }
});
