// Keeps the page on the device, so that it opens without a network after the
// first visit. The build rewrites the names below to names that change with
// the content, and with them this file, which is how a new version is noticed.
'use strict';

const FILES = [
  './', 'style.css', 'early.js', 'words.js', 'boot.js', 'seen.js', 'rest.js', 'fault.js', 'audio.js', 'worklet.js', 'wasm_exec.js',
  'agremens.wasm', 'agremens-rest.wasm', 'manifest.webmanifest', 'icon.svg', 'icon-192.png', 'icon-512.png',
];
// The texts of another language, by its code: kept where they are used.
const WORDS = { de: 'words-de.txt' };
// The manual: kept when it is read.
const MANUAL = [
  'manual-en.html', 'manual-de.html', 'manual-manual.css', 'manual-reading.png', 'manual-student.png', 'manual-sheet.png',
  'manual-reading-de.png', 'manual-student-de.png', 'manual-sheet-de.png',
];
// The program that listens at the piano: kept once it is used.
const EAR = ['listen.js', 'listen-capture.js', 'listen-worker.js', 'listen-ear.wasm'];
// VERSION changes with any file: the build writes it.
const VERSION = '';
const CACHE = 'agremens ' + VERSION;

// A version is kept whole or not at all, and what the worker of a version
// answers comes from its own copy alone: however an update is interrupted, the
// copy before it stays whole.
addEventListener('install', (event) => {
  event.waitUntil(install());
});

async function install() {
  const names = [...FILES, ...await used()];
  const answers = await Promise.all(names.map(whole));
  const known = await caches.has(CACHE);
  const cache = await caches.open(CACHE);
  try {
    await Promise.all(names.map((name, i) => cache.put(name, answers[i])));
  } catch (error) {
    if (!known) await caches.delete(CACHE); // a full device keeps the version before
    throw error;
  }
}

// whole gives the answer that holds the file of this name, once all of it has
// arrived. What the browser has under a name with a hash in it is right: to
// ask for it anew would only part it from the code that was compiled of it.
async function whole(name) {
  for (const cache of HASHED.test(name) ? ['default', 'reload'] : ['no-cache']) {
    const answer = await fetch(new Request(name, { cache }));
    if (answer.ok && !answer.redirected && await meant(name, await answer.clone().arrayBuffer())) return answer;
  }
  throw new Error(`${name} is not to be had`);
}

const HASHED = /-([0-9a-f]{16})\.\w+$/;

// meant reports whether a body is the file that was asked for: a network may
// answer with a page of its own. A name holds the hash of its content, the
// start page names the files of this version.
async function meant(name, body) {
  if (name === './') {
    const text = new TextDecoder().decode(body);
    return FILES.slice(1, 5).every((file) => text.includes(file));
  }
  const hash = HASHED.exec(name)?.[1];
  if (!hash) return body.byteLength > 0;
  const sum = new Uint8Array(await crypto.subtle.digest('SHA-256', body));
  return [...sum.slice(0, 8)].map((n) => n.toString(16).padStart(2, '0')).join('') === hash;
}

// used names the files that are kept once they are used and of which an
// earlier version keeps its own: what opened without a network goes on doing so.
async function used() {
  const plain = (name) => name.replace(HASHED, (end) => end.slice(17)); // without the hash
  const kept = new Set();
  for (const name of await caches.keys()) {
    if (!name.startsWith('agremens ')) continue;
    for (const { url } of await (await caches.open(name)).keys()) kept.add(plain(new URL(url).pathname.split('/').pop()));
  }
  return [...Object.values(WORDS), ...MANUAL, ...EAR].filter((name) => kept.has(plain(name)));
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

// kept finds a file of this version on the device.
async function kept(request) {
  const cache = await caches.open(CACHE);
  const url = new URL(request.url);
  url.search = '';
  if (url.pathname.endsWith('/index.html')) url.pathname = url.pathname.slice(0, -'index.html'.length);
  return cache.match(url.href);
}

// answer gives what is kept, else what the network has; the manual, the texts
// of another language and what listens are kept when they are first asked for.
async function answer(request) {
  const here = await kept(request);
  if (here) return here;
  const response = await fetch(request);
  const name = new URL(request.url).pathname.split('/').pop();
  if (response.ok && [...Object.values(WORDS), ...MANUAL, ...EAR].includes(name)) {
    const cache = await caches.open(CACHE);
    cache.put(name, response.clone()).catch(() => {}); // a full device keeps less
  }
  return response;
}

addEventListener('fetch', (event) => {
  const request = event.request;
  if (request.method !== 'GET' || new URL(request.url).origin !== location.origin) return;
  if (request.cache === 'only-if-cached') return; // see early.js
  event.respondWith(answer(request));
});
