// The page as a visitor meets it: it starts, it listens to its address, it
// sounds and stops, and the written-out site works without a special server.
import { before, after } from 'node:test';
import assert from 'node:assert/strict';
import http from 'node:http';
import { once } from 'node:events';
import { readFile } from 'node:fs/promises';
import { extname, join, normalize } from 'node:path';
import { launch, serve, open, state, message, until, PATIENCE } from './browser.mjs';
import { test, later } from './tier.mjs';

let browser, server;
before(async () => { server = await serve(); browser = await launch(); });
after(async () => { await browser?.close(); server?.close(); });

const text = (page, selector) => page.locator(selector).innerText();

test('it starts without an error and is isolated', async (t) => {
  const { page, wrong, close } = await open(browser, server.url);
  await state(page, 'ready');
  t.diagnostic(`ready ${Math.round(await page.evaluate(() => window.__robot.states.at(-1)[0]))} ms after the page began`);
  assert.equal(await page.evaluate(() => crossOriginIsolated), true);
  assert.equal(await message(page), '');
  assert.deepEqual(wrong, []);
  await close();
});

for (const [passage, when] of [['mordent', test], ['trill', later], ['turn', later], ['appoggiatura', later]]) {
  when(`the address opens the passage ${passage}`, async () => {
    const { page, wrong, close } = await open(browser, server.url, `?passage=${passage}&bars=1-2&tempo=66&hand=left&countin=2`);
    await state(page, 'ready');
    assert.equal(await message(page), '');
    assert.notEqual(await text(page, '#title-text'), '');
    assert.equal(await page.inputValue('#passages'), passage);
    assert.equal(await page.inputValue('#hand'), 'left');
    assert.equal(await page.inputValue('#countin'), '2');
    assert.match(await page.inputValue('#bars'), /^1\s*[-–]\s*2$/);
    assert.notEqual(await text(page, '#sign-name'), '', 'a sign is explained');
    assert.ok(await page.locator('#choices button').count() >= 2, 'there is another way to play it');
    assert.deepEqual(wrong, []);
    await close();
  });
}

const unknown = ['passage=none-such', 'bars=90-95', 'tempo=fast', 'hand=third', 'play=loud', 'instrument=kazoo', 'beat=maybe', 'countin=9', 'tuning=sour', 'pitch=44'];

// named opens an address with values that nobody knows; each must be named.
const named = (queries) => async () => {
  const { page, wrong, close } = await open(browser, server.url, '?' + queries.join('&'));
  await state(page, 'ready');
  const said = await message(page);
  for (const query of queries) {
    const [, value] = query.split('=');
    assert.ok(said.includes(value), `the message names ${value}: ${said}`);
  }
  assert.deepEqual(wrong, []);
  await close();
};

test('unknown values say so and fall back', named(unknown));
for (const query of unknown) later(`an unknown value says so and falls back: ${query}`, named([query]));

test('it sounds, moves and stops', async () => {
  const { page, wrong, close } = await open(browser, server.url, '?passage=trill&countin=0');
  await state(page, 'ready');
  await page.click('#listen');
  await state(page, 'listening');
  await page.waitForFunction(() => window.__robot.onsets.length > 0, null, { timeout: PATIENCE });
  const stage = page.locator('#stage');
  const one = await stage.screenshot();
  const two = await until(() => stage.screenshot(), (now) => !now.equals(one));
  assert.ok(!one.equals(two), 'the staff moves');
  await page.click('#stop');
  await state(page, 'ready', 'result');
  await page.waitForTimeout(1500);
  const before = await page.evaluate(() => window.__robot.onsets.length);
  await page.waitForTimeout(1500);
  assert.equal(await page.evaluate(() => window.__robot.onsets.length), before, 'nothing sounds after stop');
  assert.deepEqual(wrong, []);
  await close();
});

test('what the address asks for counts once: a reload keeps what was changed since', async () => {
  const query = '?passage=mordent&bars=1-2&tempo=57';
  const { page, wrong, close } = await open(browser, server.url, query);
  await state(page, 'ready');
  const asked = () => page.evaluate(() => ['bars', 'tempo-number', 'passages'].map((id) => document.getElementById(id).value));
  const first = await asked();
  assert.deepEqual(first, ['1-2', '57', 'mordent']);
  await page.evaluate(() => {
    for (const [id, value] of [['bars', '2-3'], ['tempo-number', '50']]) {
      const field = document.getElementById(id);
      field.value = value;
      field.dispatchEvent(new Event('change', { bubbles: true }));
    }
  });
  await until(asked, (now) => now[0] === '2-3' && now[1] === '50');
  await page.reload();
  await state(page, 'ready');
  assert.deepEqual(await asked(), ['2-3', '50', 'mordent']);
  assert.equal(new URL(page.url()).search, query, 'the address stays, to be sent on');
  await page.goto(server.url + 'manual-en.html');
  await page.goto(server.url + query); // asked for anew
  await state(page, 'ready');
  assert.deepEqual(await asked(), first);
  await page.evaluate(() => { sessionStorage.clear(); localStorage.clear(); });
  await page.reload(); // nothing is kept: the address is all there is
  await state(page, 'ready');
  assert.deepEqual((await asked()).slice(0, 2), first.slice(0, 2));
  assert.deepEqual(wrong, []);
  await close();
});

later('at rest nothing is drawn', async () => {
  const context = await browser.newContext();
  const page = await context.newPage();
  await page.addInitScript({ path: new URL('cost-hook.js', import.meta.url).pathname });
  await page.goto(server.url);
  await state(page, 'ready');
  const drawn = () => page.evaluate(() => globalThis.__cost.drawn);
  assert.ok(await drawn() > 0, 'the staff was drawn');
  await page.waitForTimeout(2000); // fonts, sizes and the output settle
  const before = await drawn();
  await page.waitForTimeout(2000);
  assert.equal(await drawn() - before, 0);
  await context.close();
});

later('a choice changes what is said to be played, and survives a reload', async () => {
  const { page, close } = await open(browser, server.url, '?passage=turn');
  await state(page, 'ready');
  const before = await text(page, '#sign-notes');
  await page.locator('#choices button').nth(1).click();
  const chosen = await text(page, '#sign-notes');
  assert.notEqual(chosen, before);
  await page.reload();
  await state(page, 'ready');
  assert.equal(await text(page, '#sign-notes'), chosen);
  await close();
});

test('keys reach every control and typing taps nothing', async () => {
  const { page, wrong, close } = await open(browser, server.url, '?passage=turn');
  await state(page, 'ready');
  const reached = new Set();
  // What is done first comes first; a place, a menu and a sheet are opened when
  // the keys come to them, and a menu closes when they leave it.
  const first = [];
  const unopened = new Set(['place-practise', 'place-send', 'task-more', 'open-files', 'open-piece']);
  for (let i = 0; i < 220; i++) {
    await page.keyboard.press('Tab');
    const id = await page.evaluate(() => document.activeElement.id);
    reached.add(id);
    if (first.length < 2) first.push(id);
    const menu = await page.evaluate(() => document.activeElement.matches('details.menu:not([open]) > summary'));
    // Practise is opened on the second way round: its controls come before it.
    const wait = id === 'place-practise' && unopened.has('place-send');
    if (menu || !wait && unopened.delete(id)) {
      await page.keyboard.press('Enter');
      reached.add(await page.evaluate(() => document.activeElement.id)); // a sheet begins at its first control
    }
    if (['files-close', 'bring-close'].includes(id)) await page.keyboard.press('Enter');
  }
  assert.deepEqual(first, ['listen', 'tap'], 'what is done first');
  for (const id of ['passages', 'open', 'bring-paper', 'bring-typed', 'tradition', 'listen', 'tap', 'tempo', 'tempo-number', 'hand', 'play', 'bars', 'instrument', 'countin', 'beat', 'repeat', 'ornaments']) {
    assert.ok(reached.has(id), `Tab reaches #${id}`);
  }
  assert.deepEqual(wrong, []);
  await close();
});

test('two fingers tap', async () => {
  const { page, wrong, close } = await open(browser, server.url,
    '?passage=turn&bars=1-6&hand=both&play=both&instrument=click&beat=off&countin=0&tempo=60', { hasTouch: true });
  await state(page, 'ready');
  await page.tap('#tap');
  await state(page, 'tapping');
  const { x, y, width, height } = await page.locator('#pad').boundingBox();
  const cdp = await page.context().newCDPSession(page);
  const finger = (id, part) => ({ id, x: x + width * part, y: y + height / 2 });
  // Taps before the first note sounds belong to the count-in, and a sound device
  // that starts late moves that note. Few taps, close together: a busy machine
  // must be done before the round is.
  await page.waitForFunction(() => window.__robot.onsets.length > 0, null, { timeout: PATIENCE });
  for (let i = 0; i < 3; i++) {
    await cdp.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: [finger(1, 0.25)] });
    await cdp.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: [finger(1, 0.25), finger(2, 0.75)] });
    await cdp.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] });
    await page.waitForTimeout(100);
  }
  await state(page, 'result', { timeout: 120_000 });
  const { hit, extra } = await page.evaluate(() => ({ ...document.getElementById('result').dataset }));
  assert.equal(Number(hit) + Number(extra), 6, `every finger counts once: ${hit} hit, ${extra} extra`);
  assert.deepEqual(wrong, []);
  await close();
});

later('the static site works on a plain host, and then without one', { skip: process.env.AGREMENS_SITE ? false : 'AGREMENS_SITE names no built site' }, async () => {
  const types = { '.html': 'text/html', '.js': 'text/javascript', '.css': 'text/css', '.svg': 'image/svg+xml', '.wasm': 'application/wasm' };
  const host = http.createServer(async (request, response) => {
    const path = normalize(new URL(request.url, 'http://host').pathname);
    const name = path === '/practice/' ? 'index.html' : path.replace('/practice/', '');
    try {
      const body = await readFile(join(process.env.AGREMENS_SITE, name));
      response.writeHead(200, { 'Content-Type': types[extname(name)] ?? 'application/octet-stream' });
      response.end(body);
    } catch {
      response.writeHead(404).end();
    }
  }).listen(0, '127.0.0.1');
  await once(host, 'listening');
  const page = await browser.newPage();
  const missing = [];
  page.on('response', (r) => { if (r.status() >= 400) missing.push(r.url()); });
  await page.goto(`http://127.0.0.1:${host.address().port}/practice/`);
  await state(page, 'ready');
  assert.deepEqual(missing, []);
  // What keeps the page offline is set up once the page has come to rest.
  await page.evaluate(() => navigator.serviceWorker.ready);
  await page.waitForFunction(() => navigator.serviceWorker.controller, null, { timeout: 30_000 });
  host.close();
  host.closeAllConnections();
  await page.goto(page.url() + '?passage=mordent');
  await state(page, 'ready');
  assert.equal(await page.inputValue('#passages'), 'mordent');
  await page.close();
});
