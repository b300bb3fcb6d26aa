// The program comes in two parts. The first begins, sounds and is tapped by
// itself; the rest joins it unasked, or at once when it is called.
import { test, before, after } from 'node:test';
import assert from 'node:assert/strict';
import { launch, serve, open, state, message, until } from './browser.mjs';

let browser, server;
before(async () => { server = await serve(); browser = await launch(); });
after(async () => { await browser?.close(); server?.close(); });

const whole = (page) => page.evaluate(() => 'whole' in document.documentElement.dataset);
const SCORE = 'X:1\nT:Two measures\nM:4/4\nL:1/4\nK:C\nTc d e f|Pg2 c2|]\n';

// held opens the page with the rest held back until release() is called; now
// collects when the program itself asked for it.
async function held(query = '') {
  let release;
  const free = new Promise((resolve) => { release = resolve; });
  const now = [];
  const opened = await open(browser, server.url, query, { prepare: async (page) => {
    await page.route(/agremens-rest\.wasm$/, async (route) => { await free; await route.continue().catch(() => {}); });
    await page.route(/agremens-rest\.wasm\?now$/, (route) => { now.push(route.request().url()); return route.continue(); });
  } });
  await state(opened.page, 'ready');
  return { ...opened, release, now };
}

test('a passage is heard and tapped before the rest is there', async (t) => {
  const { page, wrong, release, now, close } = await held('?passage=mordent&bars=1-2&countin=1');
  assert.equal(now.length, 0, 'nothing of the rest is needed to begin: if so, go run ./cmd/check first-visit');
  await page.click('#listen');
  await state(page, 'counting', 'listening');
  await state(page, 'ready', 'result');
  await page.click('#tap');
  await state(page, 'tapping');
  for (let i = 0; i < 200 && await page.getAttribute('html', 'data-state') === 'tapping'; i++) {
    await page.keyboard.press(i % 2 ? 'KeyK' : 'KeyJ');
    await page.waitForTimeout(150);
  }
  await state(page, 'result');
  t.diagnostic(`of the rest was asked ${now.length} times`); // rare calls may, and are served
  release();
  await until(() => whole(page), (there) => there);
  assert.deepEqual(wrong, []);
  await close();
});

test('what is called of the rest before it came is fetched at once', async () => {
  const { page, wrong, now, close } = await held();
  await page.click('#bring > summary');
  await page.click('#bring-typed');
  await page.fill('#typed-text', SCORE);
  await page.click('#typed-lay');
  await page.waitForFunction(() => document.getElementById('title-text').innerText === 'Two measures', null, { timeout: 30_000 });
  await page.setInputFiles('#open', { name: 'none.musicxml', mimeType: 'text/xml', buffer: Buffer.from('<score-partwise>') });
  await until(() => message(page), (text) => text !== '');
  assert.equal(now.length, 1, 'it is fetched once');
  assert.ok(await whole(page));
  assert.deepEqual(wrong, []);
  await close();
});

test('a file that is chosen before the rest came waits for it', async () => {
  const { page, wrong, now, release, close } = await held();
  await page.setInputFiles('#open', { name: 'two.abc', mimeType: 'text/plain', buffer: Buffer.from(SCORE) });
  assert.equal(await until(() => page.innerText('#status'), (text) => text !== ''), 'Opening two.abc …');
  await page.click('#next-sign'); // the page answers meanwhile
  assert.equal(now.length, 0);
  release();
  await page.waitForFunction(() => document.getElementById('status').innerText.includes('two.abc is open'), null, { timeout: 30_000 });
  assert.equal(now.length, 0, 'it came by itself');
  assert.deepEqual(wrong, []);
  await close();
});

test('a rest that does not come is asked for again, and missed in words', async () => {
  let asked = 0;
  const opened = await open(browser, server.url, '', { prepare: (page) => page.route(/agremens-rest\.wasm/, (route) => { asked++; return route.abort(); }) });
  const { page } = opened;
  await state(page, 'ready');
  await until(() => asked, (n) => n > 1);
  await page.setInputFiles('#open', { name: 'none.musicxml', mimeType: 'text/xml', buffer: Buffer.from('<score-partwise>') });
  assert.match(await until(() => message(page), (text) => text !== ''), /A part of the program did not arrive; perhaps the network is gone\..*reload the page/);
  await page.unroute(/agremens-rest\.wasm/);
  await page.click('#message button');
  await page.waitForLoadState();
  await state(page, 'ready');
  await opened.close();
});

const NOTICE = '.notice';
async function notice(page) {
  await page.waitForSelector(NOTICE, { timeout: 30_000 });
  return page.innerText(NOTICE);
}

// faulty opens the page with a rest of another content until mended is set.
async function faulty(spoil) {
  const rest = { mended: false, asked: 0 };
  const opened = await open(browser, server.url, '?passage=mordent', { prepare: (page) => page.route(/agremens-rest\.wasm/, async (route) => {
    rest.asked++;
    if (rest.mended) return route.continue();
    const answer = await route.fetch();
    return route.fulfill({ response: answer, headers: { 'content-type': 'application/wasm' }, body: spoil(await answer.body()) });
  }) });
  await state(opened.page, 'ready');
  await opened.page.fill('#tempo', '65');
  return { ...opened, rest };
}

const cutOff = (body) => body.subarray(0, body.length >> 1);

// ofAnotherBuild changes the name by which a rest asks for its first part.
function ofAnotherBuild(body) {
  const other = Buffer.from(body), at = other.indexOf('here');
  assert.ok(at > 0);
  other[at + 4] = other[at + 4] === 0x30 ? 0x31 : 0x30;
  return other;
}

test('a rest that is cut off is told after a while, and comes when it is asked for again', async () => {
  const { page, rest, close } = await faulty(cutOff);
  assert.match(await notice(page), /has not arrived yet\. What is open goes on/);
  await page.click('#next-sign'); // which it does
  rest.mended = true;
  await page.click(`${NOTICE} button`);
  await until(() => whole(page), (there) => there);
  assert.equal(await until(() => page.locator(NOTICE).count(), (n) => n === 0), 0, 'nothing is left to say');
  assert.equal(await page.inputValue('#tempo'), '65');
  await close();
});

test('a rest of another build is told, and loading again puts it right', async () => {
  const { page, rest, close } = await faulty(ofAnotherBuild);
  assert.match(await notice(page), /belongs to another version/);
  rest.mended = true;
  await page.click(`${NOTICE} button`);
  await page.waitForLoadState();
  await state(page, 'ready');
  await until(() => whole(page), (there) => there);
  assert.ok(await whole(page));
  assert.equal(await page.inputValue('#tempo'), '65', 'nothing is lost');
  await close();
});

test('a rest that is of another build when it is called ends in words and a button', async () => {
  const { page, rest, close } = await faulty(ofAnotherBuild);
  await page.setInputFiles('#open', { name: 'two.abc', mimeType: 'text/plain', buffer: Buffer.from(SCORE) });
  assert.match(await until(() => message(page), (text) => text !== ''), /belongs to another version/);
  rest.mended = true;
  await page.click('#message button');
  await page.waitForLoadState();
  await state(page, 'ready');
  assert.equal(await page.inputValue('#tempo'), '65', 'nothing is lost');
  await close();
});

test('a rest that is late is told, and what needs it does not freeze the page', async () => {
  const opened = await open(browser, server.url, '?passage=mordent', { prepare: (page) => page.route(/agremens-rest\.wasm/, () => {}) }); // never answered
  const { page } = opened;
  await state(page, 'ready');
  await page.fill('#tempo', '65');
  await page.waitForSelector(NOTICE, { timeout: 30_000 });
  await page.click('#next-sign');
  await page.setInputFiles('#open', { name: 'two.abc', mimeType: 'text/plain', buffer: Buffer.from(SCORE) });
  await state(page, 'error', { timeout: 60_000 });
  assert.match(await until(() => message(page), (text) => text !== ''), /did not arrive.*Load the page again/s);
  await page.unroute(/agremens-rest\.wasm/);
  await page.click('#message button');
  await page.waitForLoadState();
  await state(page, 'ready');
  assert.equal(await page.inputValue('#tempo'), '65', 'nothing is lost');
  await opened.close();
});
