/** Plants functions with and without units in their doc comments. */
import { ESLint } from 'eslint';
import { expect, test } from 'vitest';
import { root } from '../../.ci/setup.mjs';

const eslint = new ESLint({ cwd: root, overrideConfigFile: '.ci/eslint.config.js' });

async function objections(code: string, filePath = 'src/physics/string/a.ts'): Promise<readonly string[]> {
  const [result] = await eslint.lintText(`${code}\n`, { filePath });
  const unread = result!.messages.find(({ ruleId }) => ruleId === null);
  if (unread) throw new Error(`The planted code must parse; got: ${unread.message}`);
  return result!.messages.filter(({ ruleId }) => ruleId === 'units/doc').map(({ message }) => message);
}

const body = 'export const f = (x: number): number => x;';

test.each([
  ['no doc comment', 'export function f(x: number): number {\n  return x;\n}'],
  ['a plain comment', `// x in m\n${body}`],
  ['a sentence alone', `/** Twice as much. */\n${body}`],
  ['a parameter without one', `/** Twice as much. @param x how much */\n${body}`],
  [
    'an article that looks like one',
    `/** A coil's share of it, as A said. */\n${body}`.replace('share', 'part'),
  ],
  ['a possessive that looks like one', `/** The coil's, the pole's. */\n${body}`],
  ['a figure that looks like one', `/** Case 1 is the mean. */\n${body}`],
  ['typed arrays', '/** Twice as much. */\nexport function f(x: Float64Array): void {\n  x.fill(0);\n}'],
  ['a result alone', '/** Twice as much. */\nexport function f(x: string): number {\n  return x.length;\n}'],
  ['a default', '/** Twice as much. */\nexport function f(x: number = 2): void {\n  console.log(x);\n}'],
])('%s is refused', async (_, code) => {
  expect((await objections(code)).join('\n')).toMatch(
    /^The doc comment of f must name a unit .* got no(ne| doc comment)\.$/,
  );
});

test.each([
  ['a length', '/** Length of it, m. */'],
  ['a bracket', '/** Field (A/m) of it. */'],
  ['a parameter', '/** Twice as much. @param x Hz */'],
  ['several names', '/** Twice as much. @param x y m */'],
  ['a product', '/** Reach of it, V·s/m per metre. */'],
  ['with what it is for', '/** Core inductance, H per turn². */'],
  ['a prefix', '/** Width of it, mm. */'],
  ['nothing', '/** Susceptibility at small fields, 1. */'],
  ['a share', '/** Share of it. */'],
  ['an index', '/** @param x index of the pickup */'],
  ['any', '/** Sum of them, in any unit. */'],
  ['a last line', '/**\n * Twice as much.\n *\n * @param x\n *   of it, T\n */'],
])('%s is a unit', async (_, comment) => {
  expect(await objections(`${comment}\n${body}`)).toEqual([]);
});

test.each([
  [
    'a function that is not handed out',
    '/** Twice. */\nfunction f(x: number): number {\n  return x;\n}\nexport const g = f;',
    undefined,
  ],
  [
    'a function without numbers',
    '/** Says it. */\nexport function f(x: string): string {\n  return x;\n}',
    undefined,
  ],
  ['mathematics', `/** Twice as much. */\n${body}`, 'src/physics/numerics/a.ts'],
  ['another room', `/** Twice as much. */\n${body}`, 'src/plot/a.ts'],
])('%s needs none', async (_, code, file) => {
  expect(await objections(code, file)).toEqual([]);
});
