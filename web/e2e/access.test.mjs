// For everyone and everywhere: no accessibility fault in any state, magnified
// four times, without a network, after a lost graphics context.
import { before, after } from 'node:test';
import assert from 'node:assert/strict';
import http from 'node:http';
import { once } from 'node:events';
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { launch, serve, open, state, message } from './browser.mjs';
import * as moments from './moments.mjs';
import { test, later } from './tier.mjs';

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

let browser, server;
before(async () => { server = await serve(); browser = await launch(); });
after(async () => { await browser?.close(); server?.close(); });

// begin opens the page where the walks through its moments begin, with the
// rules of axe-core at hand. Colours change at once, not little by little.
async function begin(look = {}, query = moments.query) {
  const { page, close } = await open(browser, server.url, query, { ...look, bypassCSP: true, reducedMotion: 'reduce' });
  await page.addInitScript(axe);
  await page.evaluate(axe);
  await state(page, 'ready');
  return { page, close };
}

// faults returns what the rules of axe-core find on the page as it stands, or
// on the sheet over it, which is then all one can reach. With names of rules
// only these are asked.
function faults(page, rules = null, without = []) {
  return page.evaluate(async ({ rules, without }) => {
    const off = Object.fromEntries(without.map((rule) => [rule, { enabled: false }]));
    const options = { resultTypes: ['violations'], ...(rules ? { runOnly: rules } : { rules: { 'target-size': { enabled: true }, ...off } }) };
    return (await axe.run([...document.querySelectorAll('dialog[open]')].at(-1) ?? document, options)).violations
      .flatMap((v) => v.nodes.map((n) => `${v.id}: ${n.target.join(' ')}`));
  }, { rules, without });
}

const COLOURS = ['color-contrast'];
const PAGES = ['landmark-one-main', 'page-has-heading-one', 'heading-order']; // of a page, not of a sheet of paper
const dark = { colorScheme: 'dark' }, contrast = { contrast: 'more' };
const plain = { colorScheme: 'light', contrast: 'no-preference' };

// All rules on a phone for every change, where room is shortest; later the same
// on a desktop and a tablet. Where only the colours are others, only the rules
// for colours are asked once more, and only where something new is in view.
const desktop = { size: { width: 1440, height: 900 } };
const tablet = { size: { width: 768, height: 1024 }, hasTouch: true, isMobile: true };
const phone = { size: { width: 360, height: 640 }, hasTouch: true, isMobile: true, colorScheme: 'dark' };
const looks = [
  { name: 'phone, dark', when: test, ...phone, media: [], without: ['target-size'] }, // part of what scrolls lies beneath the buttons; the sizes are the tablet's
  { name: 'desktop', when: later, ...desktop, media: [] },
  { name: 'desktop, other colours', when: later, ...desktop, rules: COLOURS, media: [dark, contrast, { ...dark, ...contrast }] },
  { name: 'tablet', when: later, ...tablet, media: [], without: COLOURS }, // they are the desktop's
];

// What no walk shows, and where it is looked at instead. Anything else with an
// id must be seen at some moment, so that no new state is forgotten.
const ELSEWHERE = {
  'program': 'is a script',
  'loading loading-name load load-text': 'below, while the program loads',
  'warnings-title': 'a list like any other',
  'pitch-field pitch-number': 'a field like the others beside it',
  'forget-delay calibrate-keep': 'buttons like those beside them, when something was measured',
  'task-share last-share': 'only where the device can share',
  'to-task-again': 'a button like those beside it, after a task was left',
  'home-add': 'on the desktop, with the slow steps',
  'take-along paper-change name-it not-me kept-strip kept-text': 'buttons and a line like those beside them',
  'sound-road sound-repeats sound-progress log-note day-end-text last-cold last-left change-warnings round-said': 'a line or a box like those beside it',
  'passes pass pass-choice': 'fields like the others beside them, where a bar is repeated',
  'print-sides': 'on paper, where the passage is long: print.test.mjs',
  'tempo-unit': 'hidden on phones',
  'week week-picture week-words log-week log-week-picture log-week-words': 'the same picture as on the last page',
  'open-piece nearer narrower width wider': 'hidden on phones',
  'hark hark-start hark-beside hark-with hark-recording hark-file hark-why hark-sign': 'where the browser has a microphone: e2e piano',
  'play-it play-listen play-heard play-again play-words play-how play-pictures play-picture': 'where an instrument is heard: e2e takedown',
  'next-round next-step': 'buttons like those beside them, where a next round is offered',
  'about': 'a line like those beside it, where a score says something of itself',
  'files-said not-drawn not-drawn-list': 'a line or a list like those beside it',
  'task-for task-for-name task-students task-tempos task-week task-plan piece-found one-plan task-why piece-tasks piece-tasks-name class-pasting class-paste class-take class-said': 'what a class of students adds: e2e class',
  'one-also one-ask one-ask-text one-erase-yes one-erase-no lessons lessons-name lessons-list': 'what a class of students adds: e2e class',
  'count': 'a number, while a round is counted in',
  'caps cap-left cap-right': 'where keys tap, on the desktop',
  'go-beside mine': 'buttons like those beside them, after a round that counts',
};

const met = new Set();
let parts = []; // the ids of all that has one
for (const { name, when, media, rules = null, without, ...look } of looks) {
  for (const walk of ['desk', 'lesson']) {
    when(`no accessibility fault, ${name}: ${walk}`, async () => {
      const { page, close } = await begin(look);
      const found = {}, before = new Set();
      await moments[walk](page, async (moment) => {
        const beneath = moment === 'change' ? ['target-size'] : []; // part of what scrolls lies beneath the sheet's last line
        found[moment] = await faults(page, rules, [...without ?? [], ...beneath, ...moment.startsWith('printed') ? PAGES : []]);
        const seen = await moments.seen(page), fresh = seen.some((id) => !before.has(id));
        for (const id of seen) met.add(id) && before.add(id);
        if (look.size.width < 700 && !moment.startsWith('printed')) found[moment].push(...await page.evaluate(small));
        if (moment.startsWith('printed') || !fresh) return; // paper has one look
        for (const m of media) {
          await page.emulateMedia({ ...plain, ...m });
          found[`${moment}, ${Object.values(m)}`] = await faults(page, COLOURS);
        }
        if (media.length) await page.emulateMedia(plain);
      });
      parts = await page.evaluate(() => [...document.querySelectorAll('[id]')].filter((e) => !e.closest('svg')).map((e) => e.id));
      assert.deepEqual(Object.fromEntries(Object.entries(found).filter(([, list]) => list.length)), {});
      await close();
    });
  }
}

test('every part of the page was met on these walks', () => {
  const elsewhere = Object.keys(ELSEWHERE).flatMap((ids) => ids.split(' '));
  assert.deepEqual(elsewhere.filter((id) => !parts.includes(id)), [], 'named above, but no longer there');
  assert.deepEqual(parts.filter((id) => !met.has(id) && !elsewhere.includes(id)), [], 'never seen: give it a moment in moments.mjs');
});

test('while the program loads, and where it cannot run', async () => {
  const context = await browser.newContext({ bypassCSP: true });
  await context.addInitScript(axe);
  await context.addInitScript(() => { HTMLCanvasElement.prototype.getContext = () => null; });
  const page = await context.newPage();
  await page.goto(server.url);
  await state(page, 'error');
  assert.deepEqual(await faults(page), []);
  await page.route('**/*.wasm', () => {}); // never comes
  await page.addInitScript(() => { HTMLCanvasElement.prototype.getContext = () => ({}); });
  await page.reload();
  await page.waitForSelector('#load', { state: 'visible' });
  assert.deepEqual(await faults(page), []);
  await context.close();
});

// A window of 1280 × 1024 magnified four times, which is what WCAG asks for.
for (const walk of ['desk', 'lesson']) {
  later(`magnified to 400 %, one scrolls one way and sees what has the focus: ${walk}`, async () => {
    const { page, close } = await begin({ size: { width: 320, height: 256 } });
    const lost = {};
    await moments[walk](page, async (moment) => {
      if (moment.startsWith('printed')) return;
      const list = await page.evaluate(small);
      if (list.length) lost[moment] = list;
    });
    assert.deepEqual(lost, {});
    await close();
  });
}

// small runs in the page: what sticks out sideways, what is covered when it has
// the focus, and what is smaller than a fingertip where one touches.
function small() {
  const FINGERTIP = 24; // CSS pixels: WCAG 2.2, success criterion 2.5.8
  // A menu that is open lies over the page until Escape closes it.
  const root = [...document.querySelectorAll('dialog[open]')].at(-1) ?? document.querySelector('.menu[open]') ?? document.scrollingElement;
  const name = (e) => e.id || e.textContent.trim().slice(0, 30) || e.className;
  const out = [...root.querySelectorAll('button, input, select, textarea, p, h2, h3, td, th, legend, dt, dd')]
    .filter((e) => e.checkVisibility() && !e.closest('.unseen, .skip, #print, #scroll, .wide'))
    .filter((e) => { const b = e.getBoundingClientRect(); return b.width > 1 && (b.right > innerWidth + 1 || b.left < -1); })
    .map((e) => `${name(e)} sticks out`);
  if (root.scrollWidth > root.clientWidth) out.push('it scrolls sideways');
  if (matchMedia('(pointer: coarse)').matches) {
    for (const e of root.querySelectorAll('button, select, summary, input:not([type=hidden])')) {
      if (!e.checkVisibility() || e.closest('.unseen, .skip, #print')) continue;
      const box = (e.closest('label') ?? e).getBoundingClientRect();
      if (box.width > 0 && (box.width < FINGERTIP - 0.5 || box.height < FINGERTIP - 0.5)) out.push(`${name(e)} is too small for a finger`);
    }
  }
  const had = document.activeElement;
  for (const e of root.querySelectorAll('a[href], button, input, select, textarea, summary, [tabindex="0"]')) {
    if (!e.checkVisibility() || e.disabled || e.closest('[inert]')) continue;
    e.focus();
    if (document.activeElement !== e) continue;
    e.scrollIntoView({ block: 'nearest' }); // as far as Tab scrolls at least
    const box = (e.closest('label.button') ?? e).getBoundingClientRect();
    const seen = [[0.5, 0.5], [0.1, 0.15], [0.9, 0.15], [0.1, 0.85], [0.9, 0.85]].some(([x, y]) => {
      const top = document.elementFromPoint(box.x + box.width * x, box.y + box.height * y);
      return top && (e.contains(top) || top.contains(e) && top !== root && top !== document.body && top !== document.documentElement);
    });
    if (!seen) out.push(`${name(e)} has the focus and is covered`);
  }
  had?.focus?.();
  return out;
}

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
  const { page, wrong, close } = await open(browser, server.url, '?passage=mordent&bars=1-1&tempo=100&countin=0', { permissions: ['clipboard-read', 'clipboard-write'] });
  await state(page, 'ready');
  const press = async (id, key = 'Enter') => { await reach(page, id); await page.keyboard.press(key); };
  // The teacher looks at a sign and sets a task.
  await press('sign-more');
  await press('elsewhere');
  await page.waitForSelector('#glossary[open]');
  await press('glossary-close');
  await page.waitForFunction(() => document.activeElement.id === 'elsewhere'); // the focus comes back
  await page.evaluate(() => { document.activeElement.blur(); });
  await press('place-send');
  await reach(page, 'task-words');
  await page.keyboard.type('Slowly.');
  await press('task-more');
  await press('task-try');
  await page.waitForFunction(() => document.documentElement.dataset.page === 'student');
  // The student listens, taps, and is done.
  await press('go'); // which is Listen
  await state(page, 'counting', 'listening');
  await press('stop');
  await state(page, 'ready', 'result');
  await press('slower');
  await press('faster');
  await press('go'); // the next step of the path,
  await press('go'); // which begins
  await state(page, 'counting', 'tapping', 'listening');
  await page.keyboard.press('j');
  await press('stop');
  await state(page, 'ready', 'result');
  await reach(page, 'student-dots');
  await page.keyboard.press('Enter');
  await press('done');
  await page.waitForSelector('#last[open]');
  await reach(page, 'last-who');
  await page.keyboard.type('Ada');
  await press('last-copy');
  await page.waitForFunction(() => document.getElementById('last-said').textContent.startsWith('Copied'));
  const report = await page.evaluate(() => navigator.clipboard.readText());
  // The teacher reads the report.
  await page.goto(report);
  await page.waitForSelector('#class[open] tbody tr');
  await press('class-close');
  assert.deepEqual(wrong, []);
  await close();
});

later('a screen reader hears every ornament and the result', async () => {
  const { page, close } = await open(browser, server.url, '?passage=mordent&bars=1-2&tempo=100&countin=0');
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
  assert.equal(await page.getAttribute('#result', 'role'), 'status'); // read out when it changes
  await close();
});

later('the staff has the screen\'s own pixels, also when the page is magnified while open; a dropped file opens', async () => {
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

later('it opens without a network, and comes back after a lost graphics context', async () => {
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
