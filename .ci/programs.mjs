// Programs from outside npm that the tests use: a Chromium, and sox or ffmpeg to read WAV files back.
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

/** @param {string} name @returns {boolean} whether Debian's package is now installed */
function aptInstall(name) {
  console.log(`Installing Debian's ${name} …`);
  const options = { env: { DEBIAN_FRONTEND: 'noninteractive' }, quiet: true };
  run('apt-get', ['update', '-qq'], options); // a mirror that fails here may still have the package
  return run('apt-get', ['install', '-y', '-qq', '--no-install-recommends', name], options) === 0;
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

/** The same engine without windows, tabs and forms filled in by themselves: a tenth less of processor time. Debian's name for it. */
const HEADLESS = 'chromium-headless-shell';

/** @returns {string} the path of a Chromium; ends the program with one line when there is none */
export function findChromium() {
  const named = env['LODETONE_CHROMIUM'];
  if (named) {
    if (isProgram(named)) return named;
    stop(`LODETONE_CHROMIUM must name a Chromium program; got ${named}, which is not one.`);
  }
  const find = () =>
    onPath([HEADLESS, 'chromium', 'chromium-browser']) ??
    onPath(['google-chrome', 'google-chrome-stable', 'chrome', 'msedge']) ??
    usualChromiums().find(isProgram);
  const install = () => isRootOnDebian() && (aptInstall(HEADLESS) || aptInstall('chromium'));
  const found = find() ?? (install() ? find() : undefined);
  return (
    found ??
    stop(
      'The browser tests need Chromium: install it, or set LODETONE_CHROMIUM to the full path of the program.',
    )
  );
}

/** @returns {string} the path of sox or ffmpeg; ends the program with one line when there is neither */
export function findWavReader() {
  const find = () => onPath(['sox', 'ffmpeg']);
  const found = find() ?? (isRootOnDebian() && aptInstall('sox') ? find() : undefined);
  return (
    found ?? stop('The tests that read WAV files back need sox or ffmpeg: install one of them on the PATH.')
  );
}
