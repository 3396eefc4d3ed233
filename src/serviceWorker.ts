/**
 * Keeps the app for when there is no network. Every build has files of its own names and a cache of its own: all of it or
 * nothing is taken in, and a page goes on with the build that it began with. A newer build waits until no page is open.
 * It imports nothing: the build puts it beside index.html as it stands, with the two constants.
 */

/** What the build knows; see vite.config.ts. `version` changes with any byte of the files. */
declare const BUILT: { readonly version: string; readonly files: readonly string[] };

/** What of a ServiceWorkerGlobalScope is used: the page's types do not have it. */
interface Scope {
  readonly registration: { readonly scope: string };
  readonly clients: { claim(): Promise<void> };
  addEventListener(type: 'install' | 'activate', listener: (event: Lasting) => void): void;
  addEventListener(type: 'fetch', listener: (event: Asked) => void): void;
}
interface Lasting {
  waitUntil(work: Promise<unknown>): void;
}
interface Asked {
  readonly request: Request;
  respondWith(response: Promise<Response>): void;
}

{
  const scope = self as unknown as Scope;
  /** Other programs of the same host have caches too. */
  const ours = `lodetone ${scope.registration.scope} `;
  const own = ours + BUILT.version;
  const PAGE = './';

  /** The page itself past any cache, and only with its own files: a host may be in the middle of an update. */
  const takeIn = async (): Promise<void> => {
    const page = await fetch(PAGE, { cache: 'reload' });
    if (!page.ok) throw new Error(`The page must be there; got ${page.status}.`);
    const text = await page.clone().text();
    const named = BUILT.files.filter((file) => text.includes(file));
    if (named.length === 0) throw new Error('The page must be of this build; got another.');
    const cache = await caches.open(own);
    await cache.addAll(BUILT.files);
    await cache.put(PAGE, page);
  };

  const letGo = async (): Promise<void> => {
    for (const name of await caches.keys())
      if (name.startsWith(ours) && name !== own) await caches.delete(name);
  };

  const answer = async (request: Request): Promise<Response> => {
    const cache = await caches.open(own);
    const known = await cache.match(request.mode === 'navigate' ? PAGE : request, { ignoreSearch: true });
    return known ?? fetch(request);
  };

  scope.addEventListener('install', (event) => event.waitUntil(takeIn()));
  scope.addEventListener('activate', (event) => event.waitUntil(letGo().then(() => scope.clients.claim())));
  scope.addEventListener('fetch', (event) => {
    const { request } = event;
    if (request.method !== 'GET' || !request.url.startsWith(scope.registration.scope)) return;
    event.respondWith(answer(request));
  });
}
