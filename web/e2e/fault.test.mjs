// A mistake in the program ends as a sentence with what to do, never as a dead
// page, and what lay on the desk is there again. The program is built with
// faults that the address puts in (cmd/agremens-web/faults_js.go).
import { test, before, after } from 'node:test';
import assert from 'node:assert/strict';
import { launch, serve, open, state, until } from './browser.mjs';

let browser, server;
before(async () => { server = await serve({ tag: 'faults' }); browser = await launch(); });
after(async () => { await browser?.close(); server?.close(); });

const SCORE = 'X:1\nT:Two measures\nM:4/4\nL:1/4\nK:C\nTc d e f|Pg2 c2|]\n';
const shown = (page, id) => page.evaluate((id) => document.getElementById(id).getClientRects().length > 0, id);
const stopped = (page) => page.waitForFunction(() => document.getElementById('stopped').open);
const look = (page) => page.evaluate(() => ({
  title: document.getElementById('title-text').textContent, bars: document.getElementById('bars').value,
  notes: document.getElementById('sign-notes').textContent,
}));

// worked opens a score of one's own and decides something in it.
async function worked(more = {}) {
  const opened = await open(browser, server.url, '', more);
  const { page } = opened;
  await state(page, 'ready');
  await page.setInputFiles('#open', { name: 'two.abc', mimeType: 'text/plain', buffer: Buffer.from(SCORE) });
  await until(() => page.innerText('#title-text'), (text) => text === 'Two measures');
  await page.fill('#bars', '1-1');
  await page.dispatchEvent('#bars', 'change');
  await page.locator('#choices button').nth(1).click();
  return { ...opened, desk: await look(page) };
}

// broken goes on with the same desk and a fault, and waits until it has stopped.
async function broken(page, fault) {
  await page.goto(`${server.url}?fault=${fault}`);
  if (fault !== 'start') {
    await state(page, 'ready');
    await page.click('#listen');
  }
  await stopped(page);
}

for (const fault of ['press', 'start', 'tick', 'goroutine', 'trap']) {
  test(`a fault at ${fault} is said, and the desk is there again`, async () => {
    const { page, desk, close } = await worked();
    await broken(page, fault);
    assert.match(await page.innerText('#stopped'), /The program has stopped[^]*nothing you did[^]*are still on this device/);
    assert.equal(await shown(page, 'stopped-without'), false);
    await page.keyboard.press('Escape');
    await page.keyboard.press('Escape');
    assert.ok(await until(() => shown(page, 'stopped-reload'), Boolean), 'nothing lies behind it');
    await page.evaluate(() => history.replaceState(null, '', '/')); // the mistake is mended
    await page.click('#stopped-reload');
    await state(page, 'ready');
    assert.deepEqual(await look(page), desk);
    assert.equal(await shown(page, 'stopped'), false);
    await close();
  });
}

test('what stops the program again and again is taken off the desk, and stays in the list', async () => {
  const { page, desk, close } = await worked({ locale: 'de-DE' });
  await broken(page, 'start');
  await page.click('#stopped-reload');
  await page.waitForLoadState();
  await stopped(page);
  assert.match(await page.innerText('#stopped'), /Das Programm ist stehen geblieben[^]*zweimal hintereinander/);
  await page.click('#stopped-without');
  await state(page, 'ready');
  assert.notEqual((await look(page)).title, desk.title);
  const kept = await page.$$eval('#passages option', (all) => all.find((o) => /two/i.test(o.textContent))?.value);
  assert.ok(kept, 'it is in the list');
  await page.selectOption('#passages', kept);
  await until(() => look(page), (now) => now.title === desk.title);
  assert.deepEqual(await look(page), desk);
  await close();
});
