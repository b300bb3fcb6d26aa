// Forgets what an earlier server of this address left on the device, and keeps
// nothing: the page always comes from the network.
'use strict';
addEventListener('install', () => skipWaiting());
addEventListener('activate', (event) => {
  event.waitUntil(caches.keys()
    .then((names) => Promise.all(names.filter((name) => name.startsWith('agremens ')).map((name) => caches.delete(name))))
    .then(() => clients.claim()));
});
