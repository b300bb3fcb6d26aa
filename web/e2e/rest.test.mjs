// The program comes in two parts. The first begins, sounds and is tapped by
// itself; the rest joins it unasked, or at once when it is called.
import { before, after } from 'node:test';
import assert from 'node:assert/strict';
import { launch, serve, open, state, message, until, PATIENCE } from './browser.mjs';
import { test, later } from './tier.mjs';

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
  for (let i = 0; await page.getAttribute('html', 'data-state') === 'tapping'; i++) {
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
  await page.click('#bring-typed');
  await page.fill('#typed-text', SCORE);
  await page.click('#typed-lay');
  await page.waitForFunction(() => document.getElementById('title-text').innerText === 'Two measures', null, { timeout: PATIENCE });
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
  await page.waitForFunction(() => document.getElementById('status').innerText.includes('two.abc is open'), null, { timeout: PATIENCE });
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
  assert.match(await until(() => message(page), (text) => text !== ''), /A part of the program has not arrived/, 'it is said before anything needs it');
  await page.click('#message-close');
  await page.setInputFiles('#open', { name: 'none.musicxml', mimeType: 'text/xml', buffer: Buffer.from('<score-partwise>') });
  assert.match(await until(() => message(page), (text) => /did not arrive/.test(text)), /A part of the program did not arrive; perhaps the network is gone\..*reload the page/);
  await opened.close();
});

for (const { name, answer } of [
  { name: 'cut off', answer: (whole) => whole.subarray(0, whole.length / 2) },
  { name: 'of another build', answer: () => Buffer.from([0, 97, 115, 109, 1, 0, 0, 0, 1, 4, 1, 96, 0, 0, 2, 12, 1, 5, 102, 105, 114, 115, 116, 2, 110, 111, 0, 0]) }, // it takes first.no, which there is not
]) {
  later(`a rest that is ${name} is missed in words, and taken when the right one comes`, async () => {
    let right = false;
    const opened = await open(browser, server.url, '', { prepare: (page) => page.route(/agremens-rest\.wasm$/, async (route) => {
      if (right) return route.continue();
      const whole = await (await route.fetch()).body();
      return route.fulfill({ status: 200, contentType: 'application/wasm', body: answer(whole) });
    }) });
    const { page, wrong } = opened;
    await state(page, 'ready');
    assert.match(await until(() => message(page), (text) => text !== ''), /A part of the program has not arrived/);
    right = true;
    assert.ok(await until(() => whole(page), (there) => there));
    assert.equal(await message(page), '', 'what was said is taken back');
    assert.deepEqual(wrong, []);
    await opened.close();
  });
}
