// For everyone and everywhere: no accessibility fault in any state, magnified
// four times, without a network, after a lost graphics context.
import { test, before, after } from 'node:test';
import assert from 'node:assert/strict';
import http from 'node:http';
import { once } from 'node:events';
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { launch, serve, open, state, message } from './browser.mjs';

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

let browser, server;
before(async () => { server = await serve(); browser = await launch(); });
after(async () => { await browser?.close(); server?.close(); });

// faults returns what the rules of axe-core find on the page as it stands.
async function faults(page) {
  await page.evaluate(axe);
  return page.evaluate(async () => (await axe.run(document)).violations
    .flatMap((v) => v.nodes.map((n) => `${v.id}: ${n.target.join(' ')}`)));
}

// A log with three days of practice.
const PRACTISED = 'agremens-diary 1\n' + [20400, 20401, 20405].map((day) => ['round', day, 960, '', 'turn', 'An Andante', '1-4',
  'tap', 'keys', 'right', 50, 54, 60, 24, 23, 1, 0, -12, 33, '62,-20,45', '0.1', 'ctu', 'late-start'].join('\t') + '\n').join('');

const looks = [
  { name: 'desktop', size: { width: 1440, height: 900 } },
  { name: 'desktop, dark', size: { width: 1440, height: 900 }, colorScheme: 'dark' },
  { name: 'desktop, more contrast', size: { width: 1440, height: 900 }, contrast: 'more' },
  { name: 'tablet', size: { width: 768, height: 1024 }, hasTouch: true, isMobile: true },
  { name: 'phone, dark', size: { width: 360, height: 640 }, hasTouch: true, isMobile: true, colorScheme: 'dark' },
];

for (const { name, ...look } of looks) {
  test(`no accessibility fault: ${name}`, async () => {
    // Only the test's own script needs the page's policy out of the way.
    const { page, close } = await open(browser, server.url, '?passage=mordent&bars=1-1&tempo=160&countin=0', { ...look, bypassCSP: true });
    const found = {};
    const audit = async (moment) => { found[moment] = await faults(page); };
    await state(page, 'ready');
    await audit('ready');
    await page.click('#tap');
    await state(page, 'tapping');
    await audit('tapping');
    await state(page, 'result');
    await audit('result');
    await page.click('#more > summary');
    await audit('more');
    await page.evaluate((text) => localStorage.setItem('agremens.diary', text), PRACTISED);
    await page.click('#open-log');
    await page.click('#log-table > summary');
    await audit('log');
    await page.click('#log-close');
    await page.click('#more > summary');
    await page.click('#open-rate');
    await audit('speed');
    await page.click('#speed-close');
    await page.click('#more > summary');
    await page.click('#start-day');
    await audit('day');
    await page.click('#day-stop');
    await audit('end of the day');
    await page.click('#day-close');
    await page.setInputFiles('#open', { name: 'broken.xml', mimeType: 'text/xml', buffer: Buffer.from('<score-partwise') });
    await page.waitForSelector('#message', { state: 'visible' });
    await audit('message');
    await page.click('#message-close');
    const bare = 'X:1\nM:4/4\nL:1/4\nK:C\nTd2 c2 |]\n';
    await page.setInputFiles('#open', { name: 'bare.abc', mimeType: 'text/plain', buffer: Buffer.from(bare) });
    await page.waitForSelector('#questions button');
    await page.click('#edit > summary');
    await page.waitForSelector('#edit-signs button');
    await audit('questions and changes');
    for (const [menu, button, sheet] of [['bring', 'bring-paper', 'paper-sheet'], ['bring', 'bring-typed', 'typed-sheet'], ['send', 'send-wav', 'sound-sheet']]) {
      await page.click(`#${menu} > summary`);
      await audit(menu);
      await page.click('#' + button);
      await page.waitForSelector('#' + sheet, { state: 'visible' });
      if (sheet === 'typed-sheet') {
        await page.fill('#typed-text', 'K:C\n[ce');
        await page.waitForSelector('#typed-line', { state: 'visible' });
      }
      await audit(sheet);
      await page.keyboard.press('Escape');
    }
    assert.deepEqual(Object.fromEntries(Object.entries(found).filter(([, list]) => list.length)), {});
    await close();
  });
}

// The sheets of a lesson, in the order in which one meets them.
const sheets = [
  { name: 'glossary', open: (page) => page.click('#elsewhere') },
  { name: 'change', open: (page) => page.click('#change-choice') },
  { name: 'task', open: async (page) => { await page.click('#send > summary'); await page.click('#set-task'); } },
  { name: 'reports', open: (page) => page.evaluate(() => document.getElementById('open-reports').click()) },
  { name: 'calibrate', open: (page) => page.evaluate(() => document.getElementById('measure').click()) },
  { name: 'last', open: async (page) => {
    await page.evaluate(() => document.getElementById('set-task').click());
    await page.click('#task-try');
    await page.waitForFunction(() => document.documentElement.dataset.page === 'student');
    await page.click('#done');
  } },
];

for (const { name, ...look } of looks) {
  test(`no accessibility fault in the sheets of a lesson, nothing wider than the screen: ${name}`, async () => {
    const { page, close } = await open(browser, server.url, '?passage=mordent', { ...look, bypassCSP: true });
    await state(page, 'ready');
    const found = {};
    for (const sheet of sheets) {
      await sheet.open(page);
      await page.waitForSelector(`#${sheet.name}[open]`);
      await page.evaluate(() => { for (const e of document.querySelectorAll('dialog[open] details')) e.open = true; });
      found[sheet.name] = await faults(page);
      if (await page.evaluate(() => { const d = document.querySelector('dialog[open]'); return d.scrollWidth > d.clientWidth; })) found[sheet.name].push('it scrolls sideways');
      await page.keyboard.press('Escape');
    }
    found.student = await faults(page);
    assert.deepEqual(Object.fromEntries(Object.entries(found).filter(([, list]) => list.length)), {});
    await close();
  });
}

test('on a screen 320 pixels wide nothing is lost, in any sheet', async () => {
  const { page, close } = await open(browser, server.url, '?passage=mordent', { size: { width: 320, height: 568 } });
  await state(page, 'ready');
  const wide = {};
  const look = async (name) => {
    const cut = await page.evaluate(() => {
      const root = document.querySelector('dialog[open]') ?? document.scrollingElement;
      const out = [...root.querySelectorAll('button, input, select, textarea, p, h2, h3, td, th')]
        .filter((e) => e.checkVisibility() && !e.closest('.unseen, .skip, .print, #scroll, .signs'))
        .filter((e) => { const b = e.getBoundingClientRect(); return b.right > innerWidth + 1 || b.left < -1; })
        .map((e) => e.id || e.textContent.slice(0, 30));
      if (root.scrollWidth > root.clientWidth) out.push('scrolls sideways');
      return out;
    });
    if (cut.length) wide[name] = cut;
  };
  await look('desk');
  for (const sheet of sheets) {
    await sheet.open(page);
    await page.waitForSelector(`#${sheet.name}[open]`);
    await page.evaluate(() => { for (const e of document.querySelectorAll('dialog[open] details')) e.open = true; });
    await look(sheet.name);
    await page.keyboard.press('Escape');
  }
  await look('student');
  assert.deepEqual(wide, {});
  await close();
});

// reach presses Tab until the element has the focus, and says when it never does.
async function reach(page, id) {
  for (let i = 0; i < 150; i++) {
    if (await page.evaluate((id) => document.activeElement.id === id, id)) {
      const seen = await page.evaluate(() => { const s = getComputedStyle(document.activeElement); return s.outlineStyle !== 'none' || s.boxShadow !== 'none'; });
      assert.ok(seen, `the focus on #${id} can be seen`);
      return;
    }
    await page.keyboard.press('Tab');
  }
  assert.fail(`Tab never reaches #${id}`);
}

test('the whole loop by keyboard alone', async () => {
  const { page, wrong, close } = await open(browser, server.url, '?passage=mordent&bars=1-1&tempo=160&countin=0', { permissions: ['clipboard-read', 'clipboard-write'] });
  await state(page, 'ready');
  const press = async (id, key = 'Enter') => { await reach(page, id); await page.keyboard.press(key); };
  // The teacher looks at a sign and sets a task.
  await press('elsewhere');
  await page.waitForSelector('#glossary[open]');
  await press('glossary-close');
  await page.waitForFunction(() => document.activeElement.id === 'elsewhere'); // the focus comes back
  await page.evaluate(() => { document.activeElement.blur(); });
  for (let i = 0; i < 150 && !await page.evaluate(() => document.activeElement.matches('#send > summary')); i++) await page.keyboard.press('Tab');
  await page.keyboard.press('Enter');
  await press('set-task');
  await page.waitForSelector('#task[open]');
  await reach(page, 'task-words');
  await page.keyboard.type('Slowly.');
  await press('task-try');
  await page.waitForFunction(() => document.documentElement.dataset.page === 'student');
  // The student listens, taps, and is done.
  await press('listen');
  await state(page, 'counting', 'listening');
  await press('stop');
  await state(page, 'ready', 'result');
  await press('slower');
  await press('faster');
  await press('tap');
  await state(page, 'counting', 'tapping', 'listening');
  await page.keyboard.press('j');
  await press('stop');
  await state(page, 'ready', 'result');
  await press('done');
  await page.waitForSelector('#last[open]');
  await reach(page, 'last-who');
  await page.keyboard.type('Ada');
  await press('last-copy');
  await page.waitForFunction(() => document.getElementById('last-said').textContent.startsWith('Copied'));
  const report = await page.evaluate(() => navigator.clipboard.readText());
  // The teacher reads the report.
  await page.goto(report);
  await page.waitForSelector('#reports[open] article');
  await press('report-close');
  assert.deepEqual(wrong, []);
  await close();
});

test('a screen reader hears every ornament and the result', async () => {
  const { page, close } = await open(browser, server.url, '?passage=mordent&bars=1-2&tempo=160&countin=0');
  await state(page, 'ready');
  const told = await page.textContent('#staff-text');
  assert.match(told, /^Bars 1-2, \d+\/\d+ time, .+ = \d+\./);
  const names = new Set();
  for (;;) {
    const name = await page.textContent('#sign-name');
    if (names.has(name)) break;
    names.add(name);
    const notes = (await page.textContent('#sign-notes')).split(',')[0];
    assert.ok(told.includes(notes), `the staff's words hold ${name}: ${notes}`);
    assert.notEqual(await page.textContent('#sign-why'), '');
    await page.click('#next-sign');
  }
  assert.ok(names.size >= 2);
  assert.equal(await page.getAttribute('#stage', 'aria-describedby'), 'staff-text');
  await page.click('#tap');
  await state(page, 'tapping');
  await page.keyboard.press('j');
  await state(page, 'result', { timeout: 60_000 });
  assert.notEqual(await page.innerText('#result-words'), '');
  assert.equal(await page.evaluate(() => document.getElementById('result').tagName), 'OUTPUT'); // read out when it changes
  await close();
});

test('magnified to 400 % nothing is cut off or covered', async () => {
  // A window of 1440 × 900 magnified four times.
  const { page, close } = await open(browser, server.url, '', { size: { width: 360, height: 225 }, deviceScaleFactor: 4 });
  await state(page, 'ready');
  assert.ok(await page.evaluate(() => document.scrollingElement.scrollWidth <= innerWidth), 'one scrolls one way only');
  assert.equal(await page.evaluate(() => getComputedStyle(document.getElementById('controls')).position), 'static', 'nothing sticks over the staff');
  for (const id of ['listen', 'tempo', 'next-sign', 'caution']) {
    await page.locator('#' + id).scrollIntoViewIfNeeded();
    assert.ok(await page.locator('#' + id).isVisible(), id);
  }
  await close();
});

test('the staff has the screen\'s own pixels, also when the page is magnified while open', async () => {
  const { page, close } = await open(browser, server.url, '', { size: { width: 1201, height: 803 } });
  await state(page, 'ready');
  const session = await page.context().newCDPSession(page);
  for (const zoom of [1, 1.5, 2]) {
    await session.send('Emulation.setDeviceMetricsOverride',
      { width: Math.round(1201 / zoom), height: Math.round(803 / zoom), deviceScaleFactor: zoom, mobile: false });
    await page.waitForFunction((zoom) => {
      const canvas = document.querySelector('#stage canvas'), box = canvas.getBoundingClientRect(), room = canvas.parentElement.getBoundingClientRect();
      const near = (a, b, by) => Math.abs(a - b) < by;
      return devicePixelRatio === zoom &&
        near(canvas.width, box.width * zoom, 0.02) && near(canvas.height, box.height * zoom, 0.02) && // no scaling
        near(box.top * zoom, Math.round(box.top * zoom), 0.02) && // no pixel between two
        near(box.width, room.width, 2.01) && near(box.height, room.height, 2.01);
    }, zoom, { timeout: 5000 });
  }
  await close();
});

test('a dropped file opens', async () => {
  const { page, close } = await open(browser, server.url);
  await state(page, 'ready');
  const before = await page.textContent('#title-text');
  await page.evaluate(() => {
    const files = new DataTransfer();
    files.items.add(new File(['not a score'], 'holiday.txt'));
    document.body.dispatchEvent(new DragEvent('drop', { bubbles: true, cancelable: true, dataTransfer: files }));
  });
  await page.waitForSelector('#message', { state: 'visible' });
  assert.notEqual(await message(page), '', 'what is no score is named');
  assert.equal(await page.textContent('#title-text'), before, 'the passage on screen stays');
  await close();
});

test('it opens without a network, and comes back after a lost graphics context', async () => {
  // A way to the server that can be cut.
  const way = http.createServer((request, response) => {
    const behind = http.request(new URL(request.url, server.url), { method: request.method, headers: request.headers }, (answer) => {
      response.writeHead(answer.statusCode, answer.headers);
      answer.pipe(response);
    });
    behind.on('error', () => response.destroy());
    request.pipe(behind);
  });
  way.listen(0, '127.0.0.1');
  await once(way, 'listening');
  const url = `http://127.0.0.1:${way.address().port}/`;
  const { page, wrong, close } = await open(browser, url, '?passage=turn');
  await state(page, 'ready');
  const kept = () => page.evaluate(async () => Boolean((await navigator.serviceWorker.getRegistration())?.active) && Boolean(await caches.match('./')));
  for (let i = 0; i < 120 && !await kept(); i++) await page.waitForTimeout(250);
  assert.ok(await kept(), 'the page is kept on the device');

  way.closeAllConnections();
  way.close();
  await page.goto(url + '?passage=turn&bars=2-3');
  await state(page, 'ready');
  assert.equal(await page.inputValue('#bars'), '2-3');
  await page.click('#listen');
  await state(page, 'listening');
  await page.click('#stop');

  await page.evaluate(() => {
    window.before = true;
    document.querySelector('#stage canvas').getContext('webgl2').getExtension('WEBGL_lose_context').loseContext();
  });
  await page.waitForFunction(() => !window.before);
  await state(page, 'ready');
  assert.equal(await page.inputValue('#bars'), '2-3');
  // The robot's ear is no part of the page and is not kept.
  assert.deepEqual(wrong.filter((w) => !w.includes('/__robot/')), []);
  await close();
});
