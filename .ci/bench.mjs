// npm run bench: measures on this machine; it asserts nothing.
import { existsSync, readdirSync } from 'node:fs';
import { cpus } from 'node:os';
import { join } from 'node:path';
import { root, run, runNode, setup, stop } from './setup.mjs';

const [first, ...others] = cpus();
console.log(
  `${first?.model.trim() ?? 'unknown processor'}, ${others.length + 1} cores, Node ${process.versions.node}`,
);

setup();
if (runNode(join(root, 'node_modules/vite/bin/vite.js'), ['build', '--logLevel', 'warn']) !== 0) {
  stop('The app could not be built; see the message above.');
}
const folder = join(root, 'tests/bench');
const wanted = process.argv.slice(2);
const benches = (existsSync(folder) ? readdirSync(folder) : [])
  .filter((name) => name.endsWith('.ts'))
  .filter((name) => wanted.length === 0 || wanted.some((word) => name.includes(word)))
  .sort();
if (benches.length === 0) stop('There is no bench of that name in tests/bench.');
for (const name of benches) {
  console.log(`\n${name.replace(/\.ts$/, '')}`);
  const code = run(process.execPath, ['--import', import.meta.resolve('tsx'), join(folder, name)]);
  if (code !== 0) stop(`${name} ended with ${code}.`);
}
