/**
 * Keeps the built page in the browser, so that it opens without a network. Every build has a cache of its own, named for a hash
 * of all its files, filled whole before this worker is installed. A new build takes over at the next load of the page; what an
 * older, still open page loads late comes from the older cache, which goes with the build after.
 */

/** The build writes these in: hash of all files, and their paths from the page's address. */
declare const __PAGE_HASH__: string;
declare const __PAGE_FILES__: readonly string[];

const worker = self as unknown as ServiceWorkerGlobalScope;
const PREFIX = 'cavetto-page-';
const OWN = PREFIX + __PAGE_HASH__;
/** This build's and the one's before. */
const KEPT = 2;

async function fill(): Promise<void> {
  const cache = await caches.open(OWN);
  // Names under assets/ carry their hash; the others must not come from the browser's own cache.
  await cache.addAll(
    __PAGE_FILES__.map((path) => new Request(path, { cache: path.startsWith('assets/') ? 'default' : 'reload' })),
  );
  await worker.skipWaiting();
}

async function takeOver(): Promise<void> {
  const builds = (await caches.keys()).filter((name) => name.startsWith(PREFIX) && name !== OWN);
  await Promise.all(builds.slice(0, Math.max(0, builds.length - (KEPT - 1))).map((name) => caches.delete(name)));
  await worker.clients.claim();
}

async function answer(request: Request): Promise<Response> {
  const own = await caches.open(OWN);
  const kept =
    request.mode === 'navigate'
      ? await own.match('index.html')
      : ((await own.match(request)) ?? (await caches.match(request)));
  return kept ?? fetch(request);
}

worker.addEventListener('install', (event) => event.waitUntil(fill()));
worker.addEventListener('activate', (event) => event.waitUntil(takeOver()));
worker.addEventListener('fetch', (event) => {
  if (event.request.method === 'GET' && new URL(event.request.url).origin === worker.location.origin)
    event.respondWith(answer(event.request));
});
