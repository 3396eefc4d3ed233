// npm run bench: measures on this machine; it asserts nothing.
import { existsSync, readdirSync } from 'node:fs';
import { cpus } from 'node:os';
import { dirname, join } from 'node:path';
import { pathToFileURL } from 'node:url';
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
  .map((name) => name.replace(/\.ts$/, ''))
  .sort();
if (benches.length === 0) stop('There is no bench of that name in tests/bench.');

/** What finds a file by its own place finds it still. @type {import('vite').Plugin} */
const inPlace = {
  name: 'in-place',
  enforce: 'pre',
  transform: {
    filter: { id: { exclude: /node_modules/ }, code: /import\.meta\./ },
    handler: (code, id) =>
      code
        .replaceAll('import.meta.url', JSON.stringify(pathToFileURL(id).href))
        .replaceAll('import.meta.dirname', JSON.stringify(dirname(id))),
  },
};

const bundled = await bundle();
for (const name of benches) {
  console.log(`\n${name}`);
  const code = run(process.execPath, [join(bundled, `${name}.js`)]);
  if (code !== 0) stop(`${name} ended with ${code}.`);
}

/**
 * Bundles the benches as the page is: a loader that compiles file by file names every function anew each time it is made, and
 * overstates our code by a tenth to a quarter.
 * @returns {Promise<string>} the folder where they are
 */
async function bundle() {
  // Installed by now.
  const { build } = await import('vite');
  const outDir = join(root, '.cache/bench');
  await build({
    root,
    configFile: false,
    publicDir: false,
    logLevel: 'warn',
    plugins: [inPlace],
    ssr: { noExternal: ['fft.js'] },
    build: {
      ssr: true,
      outDir,
      emptyOutDir: true,
      target: 'es2022',
      minify: true,
      rolldownOptions: {
        input: Object.fromEntries(benches.map((name) => [name, join(folder, `${name}.ts`)])),
      },
    },
  });
  return outDir;
}
