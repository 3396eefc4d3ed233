// Files that need each other are one file, or one too many: no circle of imports, types counted, as a lint rule.
import { readFileSync, statSync } from 'node:fs';
import { dirname, relative, resolve, sep } from 'node:path';

const IMPORT = /\b(?:from|import)\s*\(?\s*'(\.{1,2}\/[^'?]+)'/g;

/** ms for which a file is taken to be as it was: an editor asks again later, a run asks of each a thousand times. */
const STILL = 1000;

/**
 * What files import, as they stood when they were last changed, and when they were last looked at.
 * @type {Map<string, { changed: number | undefined, seen: number, imports: string[] }>}
 */
const known = new Map();

/** @param {string} file whole path @returns {string[]} whole paths of ours that it imports; none for a file that is not there */
function importsOf(file) {
  const had = known.get(file);
  const now = performance.now();
  if (had && now - had.seen < STILL) return had.imports;
  const changed = statSync(file, { throwIfNoEntry: false })?.mtimeMs;
  const fresh = had !== undefined && had.changed === changed;
  const imports = fresh ? had.imports : changed === undefined ? [] : readImports(file);
  known.set(file, { changed, seen: now, imports });
  return imports;
}

/** @param {string} file whole path @returns {string[]} whole paths of ours that it imports */
function readImports(file) {
  if (!/\.(ts|svelte)$/.test(file)) return [];
  const code = readFileSync(file, 'utf8');
  return [...code.matchAll(IMPORT)].map(([, name = '']) => resolve(dirname(file), name));
}

/** @param {string} from @param {string} to @returns {string[] | undefined} the shortest way along imports, both ends included */
function way(from, to) {
  /** @type {Map<string, string | null>} */
  const before = new Map([[from, null]]);
  const queue = [from];
  for (let file = queue.shift(); file !== undefined; file = queue.shift()) {
    if (file === to) {
      const path = [];
      for (let at = /** @type {string | null} */ (file); at !== null; at = before.get(at) ?? null)
        path.unshift(at);
      return path;
    }
    for (const next of importsOf(file)) {
      if (before.has(next)) continue;
      before.set(next, file);
      queue.push(next);
    }
  }
  return undefined;
}

/** How many files stand on one another below each, as they stood when the first was asked for. @type {Map<string, number>} */
const heights = new Map();
let measured = -Infinity;

/** @param {string} file whole path @returns {number} Infinity for one in a circle, or above one */
function height(file) {
  const had = heights.get(file);
  if (had !== undefined) return had;
  heights.set(file, Infinity); // for whoever comes back to it meanwhile
  const found = 1 + Math.max(0, ...importsOf(file).map(height));
  heights.set(file, found);
  return found;
}

/** Nothing leads from a file up to one that stands higher, which spares most ways. @param {string} from @param {string} to */
function mayLead(from, to) {
  const now = performance.now();
  if (now - measured > STILL) {
    heights.clear();
    measured = now;
  }
  return from !== to && !(height(from) < height(to));
}

/** @type {import('eslint').Rule.RuleModule} */
export default {
  meta: { type: 'problem', schema: [] },
  create(context) {
    const file = context.filename;
    /** @param {any} node @param {any} source */
    const check = (node, source) => {
      if (typeof source?.value !== 'string' || !/^\.{1,2}\//.test(source.value)) return;
      // A worklet is a program of its own.
      if (source.value.includes('?')) return;
      const target = resolve(dirname(file), source.value);
      // A component may stand in itself.
      const back = mayLead(target, file) ? way(target, file) : undefined;
      if (back === undefined) return;
      const short = [file, ...back].map((path) => relative(context.cwd, path).split(sep).join('/'));
      context.report({
        node,
        message: `Files must not need each other, not even for a type; got ${short.join(' → ')}. Make them one file, or move what both need below them.`,
      });
    };
    return {
      ImportDeclaration: (/** @type {any} */ node) => check(node, node.source),
      ExportNamedDeclaration: (/** @type {any} */ node) => check(node, node.source),
      ExportAllDeclaration: (/** @type {any} */ node) => check(node, node.source),
      ImportExpression: (/** @type {any} */ node) => check(node, node.source),
      TSImportType: (/** @type {any} */ node) => check(node, node.source ?? node.argument?.literal),
    };
  },
};
