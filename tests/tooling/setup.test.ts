import { mkdirSync, mkdtempSync, rmSync, utimesSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { needsInstall, nodeIsNewEnough } from '../../.ci/setup.mjs';

let folder: string;

const a = { version: '1.0.0', integrity: 'sha512-a' };
const elsewhere = { version: '1.0.0', integrity: 'sha512-e', optional: true };

function lock(path: string, packages: object, age: number): void {
  const file = join(folder, path);
  writeFileSync(file, JSON.stringify({ packages }));
  const when = Date.now() / 1000 - age;
  utimesSync(file, when, when);
}

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'lodetone-setup-'));
  mkdirSync(join(folder, 'node_modules'));
});
afterEach(() => rmSync(folder, { recursive: true }));

test('Node 20.19 is the oldest', () => {
  expect(['20.18.3', '18.20.0', '20.19.0', '22.0.0'].map(nodeIsNewEnough)).toEqual([
    false,
    false,
    true,
    true,
  ]);
});

test('packages are installed when there are none or the lock file has moved on', () => {
  lock('package-lock.json', { '': {}, 'node_modules/a': a, 'node_modules/e': elsewhere }, 100);
  expect(needsInstall(folder)).toBe(true);

  lock('node_modules/.package-lock.json', { 'node_modules/a': a }, 50);
  expect(needsInstall(folder)).toBe(false);

  lock('package-lock.json', { '': {}, 'node_modules/a': { ...a, version: '1.0.1' } }, 0);
  expect(needsInstall(folder)).toBe(true);

  lock('package-lock.json', { '': {}, 'node_modules/a': a, 'node_modules/b': { version: '1.0.0' } }, 0);
  expect(needsInstall(folder)).toBe(true);

  lock('package-lock.json', { '': {} }, 0);
  expect(needsInstall(folder)).toBe(true);
});

test('a lock file that is only newer by its date needs no installing', () => {
  lock('node_modules/.package-lock.json', { 'node_modules/a': a }, 50);
  lock('package-lock.json', { '': {}, 'node_modules/a': a, 'node_modules/e': elsewhere }, 0);
  expect(needsInstall(folder)).toBe(false);
});
