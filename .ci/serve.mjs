// A static file server for the built app, on this machine only. It stands for the strictest host the app must work on.
import { createReadStream } from 'node:fs';
import { realpath, stat } from 'node:fs/promises';
import { createServer } from 'node:http';
import { json } from 'node:stream/consumers';
import { extname, join, resolve, sep } from 'node:path';

/** Nothing inline, no eval, nothing from elsewhere. */
export const policy = [
  "default-src 'none'",
  "script-src 'self'",
  "style-src 'self'",
  "img-src 'self'",
  "font-src 'self'",
  "connect-src 'self'",
  "worker-src 'self'",
  "manifest-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
].join('; ');

/** The same in the page itself, for hosts that send no header; browsers take who may frame a page from a header alone. */
export const pagePolicy = policy.replace(/; frame-ancestors [^;]*/, '');

/** @type {Record<string, string>} */
const types = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.webmanifest': 'application/manifest+json; charset=utf-8',
  '.json': 'application/json; charset=utf-8',
  '.txt': 'text/plain; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.ico': 'image/x-icon',
  '.woff': 'font/woff',
  '.woff2': 'font/woff2',
  '.wav': 'audio/wav',
  '.wasm': 'application/wasm',
};

/**
 * The file that an address path stands for.
 * @param {string} folder absolute and real @param {string} address the request's path, as sent
 * @returns {Promise<string | undefined>} undefined when there is none inside the folder
 */
async function fileFor(folder, address) {
  try {
    const name = decodeURIComponent(address.split(/[?#]/, 1)[0] ?? '');
    if (name.includes('\0')) return undefined;
    const path = await realpath(join(folder, name.endsWith('/') ? `${name}index.html` : name));
    // Compared after links are followed: neither `..` nor a link leads out of the folder.
    return path.startsWith(folder + sep) && (await stat(path)).isFile() ? path : undefined;
  } catch {
    return undefined; // not there, or a malformed escape
  }
}

/** Where a browser sends breaches of the policy when somebody listens for them. */
const reports = '/policy-reports';

/**
 * @param {string} root the folder to serve
 * @param {number} [port] the first port to try; taken ones are passed over, 0 lets the system choose
 * @param {(breach: Record<string, string>) => void} [onBreach] told of every breach of the policy, in the words of
 *   the csp-report of Content Security Policy Level 3, also of those inside workers
 * @returns {Promise<{ address: string, close: () => Promise<void> }>} address ends with a slash
 */
export async function serve(root, port = 4173, onBreach) {
  const folder = await realpath(resolve(root));
  const server = createServer((request, response) => {
    response.setHeader('Content-Security-Policy', onBreach ? `${policy}; report-uri ${reports}` : policy);
    response.setHeader('X-Content-Type-Options', 'nosniff');
    response.setHeader('Referrer-Policy', 'no-referrer');
    response.setHeader('Cache-Control', 'no-cache'); // a rebuild must show on reload
    if (onBreach && request.method === 'POST' && request.url === reports) {
      void json(request).then((/** @type {any} */ body) => onBreach(body['csp-report']));
      response.writeHead(204).end();
      return;
    }
    if (request.method !== 'GET' && request.method !== 'HEAD') {
      response.writeHead(405, { Allow: 'GET, HEAD' }).end();
      return;
    }
    void fileFor(folder, request.url ?? '/').then((path) => {
      if (path === undefined) {
        response.writeHead(404, { 'Content-Type': 'text/plain; charset=utf-8' }).end('Not found\n');
        return;
      }
      response.setHeader('Content-Type', types[extname(path).toLowerCase()] ?? 'application/octet-stream');
      if (request.method === 'HEAD') response.end();
      else
        createReadStream(path)
          .on('error', () => response.destroy())
          .pipe(response);
    });
  });

  const last = port === 0 ? 0 : port + 100;
  for (let p = port; ; p++) {
    const taken = await new Promise((done, fail) => {
      server.once('error', (/** @type {NodeJS.ErrnoException} */ error) => {
        if (error.code === 'EADDRINUSE' && p < last) done(true);
        else fail(error);
      });
      server.listen(p, '127.0.0.1', () => {
        server.removeAllListeners('error');
        done(false);
      });
    });
    if (!taken) break;
    server.removeAllListeners('listening');
  }
  const bound = server.address();
  if (bound === null || typeof bound === 'string') throw new Error('The server has no port.');
  return {
    address: `http://127.0.0.1:${bound.port}/`,
    close: () =>
      new Promise((done) => {
        server.close(() => done());
        server.closeAllConnections();
      }),
  };
}
