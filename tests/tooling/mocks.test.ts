/** A file that exchanges a module needs a process of its own: where modules are shared the exchange does nothing, unnoticed. */
import { readdirSync, readFileSync } from 'node:fs';
import { expect, it } from 'vitest';

it('only files that are named in vite.config.ts exchange modules', () => {
  const named = /const MOCKED = \[([^\]]*)\]/.exec(readFileSync('vite.config.ts', 'utf8'))![1]!;
  const mocking = readdirSync('tests', { recursive: true, encoding: 'utf8' })
    .filter((name) => /\.(test|soak)\.ts$/.test(name))
    .map((name) => `tests/${name.replaceAll('\\', '/')}`)
    .filter((path) => /\bvi\.(do)?mock\(/i.test(readFileSync(path, 'utf8')));
  expect(mocking.sort()).toEqual(Array.from(named.matchAll(/'([^']+)'/g), ([, path]) => path).sort());
});
