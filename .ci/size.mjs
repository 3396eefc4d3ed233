// What the built app makes a visitor load, and what it must not contain.
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { basename, dirname, extname, join, relative, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import { gzipSync } from 'node:zlib';
import { root } from './setup.mjs';

/** Compressed script needed to open the app, bytes; 1 kB = 1000 bytes. */
const budget = 200_000;

/**
 * Where the bundler's notes on a build lie: beside it, since nobody who visits needs them.
 * @param {string} dist
 */
export const manifestOf = (dist) => join(dirname(dist), '.cache', `${basename(dist)}.manifest.json`);

/** @param {string} folder @returns {string[]} every file in it, as paths with forward slashes from it */
function filesIn(folder) {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => relative(folder, join(entry.parentPath, entry.name)).split(sep).join('/'))
    .sort();
}

/**
 * What a strict host would refuse to run, or what only the source should hold.
 * @param {string} dist @returns {string[]} one sentence each; empty when all is well
 */
export function faults(dist) {
  const found = [];
  for (const file of filesIn(dist)) {
    if (/manifest\.json$/.test(file)) found.push(`${file}: the bundler's notes must not be served.`);
    if (/\.[cm]?tsx?$/.test(file)) found.push(`${file}: no TypeScript source may be in the build.`);
    if (!['.js', '.css', '.html'].includes(extname(file))) continue;
    const text = readFileSync(join(dist, file), 'utf8');
    // The bundler turns a worker or worklet address that it does not recognise into a data: address.
    const data = /\bdata:[a-z]+\/[\w.+-]+[;,]/.exec(text);
    if (data) found.push(`${file}: nothing may be a data: address; found ${data[0]}.`);
    if (extname(file) !== '.html') continue;
    for (const [, attributes = '', body = ''] of text.matchAll(/<script\b([^>]*)>([^<]*)/gi)) {
      if (!/\bsrc\s*=/i.test(attributes) || body.trim() !== '')
        found.push(`${file}: no script may be inline.`);
    }
    if (/<style\b/i.test(text) || /<[^>]+\sstyle\s*=/i.test(text))
      found.push(`${file}: no style may be inline.`);
    if (/<[^>]+\son\w+\s*=/i.test(text)) found.push(`${file}: no event handler may be inline.`);
  }
  return found;
}

/**
 * @typedef {{ file: string, bytes: number }} Part bytes: compressed
 * @param {string} dist
 * @returns {{ open: Part[], styles: Part[], later: Part[] }} open: the scripts without which the app does not draw
 */
export function measure(dist) {
  /** @type {Record<string, { file: string, isEntry?: boolean, imports?: string[] }>} */
  const manifest = JSON.parse(readFileSync(manifestOf(dist), 'utf8'));
  const needed = new Set();
  /** @param {string} key */
  const need = (key) => {
    const chunk = manifest[key];
    if (chunk === undefined || needed.has(chunk.file)) return;
    needed.add(chunk.file);
    chunk.imports?.forEach(need);
  };
  for (const [key, chunk] of Object.entries(manifest)) if (chunk.isEntry) need(key);
  // A worker computes the first curve, so it counts, with what it imports; a worklet waits for the play button.
  // The notes know nothing of it: what it imports at once stands in its own text.
  /** @param {string} file */
  const begins = (file) => {
    if (needed.has(file)) return;
    needed.add(file);
    const text = readFileSync(join(dist, file), 'utf8');
    for (const [, other = ''] of text.matchAll(/\b(?:from|import)\s*"\.\/([^"]+\.js)"/g))
      begins(`${dirname(file)}/${other}`);
  };
  for (const file of filesIn(dist)) if (/\.worker-[^/]*\.js$/.test(file)) begins(file);

  const part = (/** @type {string} */ file) => ({
    file,
    bytes: gzipSync(readFileSync(join(dist, file))).length,
  });
  const scripts = filesIn(dist).filter((file) => file.endsWith('.js'));
  return {
    open: scripts.filter((file) => needed.has(file)).map(part),
    styles: filesIn(dist)
      .filter((file) => file.endsWith('.css'))
      .map(part),
    later: scripts.filter((file) => !needed.has(file)).map(part),
  };
}

/** Prints the sizes. @returns {number} 0 when the build is within the budget and free of faults */
export function size(dist = join(root, 'dist')) {
  if (!existsSync(manifestOf(dist))) {
    console.error('There is no build to measure: run npm run build first.');
    return 1;
  }
  const { open, styles, later } = measure(dist);
  const sum = (/** @type {Part[]} */ parts) => parts.reduce((total, { bytes }) => total + bytes, 0);
  const kB = (/** @type {number} */ bytes) => `${(bytes / 1000).toFixed(1)} kB`;
  for (const [title, parts] of /** @type {[string, Part[]][]} */ ([
    ['script at opening', open],
    ['styles', styles],
    ['script loaded later', later],
  ])) {
    console.log(`${title}: ${kB(sum(parts))} compressed`);
    for (const { file, bytes } of parts) console.log(`  ${kB(bytes).padStart(9)}  ${file}`);
  }
  const problems = faults(dist);
  if (sum(open) > budget) {
    problems.push(`Script at opening must be at most ${kB(budget)} compressed; got ${kB(sum(open))}.`);
  }
  problems.forEach((problem) => console.error(problem));
  return problems.length === 0 ? 0 : 1;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) process.exit(size());
