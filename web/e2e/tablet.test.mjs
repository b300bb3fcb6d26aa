// A tablet with nothing installed: a new version waits for the round, a reload
// at any moment loses nothing, a full or forbidden storage is said and stops
// nothing, the home screen is offered once.
import { before, after } from 'node:test';
import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import http from 'node:http';
import { once } from 'node:events';
import { launch, serve, open, state, message, until, reaching, PATIENCE, settled } from './browser.mjs';
import { test, later } from './tier.mjs';

let browser, server;
before(async () => { server = await serve(); browser = await launch(); });
after(async () => { await browser?.close(); server?.close(); });

later('a new version waits until no round runs', async () => {
  let newer = '';
  const way = http.createServer((request, response) => {
    const headers = { ...request.headers, 'accept-encoding': 'identity' };
    const worker = request.url === '/sw.js';
    if (worker) delete headers['if-none-match'];
    const behind = http.request(new URL(request.url, server.url), { method: request.method, headers }, (answer) => {
      const head = { ...answer.headers };
      if (worker) { delete head['content-length']; delete head.etag; }
      response.writeHead(answer.statusCode, head);
      answer.on('data', (part) => response.write(part));
      answer.on('end', () => response.end(worker ? newer : ''));
    });
    behind.on('error', () => response.destroy());
    request.pipe(behind);
  }).listen(0, '127.0.0.1');
  await once(way, 'listening');
  const { page, close } = await open(browser, `http://127.0.0.1:${way.address().port}/`, '?passage=turn');
  await state(page, 'ready');
  await page.waitForFunction(() => navigator.serviceWorker.controller, null, { timeout: 60_000 });
  await page.reload(); // from now on a version is here that another can follow
  await state(page, 'ready');
  await page.waitForTimeout(9000); // until the page looks after its worker
  await page.check('#repeat');
  await page.click('#listen');
  await state(page, 'listening');
  newer = '\n// newer\n';
  await page.evaluate(async () => (await navigator.serviceWorker.getRegistration()).update());
  await page.waitForFunction(async () => (await navigator.serviceWorker.getRegistration()).waiting, null, { timeout: 60_000 });
  await page.waitForTimeout(4000);
  assert.ok(await page.evaluate(async () => Boolean((await navigator.serviceWorker.getRegistration()).waiting)), 'it waits while the passage sounds');
  assert.equal(await page.getAttribute('html', 'data-state'), 'listening');
  assert.equal(await message(page), '');
  await page.click('#stop');
  await page.waitForFunction(() => !document.getElementById('message').hidden, null, { timeout: PATIENCE });
  assert.match(await message(page), /new version/);
  assert.ok(await page.evaluate(async () => !(await navigator.serviceWorker.getRegistration()).waiting), 'it has taken over');
  await close();
  way.closeAllConnections();
  way.close();
});

// found reloads the page after some of what one may do, also while it sounds
// and while it is tapped, and looks whether everything is there again.
const found = (moments) => async () => {
  const { page, wrong, close } = await open(browser, server.url, '?passage=turn');
  await state(page, 'ready');
  await page.goto(server.url); // without settings in the address
  await state(page, 'ready');
  const look = () => page.evaluate(() => ({
    passage: document.getElementById('passages').value, bars: document.getElementById('bars').value,
    notes: document.getElementById('sign-notes').textContent, hand: document.getElementById('hand').value,
  }));
  const deeds = [
    () => page.locator('#choices button').nth(1).click(),
    async () => { await page.fill('#bars', '2-3'); await page.dispatchEvent('#bars', 'change'); },
    async () => { await page.click('#listen'); await state(page, 'counting', 'listening'); },
    () => page.selectOption('#hand', 'left'),
    async () => { await page.click('#tap'); await state(page, 'counting', 'tapping'); await page.waitForTimeout(700); },
    () => page.click('#next-sign'),
    () => page.selectOption('#passages', 'trill'),
    () => page.locator('#choices button').nth(1).click(),
  ];
  for (const [i, deed] of deeds.entries()) {
    await deed();
    if (!moments.includes(i)) continue;
    const was = await settled(look);
    await page.reload();
    await state(page, 'ready');
    assert.deepEqual(await look(), was, `after deed ${i + 1}`);
  }
  assert.deepEqual(wrong, []);
  await close();
};

test('a reload while it sounds, while it is tapped and after a change finds everything again', found([2, 4, 7]));
later('a reload at any moment finds everything again', found([0, 1, 2, 3, 4, 5, 6, 7]));

later('a crash in the middle of a round loses nothing, and the browser is asked to keep what is here', async () => {
  const { page, close } = await open(browser, server.url, '?passage=mordent&bars=1-1&tempo=100&countin=0&play=right&instrument=click&beat=off');
  await state(page, 'ready');
  await page.evaluate(() => {
    const plain = navigator.storage.persist.bind(navigator.storage);
    navigator.storage.persist = () => { window.askedToKeep = true; return plain(); };
    window.__robot.arm({ delay: 0, codes: ['KeyJ', 'KeyK'], pattern: null, skip: 0 });
  });
  await page.locator('#choices button').nth(1).click();
  await page.click('#tap');
  await state(page, 'result', { timeout: 60_000 });
  assert.notEqual(await page.getAttribute('#result', 'data-hit'), '0');
  await page.waitForFunction(() => window.askedToKeep, null, { timeout: PATIENCE });
  const look = (page) => page.evaluate(() => ({
    passage: document.getElementById('passages').value, bars: document.getElementById('bars').value,
    notes: document.getElementById('sign-notes').textContent, log: localStorage.getItem('agremens.diary'),
  }));
  const was = await look(page);
  assert.match(was.log, /^round\t/m);
  await page.click('#tap');
  await state(page, 'counting', 'tapping');
  const context = page.context();
  const gone = new Promise((resolve) => { page.once('crash', resolve); });
  page.goto('chrome://crash').catch(() => {});
  await gone;
  const again = await context.newPage();
  await again.goto(server.url);
  await state(again, 'ready');
  assert.deepEqual(await look(again), was);
  await close();
});

test('the page stands as it was seen last before its program is there, and what is pressed then is done', async () => {
  // What is kept for visits without a network would come past the held route.
  const { page, wrong, close } = await open(browser, server.url, '', { serviceWorkers: 'block' });
  await state(page, 'ready');
  await page.click('#next-sign');
  const look = () => page.evaluate(() => ['title-text', 'composer-text', 'sign-name', 'sign-notes', 'sign-why', 'choices'].map((id) => document.getElementById(id).textContent));
  const was = await look();
  const kept = (page) => page.evaluate(() => Object.values(JSON.parse(localStorage.getItem('agremens.seen'))?.html ?? {}).join('\n'));
  await until(() => kept(page), (text) => text.includes(was[2]) && text.includes(was[3]));
  let release;
  const free = new Promise((resolve) => { release = resolve; });
  await page.route(/agremens\.wasm/, async (route) => { await free; await route.continue().catch(() => {}); });
  await page.reload();
  await page.waitForSelector('html[data-seen]');
  assert.equal(await page.getAttribute('html', 'data-state'), 'loading');
  assert.deepEqual(await look(), was);
  assert.ok(await page.isVisible('#sign-name'));
  const ink = await page.evaluate(() => {
    const picture = document.querySelector('.seen'), { naturalWidth: width, naturalHeight: height } = picture;
    const copy = Object.assign(document.createElement('canvas'), { width, height }).getContext('2d');
    copy.drawImage(picture, 0, 0);
    const { data } = copy.getImageData(0, 0, width, height);
    const dark = (i) => data[i] + data[i + 1] + data[i + 2] < 300;
    return { visible: picture.getClientRects().length > 0, dots: data.filter((_, i) => i % 4 === 0 && dark(i)).length };
  });
  assert.ok(ink.visible && ink.dots > 500, JSON.stringify(ink)); // five lines and their notes
  await page.click('#next-sign');
  await page.click('#tap');
  await page.click('#listen'); // of two rounds the last one
  assert.match(await page.innerText('#status'), /Listen.*was heard/);
  assert.deepEqual(await look(), was);
  release();
  await state(page, 'counting', 'listening');
  assert.equal(await page.getAttribute('html', 'data-round'), 'listen');
  assert.notDeepEqual((await look())[3], was[3], 'the next sign');
  assert.equal(await page.evaluate(() => document.querySelectorAll('.heard, [inert]').length), 0);
  await page.click('#stop');

  // Another address asks for something else; what is erased is not seen again.
  await page.unroute(/agremens\.wasm/);
  await page.route(/agremens\.wasm/, () => {});
  await page.goto(server.url + '?passage=trill');
  await page.waitForTimeout(1000);
  assert.equal(await page.getAttribute('html', 'data-seen'), null);
  await page.unroute(/agremens\.wasm/);
  await page.goto(server.url);
  await state(page, 'ready');
  await until(() => kept(page), (text) => text !== '');
  await page.evaluate(() => document.getElementById('erase-yes').click());
  assert.equal(await until(() => kept(page), (text) => text === ''), '');
  assert.deepEqual(wrong, []);
  await close();
});

test('a student’s task stands there before its program, with its path and its one button', async () => {
  const links = await readFile(new URL('../../game/lesson/testdata/links-2026-11.txtar', import.meta.url), 'utf8');
  const { page, wrong, close } = await open(browser, server.url, '#task=' + links.split('\n').find((line) => line.length > 80 && !line.includes(' ')), { serviceWorkers: 'block' });
  await state(page, 'ready');
  const look = () => page.evaluate(() => ['title-text', 'composer-text', 'student-words', 'path', 'path-ask', 'go'].map((id) => document.getElementById(id).innerText));
  const was = await look();
  assert.ok(was.at(-1).length > 2 && was[3].length > 10, String(was));
  await until(() => page.evaluate(() => JSON.parse(localStorage.getItem('agremens.seen'))?.html.go), (label) => label === was.at(-1));
  let release;
  const free = new Promise((resolve) => { release = resolve; });
  await page.route(/agremens\.wasm/, async (route) => { await free; await route.continue().catch(() => {}); });
  await page.reload();
  await page.waitForSelector('html[data-seen][data-page=student]');
  assert.deepEqual(await look(), was);
  assert.ok(!await page.isVisible('#tap') && !await page.isVisible('#stop'));
  await page.click('#go');
  assert.match(await page.innerText('#status'), /was heard/);
  assert.ok(await page.evaluate(() => document.getElementById('go').classList.contains('heard')));
  release();
  await state(page, 'counting', 'listening');
  await page.click('#stop');
  assert.equal(await page.evaluate(() => document.querySelectorAll('.heard, [inert]').length), 0);
  assert.deepEqual(wrong, []);
  await close();
});

for (const { name, script } of [
  { name: 'a full storage', script: () => { Storage.prototype.setItem = () => { throw new DOMException('full', 'QuotaExceededError'); }; } },
  { name: 'a forbidden storage', script: () => { Object.defineProperty(window, 'localStorage', { get() { throw new DOMException('no', 'SecurityError'); } }); } },
]) {
  later(`${name} is said, and practice goes on`, async () => {
    const context = await browser.newContext();
    await context.addInitScript(script);
    const page = await context.newPage();
    reaching(page);
    const wrong = [];
    page.on('pageerror', (e) => wrong.push(e.message));
    await page.goto(server.url + '?passage=mordent&bars=1-1&tempo=100&countin=0');
    await state(page, 'ready');
    assert.match(await message(page), /can save nothing/);
    await page.click('#message-close');
    await page.click('#tap');
    await state(page, 'counting', 'tapping');
    await page.keyboard.press('j');
    await state(page, 'result', { timeout: 60_000 });
    assert.notEqual(await page.innerText('#result-words'), '');
    await page.locator('#choices button').nth(1).click();
    assert.deepEqual(wrong, []);
    await context.close();
  });
}

later('the home screen is offered once, on the student’s page alone', async () => {
  const teacher = await open(browser, server.url, '?passage=turn', { hasTouch: true, isMobile: true });
  await state(teacher.page, 'ready');
  const { page } = teacher;
  assert.ok(!await page.isVisible('#home-offer'));
  await page.click('#place-send');
  await page.click('#task-try');
  await page.waitForFunction(() => document.documentElement.dataset.page === 'student');
  await page.waitForSelector('#home-offer', { state: 'visible' });
  assert.match(await page.innerText('#home-text'), /home screen/i);
  await page.click('#home-not');
  assert.ok(!await page.isVisible('#home-offer'));
  await page.reload();
  await state(page, 'ready');
  assert.equal(await page.getAttribute('html', 'data-page'), 'student');
  assert.ok(!await page.isVisible('#home-offer'), 'not twice');
  assert.deepEqual(teacher.wrong, []);
  await teacher.close();
});
