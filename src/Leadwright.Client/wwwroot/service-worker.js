// Keeps the screens on the device, so that they open and judge with no connection.
// Each build lists its files with digests in service-worker-assets.js; a new list makes a new cache.
self.importScripts('./service-worker-assets.js');

const cachePrefix = 'leadwright-';
const cacheName = `${cachePrefix}${self.assetsManifest.version}`;
const wanted = /\.(dll|wasm|js|json|css|woff2?|html|png|svg|dat|blat|webmanifest)$/;
const unwanted = /^service-worker(-assets)?\.js$|\.(pdb|br|gz)$|dotnet\.(diagnostics|native\.symbols)/;

self.addEventListener('install', event => event.waitUntil(keepFiles()));
self.addEventListener('activate', event => event.waitUntil(dropOlder()));
self.addEventListener('fetch', event => {
  if (event.request.method === 'GET' && new URL(event.request.url).origin === self.location.origin)
    event.respondWith(answer(event.request));
});

async function keepFiles() {
  const requests = self.assetsManifest.assets
    .filter(asset => wanted.test(asset.url) && !unwanted.test(asset.url))
    .map(asset => new Request(asset.url, { integrity: asset.hash, cache: 'no-cache' }));
  const cache = await caches.open(cacheName);
  await cache.addAll(requests);
  // A page loads all its files at its start, so a new worker may take over at once.
  await self.skipWaiting();
}

async function dropOlder() {
  const names = await caches.keys();
  await Promise.all(names.filter(name => name.startsWith(cachePrefix) && name !== cacheName).map(name => caches.delete(name)));
  await self.clients.claim();
}

async function answer(request) {
  const isPage = request.mode === 'navigate' && !new URL(request.url).pathname.startsWith('/api/');
  const cache = await caches.open(cacheName);
  const kept = await cache.match(isPage ? 'index.html' : request);
  return kept ?? fetch(request);
}
