// Programs from outside npm that the tests use: a Chromium, and sox or ffmpeg to read WAV files back.
import { spawn } from 'node:child_process';
import { accessSync, constants, existsSync, readFileSync, statSync } from 'node:fs';
import { delimiter, join } from 'node:path';
import { run, stop } from './setup.mjs';

const env = process.env;

/** @param {string} path */
function isProgram(path) {
  try {
    accessSync(path, constants.X_OK);
    return statSync(path).isFile();
  } catch {
    return false;
  }
}

/** @param {string[]} names @returns {string | undefined} the first that is on PATH, as a full path */
export function onPath(names) {
  const folders = (env['PATH'] ?? '').split(delimiter).filter(Boolean);
  const endings = process.platform === 'win32' ? ['.exe'] : [''];
  for (const name of names)
    for (const folder of folders)
      for (const ending of endings) {
        const path = join(folder, name + ending);
        if (isProgram(path)) return path;
      }
  return undefined;
}

function isRootOnDebian() {
  if (process.getuid?.() !== 0 || !existsSync('/etc/os-release')) return false;
  // Derivatives are left out: Ubuntu's chromium package only points to a snap.
  return /^ID=debian$/m.test(readFileSync('/etc/os-release', 'utf8')) && onPath(['apt-get']) !== undefined;
}

const APT = { DEBIAN_FRONTEND: 'noninteractive' };
const APT_INSTALL = ['install', '-y', '-qq', '--no-install-recommends'];

/** @param {string} name @returns {boolean} whether Debian's package is now installed */
function aptInstall(name) {
  console.log(`Installing Debian's ${name} …`);
  const options = { env: APT, quiet: true };
  run('apt-get', ['update', '-qq'], options); // a mirror that fails here may still have the package
  return run('apt-get', [...APT_INSTALL, name], options) === 0;
}

/**
 * Begins to install what the tests need and isn't there, where it can be, beside what else is set up.
 * @returns {Promise<void>} when that is over, well or not: `findChromium` and `findWavReader` say what still isn't there
 */
export function beginInstall() {
  const missing = [
    ...(env['LODETONE_CHROMIUM'] || chromium() ? [] : [HEADLESS]),
    ...(wavReader() ? [] : ['sox']),
  ];
  if (missing.length === 0 || !isRootOnDebian()) return Promise.resolve();
  console.error(`Installing Debian's ${missing.join(' and ')} …`);
  const command = `apt-get update -qq; exec apt-get ${[...APT_INSTALL, ...missing].join(' ')}`;
  const child = spawn('sh', ['-c', command], {
    env: { ...env, ...APT },
    stdio: ['ignore', 2, 'inherit'],
  });
  return new Promise((over) => child.on('close', () => over()).on('error', () => over()));
}

function usualChromiums() {
  if (process.platform === 'darwin') {
    const inside = ['Chromium', 'Google Chrome', 'Microsoft Edge'].map(
      (name) => `/Applications/${name}.app/Contents/MacOS/${name}`,
    );
    return [...inside, ...inside.map((path) => join(env['HOME'] ?? '', path))];
  }
  if (process.platform === 'win32') {
    const homes = [env['ProgramFiles'], env['ProgramFiles(x86)'], env['LOCALAPPDATA']];
    return homes.flatMap((home) =>
      home === undefined
        ? []
        : [
            join(home, 'Chromium/Application/chrome.exe'),
            join(home, 'Google/Chrome/Application/chrome.exe'),
            join(home, 'Microsoft/Edge/Application/msedge.exe'),
          ],
    );
  }
  return [
    '/usr/bin/chromium',
    '/usr/lib/chromium/chromium',
    '/snap/bin/chromium',
    '/opt/google/chrome/chrome',
  ];
}

/** The same engine without windows, tabs and forms filled in by themselves: a fifth less of processor time. Debian's name for it. */
const HEADLESS = 'chromium-headless-shell';

const chromium = () =>
  onPath([HEADLESS, 'chromium', 'chromium-browser']) ??
  onPath(['google-chrome', 'google-chrome-stable', 'chrome', 'msedge']) ??
  usualChromiums().find(isProgram);

const wavReader = () => onPath(['sox', 'ffmpeg']);

/** @returns {string} the path of a Chromium; ends the program with one line when there is none */
export function findChromium() {
  const named = env['LODETONE_CHROMIUM'];
  if (named) {
    if (isProgram(named)) return named;
    stop(`LODETONE_CHROMIUM must name a Chromium program; got ${named}, which is not one.`);
  }
  const install = () => isRootOnDebian() && (aptInstall(HEADLESS) || aptInstall('chromium'));
  const found = chromium() ?? (install() ? chromium() : undefined);
  return (
    found ??
    stop(
      'The browser tests need Chromium: install it, or set LODETONE_CHROMIUM to the full path of the program.',
    )
  );
}

/** @returns {string} the path of sox or ffmpeg; ends the program with one line when there is neither */
export function findWavReader() {
  const found = wavReader() ?? (isRootOnDebian() && aptInstall('sox') ? wavReader() : undefined);
  return (
    found ?? stop('The tests that read WAV files back need sox or ffmpeg: install one of them on the PATH.')
  );
}
