// A teacher changes how an ornament is played, takes it along, takes it back.
import { test, before, after } from 'node:test';
import assert from 'node:assert/strict';
import { launch, serve, open, state } from './browser.mjs';

let browser, server;
before(async () => { server = await serve(); browser = await launch(); });
after(async () => { await browser?.close(); server?.close(); });

test('a choice is changed, written, explained, taken along and taken back', async () => {
  const { page, wrong, close } = await open(browser, server.url, '?passage=mordent');
  await state(page, 'ready');
  const now = () => page.textContent('#change-now');
  const first = await page.textContent('#sign-notes');
  await page.click('#change-choice');
  await page.waitForSelector('#change[open]');
  const before = await now();

  await page.click('#ending-off');
  await page.click('#one-more');
  await page.waitForFunction((b) => document.getElementById('change-now').textContent !== b, before);
  assert.equal(await page.locator('#change-picture svg').count(), 1);
  assert.match(await page.textContent('#change-name'), /your own/);

  // What cannot be is refused in words, and nothing is lost.
  const kept = await page.textContent('#sign-notes');
  for (let i = 0; i < 6; i++) await page.click('#one-fewer');
  assert.match(await now(), /nothing to play here|spared|–/);

  await page.click('#change details:nth-of-type(2) > summary');
  await page.fill('#own-notes', 'A G F# G');
  await page.click('#own-write');
  await page.waitForFunction(() => document.getElementById('change-now').textContent.startsWith('A–G–F♯–G'));
  await page.fill('#own-notes', 'A H');
  await page.click('#own-write');
  await page.waitForFunction(() => /is not a note/.test(document.getElementById('change-now').textContent));

  await page.click('#change details:nth-of-type(3) > summary');
  await page.fill('#own-why', 'so my teacher played it');
  await page.check('#own-edition');
  await page.click('#own-keep');
  await page.waitForFunction(() => /your edition/.test(document.getElementById('change-name').textContent));
  await page.fill('#own-fingers', '4 3 2 3');
  await page.click('#own-finger');
  await page.click('#change-close');
  assert.match(await page.textContent('#sign-why') + await page.textContent('#sign-because'), /so my teacher played it/);

  // It survives a reload, and can be taken back step by step.
  await page.reload();
  await state(page, 'ready');
  assert.match(await page.textContent('#sign-notes'), /^A–G–F♯–G/);
  await page.click('#change-choice');
  await page.click('#forget');
  await page.waitForFunction((f) => document.getElementById('sign-notes').textContent === f, first);
  await page.click('#change-undo');
  await page.waitForFunction(() => document.getElementById('sign-notes').textContent.startsWith('A–G–F♯–G'));
  await page.click('#change-close');

  if (await page.locator('#take-along').evaluate((e) => !e.hidden)) {
    const n = Number((await page.textContent('#take-along')).match(/\d+/)[0]);
    await page.click('#take-along');
    await page.waitForFunction((n) => document.getElementById('status').textContent.startsWith(String(n)), n);
  }
  assert.notEqual(kept, first);
  assert.deepEqual(wrong, []);
  await close();
});
