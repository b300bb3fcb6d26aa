// Keeps the page on the device, so that it opens without a network after the
// first visit. The build rewrites the names below to names that change with
// the content, and with them this file, which is how a new version is noticed.
'use strict';

const FILES = [
  './', 'style.css', 'words.js', 'boot.js', 'fault.js', 'rest.js', 'audio.js', 'worklet.js', 'wasm_exec.js',
  'agremens.wasm', 'agremens-rest.wasm', 'manifest.webmanifest', 'icon.svg', 'icon-192.png', 'icon-512.png',
];
// The texts of another language, by its code: kept where they are used.
const WORDS = { de: 'words-de.txt' };
const CACHE = 'agremens ' + [...FILES, ...Object.values(WORDS)].join(' ');
const PATIENCE = 3000; // ms to wait for the network before what is kept is used

addEventListener('install', (event) => {
  event.waitUntil(Promise.all([caches.open(CACHE), spoken()])
    .then(([cache, words]) => cache.addAll([...FILES, ...words].map((name) => new Request(name, { cache: 'no-cache' })))));
});

// spoken names the texts of the languages whose texts an earlier version keeps.
async function spoken() {
  const kept = await Promise.all((await caches.keys()).filter((name) => name.startsWith('agremens '))
    .map(async (name) => (await (await caches.open(name)).keys()).map(({ url }) => url)));
  return Object.entries(WORDS).filter(([language]) => kept.flat().some((url) => url.includes('/words-' + language) && url.endsWith('.txt'))).map(([, name]) => name);
}

// A new version waits beside the old one until the page says that no round
// runs.
addEventListener('message', (event) => {
  if (event.data === 'take over') skipWaiting();
});

addEventListener('activate', (event) => {
  event.waitUntil(caches.keys()
    .then((names) => Promise.all(names.filter((name) => name.startsWith('agremens ') && name !== CACHE).map((name) => caches.delete(name))))
    .then(() => clients.claim()));
});

// A name with a hash in it never changes its content.
const lasting = (url) => /-[0-9a-f]{8,}\.\w+$/.test(url.pathname);

async function kept(request) {
  return caches.match(request, { ignoreSearch: true });
}

async function fetched(request) {
  const response = await fetch(request, { cache: 'no-cache' });
  if (response.ok) {
    const cache = await caches.open(CACHE);
    const key = new URL(request.url);
    key.search = '';
    cache.put(key.href, response.clone()).catch(() => {}); // a full device keeps less
  }
  return response;
}

async function answer(request) {
  if (lasting(new URL(request.url))) return (await kept(request)) || fetched(request);
  const fresh = fetched(request);
  fresh.catch(() => {});
  let timer;
  const late = new Promise((resolve) => { timer = setTimeout(resolve, PATIENCE); });
  try {
    const response = await Promise.race([fresh, late]);
    if (response) return response;
  } catch {
    // no network: what is kept must do
  } finally {
    clearTimeout(timer);
  }
  return (await kept(request)) || fresh;
}

addEventListener('fetch', (event) => {
  const request = event.request;
  if (request.method !== 'GET' || new URL(request.url).origin !== location.origin) return;
  event.respondWith(answer(request));
});
