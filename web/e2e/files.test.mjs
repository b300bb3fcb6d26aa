// Scores through the page's own file input: all real ones open, all
// malformed ones are refused with a word about it and nothing is lost.
import { before, after } from 'node:test';
import assert from 'node:assert/strict';
import { existsSync, mkdtempSync, readdirSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { fileURLToPath } from 'node:url';
import { basename, join } from 'node:path';
import { largeScore } from './large.mjs';
import { launch, serve, open, state, message, atRest } from './browser.mjs';
import { test, later } from './tier.mjs';

const root = fileURLToPath(new URL('../..', import.meta.url));
const scores = join(process.env.AGREMENS_REFERENCE ?? join(root, '..', 'shared', 'reference'), 'scores');
const malformed = join(root, 'cmd', 'agremens', 'testdata', 'malformed');

const files = (folder, endings) => {
  const found = readdirSync(folder).filter((f) => endings.test(f)).sort().map((f) => join(folder, f));
  assert.notEqual(found.length, 0, `${folder} holds files`);
  return found;
};

let browser, server;
before(async () => { server = await serve(); browser = await launch(); });
after(async () => { await browser?.close(); server?.close(); });

// watch notes in the page every text the status line shows, the turns it had
// and the longest time without one.
const watch = (page) => page.evaluate(() => {
  const w = window.__watch = { said: [], busy: 0, turns: 0 };
  const status = document.getElementById('status');
  new MutationObserver(() => w.said.push(status.innerText)).observe(status, { childList: true, characterData: true, subtree: true });
  let last = performance.now();
  setInterval(() => {
    const now = performance.now();
    w.busy = Math.max(w.busy, now - last);
    w.turns++;
    last = now;
  }, 10);
});

// give puts a file into the page and waits until the page has dealt with it.
async function give(page, path) {
  await page.evaluate(() => { Object.assign(window.__watch, { said: [], busy: 0, turns: 0 }); });
  const began = Date.now();
  await page.setInputFiles('#open', path);
  await page.waitForFunction((name) => {
    const m = document.getElementById('message');
    // A message that names another file says only that there was no room to keep it.
    return window.__watch.said.some((s) => s.includes(name) && s.includes('is open'))
      || m && !m.hidden && m.getClientRects().length > 0 && m.textContent.includes(name);
  }, basename(path), { timeout: 180_000, polling: 20 });
  return { ms: Date.now() - began, ...await page.evaluate(() => window.__watch) };
}

const opens = (list) => async (t) => {
  const { page, wrong, close } = await open(browser, server.url);
  await state(page, 'ready');
  await watch(page);
  let largest = { size: 0 }, slowest = { ms: 0 };
  for (const path of list) {
    const name = basename(path), size = statSync(path).size;
    const { ms, said, busy } = await give(page, path);
    assert.ok(said.some((s) => s.includes('is open')), `${name}: ${await message(page)}`);
    assert.ok(said.some((s) => s.includes(name) && !s.includes('is open')), `${name}: progress is shown`);
    await state(page, 'ready');
    if (size > largest.size) largest = { name, size, ms, busy };
    if (ms > slowest.ms) slowest = { name, ms, busy };
    await page.evaluate(() => document.getElementById('message-close').click());
  }
  t.diagnostic(`largest: ${JSON.stringify(largest)}`);
  t.diagnostic(`slowest: ${JSON.stringify(slowest)}`);
  assert.deepEqual(wrong, []);
  await close();
};
const real = existsSync(scores) ? files(scores, /\.(musicxml|xml|mxl)$/) : [], skip = real.length ? false : `${scores} is not there`;
test('real scores open: every eighth', { skip }, opens(real.filter((_, i) => i % 8 === 0)));
later('every real score opens', { skip }, opens(real));

later('20 MB and 2,000 bars open, and the page stays alive; more is refused at once', async (t) => {
  const folder = mkdtempSync(join(tmpdir(), 'agremens-'));
  t.after(() => rmSync(folder, { recursive: true }));
  const write = (name, text) => { writeFileSync(join(folder, name), text); return join(folder, name); };
  const { page, wrong, close } = await open(browser, server.url);
  await state(page, 'ready');
  await watch(page);
  const largest = write('largest.musicxml', largeScore());
  assert.ok(statSync(largest).size > 19_000_000 && statSync(largest).size <= 20 << 20, `${statSync(largest).size} bytes`);
  const { ms, said, busy, turns } = await give(page, largest);
  assert.ok(said.some((s) => s.includes('is open')), await message(page));
  const progress = said.filter((s) => s.includes('largest.musicxml') && !s.includes('is open'));
  t.diagnostic(`largest: ${ms} ms, the longest time without a turn ${Math.round(busy)} ms, ${progress.length} words of progress`);
  assert.ok(progress.length > 3, `progress is shown: ${progress}`);
  assert.ok(turns > 20, `the page had ${turns} turns meanwhile`);
  await state(page, 'ready');
  // All of it as a page: laid out beside the frames, then there.
  const tall = () => page.evaluate(() => parseFloat(document.getElementById('extent').style.height) || 0);
  const run = await tall();
  await page.evaluate(() => { Object.assign(window.__watch, { busy: 0, turns: 0 }); });
  const asked = Date.now();
  await page.click('#page-view');
  while (await tall() < 20 * run && Date.now() < asked + 60_000) await page.waitForTimeout(50);
  assert.ok(await tall() >= 20 * run, `the page is ${await tall()} px tall, the run was ${run}`);
  const laid = await page.evaluate(() => window.__watch);
  t.diagnostic(`2,000 measures as a page: ${Date.now() - asked} ms, the longest time without a turn ${Math.round(laid.busy)} ms`);
  assert.ok(laid.turns > 20, `the page had ${laid.turns} turns meanwhile`);
  await page.click('#page-view');
  for (const [name, text] of [['bars.musicxml', largeScore(2001, 4)], ['bytes.musicxml', largeScore(2000, 36)]]) {
    const refused = await give(page, write(name, text));
    const words = await message(page);
    t.diagnostic(`${words.split('\n')[0]} (${refused.ms} ms)`);
    assert.match(words, /2000 bars|20 MB/);
    await page.evaluate(() => document.getElementById('message-close').click());
  }
  assert.deepEqual(wrong, []);
  await close();
});

// One page takes them all, one after another, as a teacher's would.
test('what cannot be read is refused, and nothing is lost', async (t) => {
  const { page, wrong, close } = await open(browser, server.url, '?passage=turn&bars=1-2');
  await state(page, 'ready');
  await watch(page);
  const shown = () => page.evaluate(() => ['title-text', 'composer-text', 'sign-name', 'sign-notes', 'choices', 'staff-text']
    .map((id) => document.getElementById(id).textContent));
  const before = await shown();
  const picture = await atRest(page);
  for (const path of files(malformed, /\.(musicxml|xml|mxl|abc)$/)) {
    const name = basename(path);
    await t.test(name, async (t) => {
      await give(page, path);
      const words = await message(page);
      t.diagnostic(words.split('\n')[0]);
      assert.ok(words.includes(name), `the message names the file: ${words}`);
      assert.ok(words.length > name.length + 20, `the message says what is wrong: ${words}`);
      assert.deepEqual(await shown(), before, 'the passage stays');
      await page.evaluate(() => document.getElementById('message-close').click());
      assert.ok((await atRest(page, picture)).equals(picture), 'the staff stays');
      assert.equal(await state(page, 'ready', 'error'), 'ready');
    });
  }
  await page.click('#listen');
  await state(page, 'listening', 'counting');
  assert.deepEqual(wrong, []);
  await close();
});
