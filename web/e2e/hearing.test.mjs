// How the page sees to it that it is heard on a tablet that may be mute, and
// what it says over plain http, which lets no times be judged.
import { test, before, after } from 'node:test';
import assert from 'node:assert/strict';
import { launch, serve, open, state } from './browser.mjs';

let browser, server;
before(async () => { server = await serve(); browser = await launch(); });
after(async () => { await browser?.close(); server?.close(); });

const text = (page, selector) => page.locator(selector).innerText();

test('the page asks to be heard on a silent tablet, keeps the screen awake, and asks once', async () => {
  const context = await browser.newContext({ viewport: { width: 820, height: 1180 }, hasTouch: true });
  await context.addInitScript(() => {
    // A tablet's browser, as far as the page can tell.
    Object.defineProperty(navigator, 'audioSession', { value: { type: 'auto' } });
    window.locks = [];
    Object.defineProperty(navigator, 'wakeLock', { value: { request: async (kind) => {
      window.locks.push(kind);
      return { release: async () => window.locks.push('release') };
    } } });
  });
  const page = await context.newPage();
  await page.goto(server.url + '?passage=mordent&bars=1-1&countin=0');
  await state(page, 'ready');
  assert.equal(await page.evaluate(() => navigator.audioSession.type), 'playback');
  assert.equal(await page.isVisible('#heard'), false, 'nothing is asked before there was sound');
  await page.tap('#listen');
  await state(page, 'listening');
  assert.deepEqual(await page.evaluate(() => window.locks), ['screen']);
  await state(page, 'ready', { timeout: 30_000 });
  await page.waitForFunction(() => window.locks.at(-1) === 'release');
  await page.waitForSelector('#heard:not([hidden])');
  assert.equal(await page.isVisible('#heard-help'), false);
  if (process.env.AGREMENS_OUT) await page.screenshot({ path: `${process.env.AGREMENS_OUT}/heard.png` });
  await page.tap('#heard-no');
  assert.equal(await page.isVisible('#heard-help svg'), true);
  await page.tap('#heard-close');
  await page.reload();
  await state(page, 'ready');
  await page.tap('#listen');
  await state(page, 'listening');
  await state(page, 'ready', { timeout: 30_000 });
  await page.waitForTimeout(500);
  assert.equal(await page.isVisible('#heard'), false, 'asked once');
  await context.close();
});

test('over plain http it sounds, and says that times are not judged', async () => {
  const page = await browser.newPage();
  const wrong = [];
  page.on('pageerror', (e) => wrong.push(e.message));
  const { port } = new URL(server.url);
  await page.goto(`http://plain.test:${port}/?passage=mordent&bars=1-2&hand=right&play=right&countin=0&tempo=80`);
  await state(page, 'ready');
  assert.equal(await page.evaluate(() => isSecureContext), false);
  assert.equal(await page.evaluate(() => typeof AudioWorklet), 'undefined');
  await page.click('#tap');
  await state(page, 'tapping');
  for (let i = 0; i < 9; i++) { // a round with fewer than half of its notes does not count
    await page.keyboard.press('KeyJ');
    await page.waitForTimeout(200);
  }
  await state(page, 'result', { timeout: 60_000 });
  assert.match(await text(page, '#result'), /not how early or late/);
  assert.equal(await page.locator('#result').getAttribute('data-mean-ms'), '');
  assert.deepEqual(wrong, []);
  await page.close();
});
