// A fault of the program ends in words with what to do, and the desk is kept.
// The faults are put in by the address, in a build that has them.
import { test, before, after } from 'node:test';
import assert from 'node:assert/strict';
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { launch, open, state, message, until } from './browser.mjs';

let browser, server, url;
before(async () => {
  url = process.env.AGREMENS_FAULTS;
  if (!url) {
    server = spawn('go', ['run', './cmd/agremens', 'serve', '-addr', '127.0.0.1:0'],
      { cwd: new URL('../..', import.meta.url), env: { ...process.env, GOFLAGS: '-tags=faults' }, stdio: ['ignore', 'pipe', 'inherit'], detached: true });
    const [line] = await once(server.stdout, 'data');
    url = String(line).trim();
  }
  browser = await launch();
});
after(async () => {
  await browser?.close();
  if (server) process.kill(-server.pid);
});

const STOPPED = /The program has stopped because of a fault\. Your work is kept on this device: please load the page again\./;
const percent = (page) => page.inputValue('#tempo');

async function atFault(page) {
  await state(page, 'error');
  assert.match(await until(() => message(page), (text) => text !== ''), STOPPED);
  assert.ok(await page.evaluate(() => Boolean(document.getElementById('listen').closest('[inert]'))), 'what does not answer cannot be pressed');
}

test('a fault under a hand, a sheet open, is told, and the desk is there again', async () => {
  const { page, close } = await open(browser, url, '?fault=press&passage=mordent');
  await state(page, 'ready');
  await page.fill('#tempo', '65');
  await page.evaluate(() => {
    document.querySelector('dialog').showModal();
    document.getElementById('next-sign').click();
  });
  await atFault(page);
  assert.equal(await page.locator('dialog[open]').count(), 0, 'nothing covers the words');
  await page.click('#message button'); // the only one
  await state(page, 'ready');
  assert.equal(await percent(page), '65');
  assert.equal(await page.inputValue('#passages'), 'mordent');
  await close();
});

test('a fault while time goes by is told', async () => {
  const { page, close } = await open(browser, url, '?fault=tick');
  await atFault(page);
  await close();
});

test('a fault that comes again at every load leaves a way out', async () => {
  const { page, close } = await open(browser, url, '?passage=mordent');
  await state(page, 'ready');
  await page.fill('#tempo', '65');
  await page.goto(new URL('?fault=start&passage=mordent', url).href);
  await atFault(page);
  assert.equal(await page.locator('#message button').count(), 1);
  await page.click('#message button');
  await page.waitForLoadState();
  await atFault(page);
  assert.match(await message(page), /twice in a row/);
  await page.click('#message button:has-text("Open without the passage")');
  await state(page, 'ready');
  assert.notEqual(await page.inputValue('#passages'), 'mordent');
  const kept = await page.evaluate(() => localStorage.getItem('agremens.aside'));
  assert.match(kept, /^percent 65$/m, 'what lay on the desk is kept aside');
  await close();
});
