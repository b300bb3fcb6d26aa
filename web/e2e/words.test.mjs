// The page in German: before and after loading, in every sheet, on the
// student's page and without a network.
import { before, after } from 'node:test';
import assert from 'node:assert/strict';
import http from 'node:http';
import { once } from 'node:events';
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { launch, serve, open, state, contents, reaching, until, PATIENCE } from './browser.mjs';
import { test, later } from './tier.mjs';

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

let browser, server, texts;
before(async () => {
  server = await serve();
  browser = await launch();
  // The texts and their German, as the page has them.
  const packed = await (await fetch(new URL('words-de.txt', server.url))).text();
  texts = packed.split('\x1e').slice(1).map((record) => record.split('\x1f').slice(0, 2))
    .map(([english, german]) => [english.split('\x04').at(-1), german]);
});
after(async () => { await browser?.close(); server?.close(); });

const german = (query, more) => open(browser, server.url, query, { locale: 'de-DE', ...more });

// english returns the visible texts that are English though there is German
// for them. A text that is the German of another is none.
async function english(page) {
  const shown = await page.evaluate(() => {
    const found = new Set();
    const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT | NodeFilter.SHOW_ELEMENT,
      (node) => (node.translate === false ? NodeFilter.FILTER_REJECT : NodeFilter.FILTER_ACCEPT));
    for (let node = walk.nextNode(); node; node = walk.nextNode()) {
      const element = node.nodeType === Node.TEXT_NODE ? node.parentElement : node;
      if (element.matches('noscript, noscript *') || !(element.closest('select') ?? element).checkVisibility()) continue;
      if (node.nodeType === Node.TEXT_NODE) found.add(node.data.trim().replace(/\s+/g, ' '));
      else for (const name of ['aria-label', 'title', 'placeholder', 'alt', 'label']) found.add(node.getAttribute(name) ?? '');
    }
    return [...found];
  });
  const same = new Set(texts.map(([, said]) => said));
  const untold = new Set(texts.filter(([text, said]) => text !== said && !same.has(text)).map(([text]) => text));
  return shown.filter((text) => untold.has(text));
}

async function clean(page, where) {
  assert.deepEqual(await english(page), [], where);
  await page.evaluate(axe);
  assert.deepEqual(await page.evaluate(async () => (await axe.run(document)).violations
    .flatMap((v) => v.nodes.map((n) => `${v.id}: ${n.target.join(' ')}`))), [], where);
}

test('a German visitor reads German before the program is there and in every sheet', async () => {
  const context = await browser.newContext({ locale: 'de-DE' });
  const page = await context.newPage();
  reaching(page);
  const wrong = [];
  page.on('pageerror', (error) => wrong.push(error.message));
  let go;
  const held = new Promise((resolve) => { go = resolve; });
  await page.route(/agremens[^/]*\.wasm$/, async (route) => { await held; await route.continue(); });
  let late;
  const slow = new Promise((resolve) => { late = resolve; });
  await page.route(/words-de[^/]*\.txt$/, async (route) => { await slow; await route.continue(); });
  await page.goto(server.url);
  assert.ok(!await page.isVisible('#loading'), 'nothing is shown before its language is there');
  late();
  await page.waitForSelector('#loading', { state: 'visible' });
  assert.equal(await page.getAttribute('html', 'lang'), 'de');
  assert.match(await page.innerText('#loading'), /Verzierungszeichen/);
  assert.deepEqual(await english(page), []);
  go();
  await state(page, 'ready');
  assert.equal(await page.innerText('#tap'), 'Klopfen');
  await clean(page, 'the desk');
  for (const [menu, button, sheet] of [
    ['', 'open-piece', 'bring'], ['', 'bring-paper', 'paper-sheet'], ['', 'bring-typed', 'typed-sheet'],
    ['', 'open-class', 'class'], ['', 'open-files', 'files'], ['', 'send-wav', 'sound-sheet'],
    ['more', 'open-log', 'log'], ['more', 'open-rate', 'speed'], ['more', 'measure', 'calibrate'],
    ['more', 'open-glossary', 'glossary'], ['more', 'no-sound', 'heard-help'],
  ]) {
    if (menu) await page.click(`#${menu} > summary`);
    assert.deepEqual(await english(page), [], menu);
    await page.click('#' + button);
    await page.waitForSelector(`#${sheet}[open]`);
    await page.evaluate((sheet) => document.querySelectorAll(`#${sheet} details`).forEach((d) => { d.open = true; }), sheet);
    assert.deepEqual(await english(page), [], sheet);
    await page.evaluate((sheet) => document.getElementById(sheet).close(), sheet);
  }
  for (const topic of await page.$$eval('[data-help]', (all) => [...new Set(all.map((b) => b.dataset.help))])) {
    await page.evaluate((topic) => document.querySelector(`[data-help=${topic}]`).click(), topic);
    await page.waitForSelector(`#help-${topic}`, { state: 'visible' });
    assert.deepEqual(await english(page), [], 'help: ' + topic);
    await page.click('#help-close');
  }
  await page.evaluate(() => document.querySelector('[data-help=round]').click());
  const [manual] = await Promise.all([context.waitForEvent('page'), page.click('#help-manual')]);
  await manual.waitForLoadState();
  assert.match(manual.url(), /\/manual-de\.html$/, 'the manual in the page’s language');
  await clean(manual, 'the manual');
  assert.deepEqual(await manual.$$eval('img', (all) => all.map((i) => i.complete && i.naturalWidth > 0 && i.alt.length > 20)), [true, true, true], 'its pictures');
  assert.ok(await manual.evaluate(() => document.scrollingElement.scrollWidth <= innerWidth));
  assert.equal(await manual.$eval('nav a', (a) => a.href), server.url, 'the way back');
  assert.equal(await manual.$eval('nav a[hreflang=en]', (a) => new URL(a.href).pathname), '/manual-en.html');
  await manual.close();
  await page.click('#help-close');
  await page.click('#change-choice');
  assert.deepEqual(await english(page), [], 'change');
  await page.click('#change-close');
  assert.deepEqual(wrong, []);
  await context.close();
});

test('what was seen last stands there in German before the program, and so does what follows it in the page', async () => {
  const { page, wrong, close } = await german('', { serviceWorkers: 'block' });
  await state(page, 'ready');
  await page.click('#next-sign');
  const notes = await page.innerHTML('#sign-notes');
  await until(() => page.evaluate(() => JSON.parse(localStorage.getItem('agremens.seen'))?.html['sign-notes']), (kept) => kept === notes);
  await page.route(/agremens[^/]*\.wasm$/, () => {});
  await page.reload({ waitUntil: 'domcontentloaded' });
  await page.waitForSelector('html[data-seen]');
  assert.ok(await page.isVisible('#sign-name'));
  assert.equal(await page.innerText('#tap'), 'Klopfen');
  assert.deepEqual(await english(page), []);
  assert.deepEqual(await page.$$eval('#caution, #help-close', (all) => all.filter((e) => /Stop if|Close/.test(e.textContent)).length), 0);
  assert.deepEqual(wrong, []);
  await close();
});

later('English is chosen, holds, loses nothing and fetches no other texts', async () => {
  const { page, close } = await german('?passage=turn&bars=2-3&tempo=60');
  await state(page, 'ready');
  await page.selectOption('#hand', 'left');
  const before = await Promise.all(['#bars', '#tempo', '#hand'].map((id) => page.inputValue(id)));
  await page.click('#more > summary');
  assert.equal(await page.inputValue('#note-names'), 'german', 'German names go with German');
  await Promise.all([page.waitForNavigation(), page.selectOption('#language', 'en')]);
  await state(page, 'ready');
  assert.equal(await page.getAttribute('html', 'lang'), 'en');
  assert.equal(await page.innerText('#tap'), 'Tap');
  assert.deepEqual(await Promise.all(['#bars', '#tempo', '#hand'].map((id) => page.inputValue(id))), before);
  assert.equal(await page.inputValue('#note-names'), 'english');
  const asked = [];
  page.on('request', (request) => asked.push(request.url()));
  await page.reload();
  await state(page, 'ready');
  assert.equal(await page.innerText('#tap'), 'Tap');
  assert.ok(asked.some((url) => url.endsWith('/words.js')));
  assert.deepEqual(asked.filter((url) => url.includes('words-de')), []);
  await close();
});

// host stands before the server; renewed, it has a new version, in which the
// German of "Done" is another.
async function host() {
  const it = { renewed: false };
  const edits = { '/sw.js': (text) => text.replace("= 'agremens '", "= 'agremens newer '"), '/words-de.txt': (text) => text.replace('Done\x1fFertig', 'Done\x1fBeendet') };
  const front = http.createServer((request, response) => {
    const edit = edits[request.url];
    const headers = edit ? { 'accept-encoding': 'identity' } : request.headers;
    const behind = http.request(new URL(request.url, server.url), { method: request.method, headers }, async (answer) => {
      const { 'content-length': length, etag, ...head } = answer.headers;
      response.writeHead(answer.statusCode, edit ? head : answer.headers);
      if (!edit) return answer.pipe(response);
      let text = '';
      for await (const part of answer.setEncoding('utf8')) text += part;
      response.end(it.renewed ? edit(text) : text);
    });
    behind.on('error', () => response.destroy());
    request.pipe(behind);
  }).listen(0, '127.0.0.1');
  await once(front, 'listening');
  it.url = `http://127.0.0.1:${front.address().port}/`;
  it.close = () => { front.closeAllConnections(); front.close(); };
  return it;
}

later('a task opens in the language of the tablet; the teacher’s words stay; so too without a network', async (t) => {
  const teacher = await open(browser, server.url, '?passage=mordent&bars=1-2');
  await state(teacher.page, 'ready');
  await teacher.page.click('#place-send');
  await teacher.page.fill('#task-words', 'Done: every note twice.');
  const [download] = await Promise.all([teacher.page.waitForEvent('download'), teacher.page.click('#task-file')]);
  const file = await contents(download);
  await teacher.close();

  const home = await host();
  t.after(() => home.close());
  const student = await open(browser, home.url, '', { locale: 'de-DE', hasTouch: true });
  const { page } = student;
  await state(page, 'ready');
  await page.setInputFiles('#open', { name: 'task.agremens', mimeType: 'text/plain', buffer: file });
  await page.waitForFunction(() => document.documentElement.dataset.page === 'student');
  assert.equal(await page.innerText('#student-words'), 'Done: every note twice.');
  assert.equal(await page.textContent('#done'), 'Fertig');
  await page.click('#student-more > summary');
  await page.click('#student-own > summary');
  assert.equal(await page.inputValue('#student-notes'), 'german');
  await clean(page, 'the student’s page');
  await page.click('#done');
  await page.waitForSelector('#last[open]');
  assert.deepEqual(await english(page), [], 'the last page');
  await page.click('#last-close');

  // The texts are kept, and a new version brings its own.
  const kept = async () => {
    const there = () => page.evaluate(async () => Boolean(navigator.serviceWorker.controller && await caches.match('words-de.txt')));
    for (const end = Date.now() + PATIENCE; !await there();) {
      assert.ok(Date.now() < end, 'the texts are kept');
      await page.waitForTimeout(300);
    }
  };
  await kept();
  // The manual is kept when it is read.
  const manual = await page.context().newPage();
  await manual.goto(home.url + 'manual-de.html');
  await manual.waitForFunction(async () => {
    const names = [...document.querySelectorAll('img, link[rel=stylesheet]')].map((e) => e.src ?? e.href);
    return names.length > 4 && (await Promise.all([location.href, ...names].map((name) => caches.match(name)))).every(Boolean);
  }, null, { timeout: PATIENCE, polling: 300 });
  await manual.close();
  home.renewed = true;
  await page.evaluate(async () => (await navigator.serviceWorker.ready).update());
  await page.waitForFunction(() => document.getElementById('message-text').textContent.includes('neue Fassung'), null, { timeout: PATIENCE });
  await kept();
  home.close();
  await page.reload();
  await state(page, 'ready');
  assert.equal(await page.getAttribute('html', 'lang'), 'de');
  assert.equal(await page.textContent('#done'), 'Beendet'); // stands behind More
  assert.equal(await page.innerText('#student-words'), 'Done: every note twice.');
  await student.close();
});
