// Everything a fresh machine needs before any other command: Node built-ins only, since nothing is installed yet.
import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync, statSync, utimesSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

export const root = fileURLToPath(new URL('..', import.meta.url));

/** Stops with one line instead of a stack trace. @param {string} line @returns {never} */
export function stop(line) {
  console.error(line);
  process.exit(1);
}

/**
 * Runs a program to its end without standard input. Resolves symbols such as npm.cmd on Windows through a shell.
 * @param {string} program @param {string[]} args
 * @param {{ env?: Record<string, string>, quiet?: boolean, shell?: boolean, cwd?: string }} [options]
 *   quiet: its output goes to standard error, so that ours stays clean
 * @returns {number} its exit code; 127 when it could not be started
 */
export function run(program, args, options = {}) {
  const result = spawnSync(program, args, {
    cwd: options.cwd ?? root,
    env: { ...process.env, ...options.env },
    stdio: ['ignore', options.quiet ? 2 : 'inherit', 'inherit'],
    shell: options.shell ?? false,
  });
  return result.status ?? (result.error ? 127 : 1);
}

/** Runs a script of an installed package with this Node. @param {string} script @param {string[]} args */
export function runNode(script, args, options = {}) {
  return run(process.execPath, [script, ...args], options);
}

/** @param {string} version @returns {boolean} whether it is 20.19 or newer */
export function nodeIsNewEnough(version) {
  const [major = 0, minor = 0] = version.split('.').map(Number);
  return major > 20 || (major === 20 && minor >= 19);
}

/** The lock file's packages without what differs from machine to machine. @param {string} path */
function lockedPackages(path) {
  /** @type {{ packages: Record<string, { version?: string, integrity?: string }> }} */
  const lock = JSON.parse(readFileSync(path, 'utf8'));
  return Object.entries(lock.packages)
    .filter(([name]) => name !== '')
    .map(([name, entry]) => `${name} ${entry.version} ${entry.integrity}`);
}

/** @returns {boolean} whether node_modules is missing or was made from another lock file */
export function needsInstall(folder = root) {
  const wanted = `${folder}/package-lock.json`;
  const installed = `${folder}/node_modules/.package-lock.json`;
  if (!existsSync(installed)) return true;
  if (statSync(wanted).mtimeMs <= statSync(installed).mtimeMs) return false;
  // A newer date alone can be a mere checkout. npm leaves out what belongs to other platforms, so everything that is
  // installed must be in the lock file, and everything locked must be installed or optional.
  const have = new Set(lockedPackages(installed));
  const want = lockedPackages(wanted);
  /** @type {{ packages: Record<string, { optional?: boolean }> }} */
  const lock = JSON.parse(readFileSync(wanted, 'utf8'));
  const isOptional = (/** @type {string} */ line) =>
    lock.packages[line.split(' ')[0] ?? '']?.optional ?? false;
  const locked = new Set(want);
  const same = [...have].every((p) => locked.has(p)) && want.every((p) => have.has(p) || isOptional(p));
  if (same) utimesSync(installed, new Date(), new Date());
  return !same;
}

export function setup() {
  if (!nodeIsNewEnough(process.versions.node)) {
    stop(
      `Node.js must be 20.19 or newer; got ${process.versions.node}. Install a newer one from nodejs.org.`,
    );
  }
  if (!needsInstall()) return;
  console.error('Installing packages (npm ci) …');
  // Development packages are needed to build, even where NODE_ENV says production.
  const args = ['ci', '--include=dev', '--no-audit', '--no-fund'];
  const npm = process.env['npm_execpath'];
  const code =
    npm && npm.endsWith('.js')
      ? runNode(npm, args, { quiet: true })
      : run('npm', args, { quiet: true, shell: process.platform === 'win32' });
  if (code === 127) stop('npm could not be started; install it together with Node.js from nodejs.org.');
  if (code !== 0) {
    stop(
      `Packages could not be installed (npm ci ended with ${code}); see npm's message above, then try again.`,
    );
  }
}

if (process.argv[1] === fileURLToPath(import.meta.url)) setup();
