// npm start: install, build, serve, open.
import { spawn } from 'node:child_process';
import { join } from 'node:path';
import { serve } from './serve.mjs';
import { root, runNode, setup, stop } from './setup.mjs';

setup();
if (runNode(join(root, 'node_modules/vite/bin/vite.js'), ['build', '--logLevel', 'warn']) !== 0) {
  stop('The app could not be built; see the message above.');
}
const { address } = await serve(join(root, 'dist'));
console.log(`Lodetone is at ${address} (Ctrl+C ends it)`);
openInBrowser(address);

/** Opens the address where there is a desktop; elsewhere the printed line must do. @param {string} address */
function openInBrowser(address) {
  const { BROWSER, CI, DISPLAY, WAYLAND_DISPLAY } = process.env;
  if (BROWSER === 'none' || CI) return;
  /** @type {Partial<Record<NodeJS.Platform, [string, ...string[]]>>} */
  const openers = {
    darwin: ['open', address],
    // `start` takes its first quoted argument for a window title; Node quotes the empty one.
    win32: ['cmd', '/c', 'start', '', address],
    ...(DISPLAY || WAYLAND_DISPLAY ? { linux: ['xdg-open', address] } : {}),
  };
  const [program, ...args] = openers[process.platform] ?? [];
  if (program === undefined) return;
  const child = spawn(program, args, { stdio: 'ignore', detached: true });
  child.on('error', () => undefined); // no opener installed
  child.unref();
}
