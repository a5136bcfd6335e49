/** The files that the page is made of, and a hash of them all: both are written in by the build (vite.config.ts). */
declare const BUILT_FILES: readonly string[];
declare const BUILT_HASH: string;
declare const self: ServiceWorkerGlobalScope;

/** Several pages of one origin, each under its own path, keep their files apart. */
const PREFIX = `latelight ${self.registration.scope} `;
const CACHE = PREFIX + BUILT_HASH;
/** The page itself, where the browser asks for it by the name of its folder. */
const PAGE = './';

self.addEventListener('install', (event) => event.waitUntil(fill()));
self.addEventListener('activate', (event) => event.waitUntil(takeOver()));
self.addEventListener('fetch', (event) => {
  const { request } = event;
  if (request.method !== 'GET' || !request.url.startsWith(self.registration.scope)) return;
  if (request.mode !== 'navigate') event.respondWith(answer(request));
  else if (isPage(request.url)) event.respondWith(answer(new Request(PAGE)));
});

/** Fetch every file once; if one is missing the version before stays, and it is tried again at the next visit. */
async function fill(): Promise<void> {
  const isNew = !(await caches.has(CACHE));
  try {
    const cache = await caches.open(CACHE);
    await cache.addAll([new Request(PAGE, { cache: 'reload' }), ...BUILT_FILES]);
  } catch (error) {
    if (isNew) await caches.delete(CACHE);
    throw error;
  }
  await self.skipWaiting();
}

/** The next visit gets this version; a page that is still open finds the files of the one before, older ones are removed. */
async function takeOver(): Promise<void> {
  const others = (await caches.keys()).filter((name) => name.startsWith(PREFIX) && name !== CACHE);
  await Promise.all(others.slice(0, -1).map((name) => caches.delete(name)));
  await self.clients.claim();
}

async function answer(request: Request): Promise<Response> {
  const own = await caches.open(CACHE);
  const kept = (await own.match(request, { ignoreVary: true })) ?? (await caches.match(request, { ignoreVary: true }));
  return kept ?? (await fetch(request));
}

/** Whatever its address says behind `?` or `#`. */
const isPage = (url: string): boolean => /^(index\.html)?([?#]|$)/.test(url.slice(self.registration.scope.length));

export {};
