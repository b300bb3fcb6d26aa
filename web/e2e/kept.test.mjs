// The copy on the device never breaks: an update that is cut anywhere, a host
// that is down or answers with a page of its own leave the version before
// whole, also without a network.
import { test, before, after } from 'node:test';
import assert from 'node:assert/strict';
import http from 'node:http';
import { once } from 'node:events';
import { launch, serve, open, state, until } from './browser.mjs';
import { compiled, trace } from './visits.mjs';

let browser, server;
before(async () => { server = await serve(); browser = await launch(); });
after(async () => { await browser?.close(); server?.close(); });

const MOST_READ = 15_500_000; // bytes, unpacked, that a first visit reads before its first picture; 14.5 million now
const MOST_COMPILED = 4000; // functions; 3,600 now
const LOGIN = '<!doctype html><title>Welcome</title><form action="login">Please sign in</form>';

// between stands between the browser and the program. newer() serves another
// version of the worker; spoil(path) may say what becomes of an answer: "cut"
// (half of it), "gone" (no answer), a number (that status) or "login".
async function between() {
  let version = 0, spoil = () => null;
  const way = http.createServer((request, response) => {
    const path = new URL(request.url, server.url).pathname, what = spoil(path);
    if (what === 'gone') return response.destroy();
    if (typeof what === 'number') return response.writeHead(what).end();
    if (what === 'login') return response.writeHead(200, { 'Content-Type': 'text/html' }).end(LOGIN);
    const headers = { ...request.headers, 'accept-encoding': 'identity' };
    delete headers['if-none-match'];
    const behind = http.request(new URL(request.url, server.url), { method: request.method, headers }, async (answer) => {
      const parts = [];
      for await (const part of answer) parts.push(part);
      let body = Buffer.concat(parts);
      if (path === '/sw.js') body = Buffer.from(String(body).replace("VERSION = '", `VERSION = '${version}.`));
      const { etag: _, ...head } = answer.headers;
      response.writeHead(answer.statusCode, { ...head, 'content-length': body.length });
      if (what !== 'cut') return response.end(body);
      response.write(body.subarray(0, body.length / 2), () => response.destroy());
    });
    behind.on('error', () => response.destroy());
    request.pipe(behind);
  }).listen(0, '127.0.0.1');
  await once(way, 'listening');
  return {
    url: `http://127.0.0.1:${way.address().port}/`,
    newer() { version++; },
    spoil(how) { spoil = how; },
    close() { way.closeAllConnections(); way.close(); },
  };
}

// copies lists what is kept: the names of the versions, and of the files of the first.
const copies = (page) => page.evaluate(async () => {
  const names = (await caches.keys()).filter((name) => name.startsWith('agremens '));
  const files = (await (await caches.open(names[0])).keys()).map(({ url }) => new URL(url).pathname);
  return { names, files: files.sort() };
});

// updated asks for the newer worker and returns what became of it.
const updated = (page) => page.evaluate(async () => {
  const registration = await navigator.serviceWorker.getRegistration();
  const found = new Promise((resolve) => registration.addEventListener('updatefound', () => resolve(registration.installing), { once: true }));
  await registration.update().catch(() => {});
  const worker = await Promise.race([found, new Promise((resolve) => setTimeout(resolve, 3000))]);
  if (!worker) return 'not found';
  return new Promise((resolve) => {
    const look = () => { if (['redundant', 'installed', 'activated'].includes(worker.state)) resolve(worker.state); };
    worker.addEventListener('statechange', look);
    look();
  });
});

test('an update that is cut at any file leaves the version before whole', async (t) => {
  const way = await between();
  const { page, close } = await open(browser, way.url, '?passage=turn');
  await state(page, 'ready');
  await page.waitForFunction(() => navigator.serviceWorker.controller, null, { timeout: 60_000 });
  const whole = await copies(page);
  assert.equal(whole.names.length, 1);
  t.diagnostic(`${whole.files.length} files are kept`);
  assert.ok(whole.files.length >= 14);
  for (const file of whole.files) {
    for (const how of ['cut', 'gone', 503]) {
      way.newer();
      way.spoil((path) => (path === file ? how : null));
      assert.equal(await updated(page), 'redundant', `${file}: ${how}`);
      assert.deepEqual(await copies(page), whole, `${file}: ${how}`);
    }
  }
  way.newer();
  way.spoil((path) => (path === '/' ? 'login' : null));
  assert.equal(await updated(page), 'redundant', 'a page to sign in');
  assert.deepEqual(await copies(page), whole);

  way.spoil(() => 'gone');
  await page.reload();
  await state(page, 'ready');
  assert.equal(await page.inputValue('#passages'), 'turn');

  way.spoil(() => null);
  way.newer();
  assert.match(await updated(page), /installed|activated/, 'what arrives whole is taken');
  await close();
  way.close();
});

// What a visit waits for is counted, not timed: a file more, or one that asks
// the network again, is a wait more on a slow line.
test('a visit asks for few files before its first picture, and from the second on for none', async (t) => {
  const way = await between();
  let asked = [];
  way.spoil((path) => { asked.push(path); return null; });
  const { page, close } = await open(browser, way.url);
  await state(page, 'ready');
  const first = await page.evaluate(() => performance.getEntriesByType('resource').map((r) => ({ name: new URL(r.name).pathname, bytes: r.decodedBodySize })));
  const waited = ['/style.css', '/early.js', '/words.js', '/seen.js', '/audio.js', '/wasm_exec.js', '/rest.js', '/fault.js', '/boot.js', '/agremens.wasm'];
  const more = ['/worklet.js', '/icon.svg', '/manifest.webmanifest', '/agremens-rest.wasm']; // nobody waits for these
  const names = first.map(({ name }) => name);
  assert.deepEqual(waited.filter((name) => names.filter((n) => n === name).length !== 1), [], 'once each');
  assert.deepEqual(names.filter((name) => ![...waited, ...more].includes(name)), []);
  const bytes = first.filter(({ name }) => waited.includes(name)).reduce((sum, r) => sum + r.bytes, 0);
  t.diagnostic(`${waited.length} files, ${bytes} bytes are read before the first picture`);
  assert.ok(bytes < MOST_READ, `${bytes} bytes`);
  await page.waitForFunction(() => navigator.serviceWorker.controller, null, { timeout: 60_000 });
  asked = [];
  await page.reload();
  await state(page, 'ready');
  assert.deepEqual(asked.filter((path) => path !== '/sw.js' && !path.startsWith('/__robot/')), [], 'all of it is here');
  await close();
  way.close();
});

test('what was kept because it was used is kept by the next version too', async () => {
  const way = await between();
  const { page, close } = await open(browser, way.url);
  await state(page, 'ready');
  await page.waitForFunction(() => navigator.serviceWorker.controller, null, { timeout: 60_000 });
  const read = ['/manual-en.html', '/manual-manual.css', '/manual-reading.png'];
  await page.evaluate((read) => Promise.all(read.map((name) => fetch(name).then((r) => r.arrayBuffer()))), read);
  await until(async () => (await copies(page)).files, (files) => read.every((name) => files.includes(name)));
  way.newer();
  assert.match(await updated(page), /installed|activated/);
  await page.reload(); // and nobody opens the manual
  await state(page, 'ready');
  const { names, files } = await until(() => copies(page), ({ names }) => names.length === 1);
  assert.equal(names.length, 1, 'the version before is gone');
  assert.deepEqual(read.filter((name) => !files.includes(name)), []);
  assert.ok(!files.includes('/listen-ear.wasm'), 'what was never used is not');
  way.spoil(() => 'gone');
  await page.goto(way.url + 'manual-en.html');
  assert.notEqual(await page.innerText('h1'), '');
  assert.ok(await page.evaluate(() => document.querySelector('img').naturalWidth > 0));
  await close();
  way.close();
});

// What is compiled before the first picture is counted: a browser compiles a
// function when it is first called, on the thread that the visitor waits for.
test('a first visit has few functions compiled before its first picture', async (t) => {
  const way = await between(), own = await launch({ measured: true });
  const page = await (await own.newContext()).newPage();
  await page.addInitScript({ path: new URL('cost-hook.js', import.meta.url).pathname });
  const ended = await trace(page.context(), page);
  await page.goto(way.url);
  await state(page, 'ready');
  const n = compiled(await ended());
  t.diagnostic(`${n} functions are compiled before the page is ready`);
  assert.ok(n > 1000, 'they are counted');
  assert.ok(n < MOST_COMPILED, `${n} functions`);
  await own.close();
  way.close();
});

test('a host that is down or answers with a page of its own does not hide what is kept', async () => {
  const way = await between();
  const { page, close } = await open(browser, way.url, '?passage=turn');
  await state(page, 'ready');
  await page.waitForFunction(() => navigator.serviceWorker.controller, null, { timeout: 60_000 });
  for (const how of [404, 503, 'login', 'gone']) {
    way.spoil(() => how);
    await page.reload();
    await state(page, 'ready');
    assert.equal(await page.inputValue('#passages'), 'turn', String(how));
  }
  await close();
  way.close();
});
