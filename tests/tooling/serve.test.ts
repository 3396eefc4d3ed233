import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { request } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { pagePolicy, policy, serve } from '../../.ci/serve.mjs';

const folder = mkdtempSync(join(tmpdir(), 'lodetone-serve-'));
let server: Awaited<ReturnType<typeof serve>>;

beforeAll(async () => {
  mkdirSync(join(folder, 'dist/assets'), { recursive: true });
  mkdirSync(join(folder, 'dist-secret'));
  writeFileSync(join(folder, 'dist/index.html'), '<h1>open</h1>');
  writeFileSync(join(folder, 'dist/assets/a b.js'), '1');
  writeFileSync(join(folder, 'dist/font.woff2'), '');
  writeFileSync(join(folder, 'dist-secret/index.html'), 'secret');
  symlinkSync(join(folder, 'dist-secret'), join(folder, 'dist/link'));
  server = await serve(join(folder, 'dist'), 0);
});

afterAll(async () => {
  await server.close();
  rmSync(folder, { recursive: true });
});

/** Sends the path as it stands; `fetch` would tidy it first. */
function get(
  path: string,
  method = 'GET',
): Promise<{ status: number; type: string; policy: string; body: string }> {
  return new Promise((done, fail) => {
    const { hostname, port } = new URL(server.address);
    request({ hostname, port, path, method }, (response) => {
      let body = '';
      response.on('data', (part: Buffer) => (body += part.toString()));
      response.on('end', () => {
        done({
          status: response.statusCode ?? 0,
          type: response.headers['content-type'] ?? '',
          policy: String(response.headers['content-security-policy']),
          body,
        });
      });
    })
      .on('error', fail)
      .end();
  });
}

test('a folder answers with its index, a file with its type', async () => {
  expect(await get('/')).toMatchObject({
    status: 200,
    type: 'text/html; charset=utf-8',
    body: '<h1>open</h1>',
  });
  expect(await get('/assets/a%20b.js?v=1')).toMatchObject({
    status: 200,
    type: 'text/javascript; charset=utf-8',
  });
  expect(await get('/font.woff2')).toMatchObject({ status: 200, type: 'font/woff2' });
  expect(await get('/', 'HEAD')).toMatchObject({ status: 200, body: '' });
});

test('the page says the same policy itself, but for who may frame it', () => {
  expect(`${pagePolicy}; frame-ancestors 'none'`).toBe(policy);
});

test('every answer carries the strict policy', async () => {
  for (const path of ['/', '/assets/a%20b.js', '/nothing']) {
    const { policy } = await get(path);
    expect(policy).toMatch(/^default-src 'none'; script-src 'self'; style-src 'self';/);
    expect(policy).not.toMatch(/unsafe|data:|blob:|\*|report/);
  }
});

test.each([
  '/../dist-secret/index.html',
  '/..%2fdist-secret/index.html',
  '/%2e%2e/dist-secret/index.html',
  '/assets/../../dist-secret/index.html',
  '/link/index.html',
  '/..%5cdist-secret%5cindex.html',
  '//etc/passwd',
  '/%00',
  '/%',
  '/assets',
])('%s leads nowhere', async (path) => {
  expect(await get(path)).toMatchObject({ status: 404, body: 'Not found\n' });
});

test('nothing can be written', async () => {
  expect(await get('/', 'POST')).toMatchObject({ status: 405 });
  expect(await get('/policy-reports', 'POST')).toMatchObject({ status: 405 });
});

test('a taken port is passed over, and only this machine is answered', async () => {
  const taken = Number(new URL(server.address).port);
  const second = await serve(join(folder, 'dist'), taken);
  try {
    expect(Number(new URL(second.address).port)).toBeGreaterThan(taken);
    expect(second.address).toMatch(/^http:\/\/127\.0\.0\.1:\d+\/$/);
  } finally {
    await second.close();
  }
});
