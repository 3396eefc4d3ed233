import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, relative } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { faults, manifestOf, measure } from '../../.ci/size.mjs';

let dist: string;

function put(file: string, text: string): void {
  mkdirSync(dirname(join(dist, file)), { recursive: true });
  writeFileSync(join(dist, file), text);
}

let folder: string;

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'lodetone-size-'));
  dist = join(folder, 'dist');
  put('index.html', '<link rel="stylesheet" href="./a.css"><script type="module" src="./a.js"></script>');
  put('a.js', 'const data = { style: 1 }; f("data:")');
  put('a.css', 'p { color: red }');
});
afterEach(() => rmSync(folder, { recursive: true }));

test('a sound build has no faults', () => {
  expect(faults(dist)).toEqual([]);
});

test.each([
  ['b.js', 'new Worker("data:video/mp2t;base64,aW1wb3J0")', /data: address; found data:video\/mp2t/],
  ['b.js', 'import("data:text/javascript,export{}")', /data: address/],
  ['b.css', 'p { background: url(data:image/svg+xml;base64,PHN2) }', /data: address/],
  ['assets/b.worklet-1a2b.ts', 'export {};', /no TypeScript source/],
  ['.vite/manifest.json', '{}', /notes must not be served/],
  ['index.html', '<script>go()</script>', /no script may be inline/],
  ['index.html', '<script type="module" src="./a.js">go()</script>', /no script may be inline/],
  ['index.html', '<style>p { color: red }</style>', /no style may be inline/],
  ['index.html', '<p style="color: red">', /no style may be inline/],
  ['index.html', '<body onload="go()">', /no event handler may be inline/],
])('%s with %s is a fault', (file, text, sentence) => {
  put(file, text);
  expect(faults(dist).join('\n')).toMatch(sentence);
});

test('what a worker imports at once counts as opening, and not what it imports later', () => {
  put(
    'assets/p.worker-1a2b.js',
    'import{a as b}from"./physics.js";import"./plain.js";b(import("./late.js"))',
  );
  put('assets/physics.js', 'import { c } from "./deeper.js"; export const a = c;');
  for (const file of ['plain.js', 'deeper.js', 'late.js']) put(`assets/${file}`, 'export const c = 1;');
  put(relative(dist, manifestOf(dist)), JSON.stringify({ 'index.html': { file: 'a.js', isEntry: true } }));
  const { open, later } = measure(dist);
  expect(open.map(({ file }) => file)).toEqual([
    'a.js',
    'assets/deeper.js',
    'assets/p.worker-1a2b.js',
    'assets/physics.js',
    'assets/plain.js',
  ]);
  expect(later.map(({ file }) => file)).toEqual(['assets/late.js']);
});

test('the entry, what it imports and the workers count as opening; the rest is later', () => {
  for (const file of ['shared.js', 'late.js', 'p.worker-1a2b.js', 's.worklet-1a2b.js'])
    put(`assets/${file}`, '1');
  put(
    relative(dist, manifestOf(dist)),
    JSON.stringify({
      'index.html': { file: 'a.js', isEntry: true, imports: ['_shared.js'], dynamicImports: ['late.ts'] },
      '_shared.js': { file: 'assets/shared.js', imports: ['index.html'] },
      'late.ts': { file: 'assets/late.js', imports: ['_shared.js'] },
    }),
  );
  const { open, styles, later } = measure(dist);
  expect(open.map(({ file }) => file)).toEqual(['a.js', 'assets/p.worker-1a2b.js', 'assets/shared.js']);
  expect(styles.map(({ file }) => file)).toEqual(['a.css']);
  expect(later.map(({ file }) => file)).toEqual(['assets/late.js', 'assets/s.worklet-1a2b.js']);
  expect(open[0]?.bytes).toBeGreaterThan(0);
});
