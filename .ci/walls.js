// The walls between the rooms of src/, and between those of src/physics/, as a lint rule: who may import whom, with the
// sentence that is shown.
// A rule of our own, because every way in counts: import, export from, import(), import type, import('x').Type and
// new URL('x', import.meta.url).
import { builtinModules } from 'node:module';
import circles from './circles.js';
import { posix, relative, sep } from 'node:path';

/**
 * @typedef {object} Room
 * @property {RegExp} at the room's files, by path from the project's folder
 * @property {RegExp[]} may what its files may import, besides their own room
 * @property {RegExp[]} [types] what they may import as types only
 * @property {RegExp[]} [packages] packages they may import
 * @property {RegExp[]} [late] packages they may load with import() or name as types
 * @property {string} because said when they import anything else
 */
const anything = /^/;
const physics = /^src\/physics\//;
const sheet = /^src\/sheet\//;
const shape = /^src\/shape\//;
const svelte = /^svelte(\/|$)/;

/** The first room that a file is in is its room. @type {Room[]} */
const rooms = [
  {
    at: shape,
    may: [],
    because:
      'shape/ is figures and geometry for everybody: it imports nothing of ours and no package; hand it numbers.',
  },
  {
    at: /^src\/physics\//,
    may: [shape],
    types: [/^src\/sheet\/sheet\.ts$/],
    packages: [/^fft\.js$/],
    because:
      'physics/ must run anywhere: it imports nothing of ours but shape/ and types from sheet/sheet.ts, and only fft.js from outside.',
  },
  {
    at: /^src\/sheet\/units[^/]*\.ts$/,
    may: [sheet, shape, /^src\/physics\/units(\.ts$|\/)/],
    packages: [/^mathjs$/],
    because:
      'sheet/units reads figures and units: it imports the sheet, shape/, physics/units and mathjs, nothing else.',
  },
  {
    at: /^src\/sheet\//,
    may: [shape, /^src\/physics\/units(\.ts$|\/)/, /^presets\/[^/]*\.json$/],
    late: [/^mathjs$/],
    because:
      'sheet/ is the document: it imports shape/, physics/units and presets only; mathjs is large, so load it with import() or in sheet/units*.ts.',
  },
  {
    at: /^src\/plot\//,
    may: [shape],
    because:
      'plot/ is geometry alone: it imports nothing of ours but shape/ and no package; hand it numbers.',
  },
  {
    at: /^src\/benchSheet\//,
    may: [sheet, shape, /^src\/plot\//],
    types: [/^src\/physics\/benchFigures\.ts$/],
    packages: [/^uqr$/],
    because:
      'benchSheet/ sets a page from figures that it is given: it imports sheet, shape, plot, types of physics/benchFigures.ts, and uqr for the code.',
  },
  {
    at: /^src\/jobs\//,
    may: [physics, sheet],
    because: 'jobs/ runs the prediction elsewhere: it imports physics and sheet, nothing nearer the screen.',
  },
  {
    at: /^src\/audio\/.*\.worklet\.ts$/,
    may: [/^src\/physics\/sound(\.ts$|\/)/],
    because: 'A worklet is bundled by itself and runs in real time: it imports physics/sound only.',
  },
  {
    at: /^src\/audio\//,
    may: [physics, sheet],
    because: 'audio/ plays what physics renders: it imports physics and sheet, nothing nearer the screen.',
  },
  {
    at: /^src\/state\//,
    may: [/^src\/(jobs|audio|benchSheet|plot|sheet|shape)\//],
    packages: [svelte, /^idb$/],
    because:
      'state/ reaches physics only through jobs and audio: it imports jobs, audio, benchSheet, plot, sheet, shape, svelte and idb.',
  },
  {
    at: /^src\/ui\//,
    may: [/^src\/(state|benchSheet|plot|sheet|shape)\//],
    packages: [svelte, /^@fontsource\//],
    because:
      'ui/ computes nothing: it imports state, benchSheet, plot, sheet, shape and svelte; never physics, jobs or audio, not even a type.',
  },
  {
    at: /^src\/cli\//,
    may: [physics, sheet, /^src\/benchSheet\//],
    packages: [/^node:/],
    because: 'cli/ is the prediction in a terminal: it imports sheet, physics, benchSheet and Node itself.',
  },
  {
    at: /^src\/[^/]+$/,
    may: [anything],
    packages: [anything],
    because: 'main.ts may import everything in src/.',
  },
];

// From the ground up: each enters those before it.
const magnetics = ['materials', 'bodies', 'kernels', 'charges', 'coil', 'plates', 'build', 'pickup'].map(
  (name) => `magnetics/${name}`,
);

/** Rooms of src/physics/: what each is, and which of the others it may enter. Files outside all of them enter any. */
const physicsRooms = new Map([
  ['numerics', { is: 'mathematics, vectors, constants of nature and what is kept', may: [] }],
  ['string', { is: 'the string by itself', may: ['numerics'] }],
  ['magnetics/materials', { is: 'what magnets, steels and sheet metals are made of', may: ['numerics'] }],
  ['magnetics/bodies', { is: 'bodies and their meshes', may: below('bodies') }],
  ['magnetics/kernels', { is: 'what one element does to another', may: below('kernels') }],
  ['magnetics/charges', { is: 'the charges on a set of bodies', may: below('charges') }],
  ['magnetics/coil', { is: 'wire, coils and their cores', may: below('coil') }],
  ['magnetics/plates', { is: 'eddy currents in plates', may: below('plates') }],
  ['magnetics/build', { is: 'a pickup as its maker describes it, and its checks', may: below('build') }],
  ['magnetics/pickup', { is: 'a build, solved', may: below('pickup') }],
  ['magnetics/overPickup', { is: 'strings over a solved build', may: [...below('overPickup'), 'string'] }],
  ['picture', { is: 'pictures of the field', may: [...below('overPickup'), 'magnetics/overPickup'] }],
  ['hearing', { is: 'what an ear tells apart', may: [] }],
  ['circuit', { is: 'coils and controls as a network', may: ['numerics', 'magnetics/coil'] }],
  [
    'heard',
    { is: 'a sheet with nothing left open', may: ['numerics', 'string', 'circuit', 'magnetics/pickup'] },
  ],
  ['sound', { is: 'the sound of a whole phrase', may: ['numerics', 'string', 'circuit', 'heard'] }],
  ['sound/live', { is: 'sound in blocks', may: ['numerics', 'string', 'circuit', 'heard', 'sound'] }],
]);

/** @param {string} name of a room of magnetics @returns {string[]} */
function below(name) {
  const at = magnetics.indexOf(`magnetics/${name}`);
  return ['numerics', ...magnetics.slice(0, at < 0 ? magnetics.length : at)];
}

/** @param {string} file path from the project's folder @returns its folder in src/physics/; undefined for a file elsewhere */
const physicsFolder = (file) =>
  file.startsWith('src/physics/')
    ? file.slice('src/physics/'.length).split('/').slice(0, -1).join('/')
    : undefined;

/**
 * @param {string} file @param {string} target
 * @returns {string | undefined} the sentence, when a wall inside physics/ is in the way
 */
function insidePhysics(file, target) {
  const from = physicsFolder(file);
  const to = physicsFolder(target);
  if (from === undefined || to === undefined || from === '' || from === to) return undefined;
  const room = physicsRooms.get(from);
  if (room === undefined) return `physics/${from}/ is no room of physics/; give it a place in .ci/walls.js.`;
  if (room.may.includes(to)) return undefined;
  const may = room.may.length === 0 ? 'no other room' : `${room.may.join(', ')} only`;
  return `physics/${from}/ is ${room.is}: of physics/ it enters ${may}, not even for a type; got ${to || 'a file of the top floor'}.`;
}

/** @param {string} file path from the project's folder @returns the folder that counts as the room's own */
const ownFolder = (file) => /^src\/[^/]+\//.exec(file)?.[0] ?? 'src/';

/**
 * @param {string} file @param {string} source what it imports @param {'now' | 'late' | 'type'} how
 * @returns {string | undefined} the sentence, when a wall is in the way
 */
export function objection(file, source, how) {
  const room = rooms.find(({ at }) => at.test(file));
  if (room === undefined)
    return file.startsWith('src/') ? `${ownFolder(file)} is no room of this house.` : undefined;
  const fits = (/** @type {RegExp[] | undefined} */ list, /** @type {string} */ name) =>
    list?.some((pattern) => pattern.test(name)) ?? false;

  const [name = ''] = source.split('?');
  if (!/^[./]/.test(name)) {
    const pack = builtinModules.includes(name) ? `node:${name}` : name;
    return fits(room.packages, pack) || (how !== 'now' && fits(room.late, pack)) ? undefined : room.because;
  }
  const target = posix.join(posix.dirname(file), name);
  if (!/\.\w+$/.test(name)) return `Write the file's ending: '${name}.ts'.`;
  if (/\.worklet\.ts$/.test(target) && source !== `${name}?worker&url`) {
    return `The bundler compiles a worklet only when it is imported as '${name}?worker&url'.`;
  }
  const isOwn = target.startsWith(ownFolder(file)) && !/\.worklet\.ts$/.test(file);
  if (isOwn || fits(room.may, target)) {
    return /^(src|presets)\//.test(target)
      ? insidePhysics(file, target)
      : 'src/ imports nothing from the tests or the tools.';
  }
  return how === 'type' && fits(room.types, target) ? undefined : room.because;
}

/** @type {import('eslint').Rule.RuleModule} */
const imports = {
  meta: { type: 'problem', schema: [] },
  create(context) {
    const file = relative(context.cwd, context.filename).split(sep).join('/');
    /** @param {any} node @param {any} source @param {'now' | 'late' | 'type'} how */
    const check = (node, source, how) => {
      if (source?.type === 'TemplateLiteral' && source.expressions.length === 0) {
        source = { type: 'Literal', value: source.quasis[0].value.cooked };
      }
      if (source?.type !== 'Literal' || typeof source.value !== 'string') return;
      const message = objection(file, source.value, how);
      if (message !== undefined) context.report({ node, message });
    };
    /** @param {any} node the specifiers of `import { type A, type B }` are types as well */
    const kind = (node) =>
      node.importKind === 'type' ||
      node.exportKind === 'type' ||
      (node.specifiers?.length > 0 &&
        node.specifiers.every((/** @type {any} */ s) => s.importKind === 'type' || s.exportKind === 'type'))
        ? 'type'
        : 'now';
    /** @type {Record<string, (node: any) => void>} */
    const visitors = {
      ImportDeclaration: (node) => check(node, node.source, kind(node)),
      ExportNamedDeclaration: (node) => check(node, node.source, kind(node)),
      ExportAllDeclaration: (node) => check(node, node.source, kind(node)),
      TSImportType: (node) => check(node, node.source ?? node.argument?.literal, 'type'),
      ImportExpression(node) {
        if (node.source.type === 'Literal' || node.source.type === 'TemplateLiteral') {
          check(node, node.source, 'late');
        }
        if (file.startsWith('src/') && node.source.type !== 'Literal') {
          context.report({
            node,
            message: 'Name the file of an import() in plain quotes, so that it can be checked.',
          });
        }
      },
      "NewExpression[callee.name='URL']"(node) {
        if (!file.startsWith('src/') || node.arguments[1]?.type !== 'MemberExpression') return;
        check(node, node.arguments[0], 'now');
        // Elsewhere than directly in `new Worker(…)` the bundler copies the file uncompiled.
        if (/\.ts$/.test(node.arguments[0]?.value ?? '') && node.parent.callee?.name !== 'Worker') {
          context.report({
            node,
            message: "Write new Worker(new URL('./x.worker.ts', import.meta.url)) in one piece.",
          });
        }
      },
      "MemberExpression[object.type='MetaProperty'][property.name='glob']"(node) {
        if (file.startsWith('src/') && !['src/main.ts', 'src/presets.ts'].includes(file)) {
          context.report({
            node,
            message: 'import.meta.glob hides what is imported; import the files by name.',
          });
        }
      },
    };
    return visitors;
  },
};

/** @type {import('eslint').ESLint.Plugin} */
export default { meta: { name: 'walls' }, rules: { imports, circles } };
