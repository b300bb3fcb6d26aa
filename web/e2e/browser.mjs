// A page of the program in headless Chromium, with the robot's ear in it.
import http from 'node:http';
import { beforeEach, afterEach } from 'node:test';
import { readFile, rm, mkdtemp } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { chromium } from 'playwright-core';

const here = new URL('.', import.meta.url);
const CHROMIUM = process.env.AGREMENS_CHROMIUM || '/usr/bin/chromium';

// serve returns the address of a running program with the robot's ear added
// to its files. The program is the one at AGREMENS_URL, else it is started
// from source. With a tag it is the one built with that tag, at
// AGREMENS_URL_TAG. close() stops what was started. scripts are put first into the
// page, by address; handle answers all else below /__robot/. cut(true) takes
// the network away from all but the robot.
export async function serve({ scripts = {}, handle = null, tag = '' } = {}) {
  const running = process.env[tag ? `AGREMENS_URL_${tag.toUpperCase()}` : 'AGREMENS_URL'];
  const program = running ? { url: running, close() {} } : await startProgram(tag);
  const ear = await readFile(new URL('ear.js', here));
  // A worklet's module cannot be put in by the browser's own interception,
  // and the page's policy allows none but the page's own host.
  let away = false;
  const front = http.createServer((request, response) => {
    if (away && !request.url.startsWith('/__robot/')) return response.destroy();
    if (request.url === '/__robot/ear.js') {
      response.writeHead(200, { 'Content-Type': 'text/javascript', 'Cross-Origin-Resource-Policy': 'same-origin' });
      return response.end(ear);
    }
    if (scripts[request.url]) {
      response.writeHead(200, { 'Content-Type': 'text/javascript', 'Cross-Origin-Resource-Policy': 'same-origin' });
      return response.end(scripts[request.url]);
    }
    if (handle && request.url.startsWith('/__robot/')) return handle(request, response);
    const { method, url } = request;
    const headers = { ...request.headers, host: new URL(program.url).host }; // it answers for no other
    const first = Object.keys(scripts);
    const page = first.length > 0 && new URL(url, program.url).pathname === '/';
    if (page) headers['accept-encoding'] = 'identity';
    const behind = http.request(new URL(url, program.url), { method, headers }, async (answer) => {
      if (page && answer.statusCode === 200) {
        let text = '';
        for await (const chunk of answer.setEncoding('utf8')) text += chunk;
        text = text.replace('<head>', '<head>' + first.map((src) => `<script src="${src}"></script>`).join(''));
        const { 'content-length': _, etag: __, ...rest } = answer.headers;
        response.writeHead(200, { ...rest, 'cache-control': 'no-store' });
        return response.end(text);
      }
      response.writeHead(answer.statusCode, answer.headers);
      answer.pipe(response);
    });
    behind.on('error', () => response.destroy());
    request.pipe(behind);
  });
  front.listen(0, '127.0.0.1');
  await once(front, 'listening');
  return {
    url: `http://127.0.0.1:${front.address().port}/`,
    cut(off) { away = off; },
    close() {
      front.closeAllConnections();
      front.close();
      program.close();
    },
  };
}

async function startProgram(tag) {
  const server = spawn('go', ['run', './cmd/agremens', 'serve', '-addr', '127.0.0.1:0'],
    { cwd: new URL('../..', here), stdio: ['ignore', 'pipe', 'inherit'], detached: true, env: { ...process.env, GOFLAGS: tag && `-tags=${tag}` } });
  const [line] = await once(server.stdout, 'data');
  return { url: String(line).trim(), close: () => process.kill(-server.pid) };
}

// options are how the browser is started. A test opens the page anew again and
// again and stays a moment: so the program is compiled quickly and runs slowly,
// but for what is measured, which runs as everybody's does.
export const options = (measured) => ({
  executablePath: CHROMIUM,
  args: [...(measured ? [] : ['--js-flags=--liftoff-only --wasm-num-compilation-tasks=1']),
    '--no-sandbox', '--disable-quic', '--no-first-run', '--disable-background-networking',
    '--disable-component-update', '--disable-sync', '--autoplay-policy=user-gesture-required',
    '--use-gl=angle', '--use-angle=swiftshader', '--enable-unsafe-swiftshader', '--disable-gpu-watchdog', // a busy machine draws slowly
    '--host-resolver-rules=MAP plain.test 127.0.0.1'], // a host that is not the computer's own, for plain http
});

// start starts a browser that several tests may share, each by its address.
export const start = ({ measured = false } = {}) => chromium.launchServer(options(measured));

// launch returns a browser: the one that the tests of a run share, or, where a
// file is run by itself, one of its own. Its close() ends no more than what the
// file itself has opened in it.
export async function launch({ measured = false } = {}) {
  const shared = measured ? process.env.AGREMENS_MEASURED_BROWSER : process.env.AGREMENS_BROWSER;
  const browser = await (shared ? chromium.connect(shared) : chromium.launch(options(measured)));
  calm.set(browser, !measured);
  return browser;
}

const calm = new WeakMap(); // browser → whether its pages may draw less often

// contents returns the bytes of a download, wherever the browser put them.
export async function contents(download) {
  const folder = await mkdtemp(join(tmpdir(), 'agremens-'));
  try {
    const name = join(folder, 'download');
    await download.saveAs(name);
    return await readFile(name);
  } finally {
    await rm(folder, { recursive: true });
  }
}

// Console lines that say nothing about the program: software drawing is slow
// at reading pixels back, and sound asked for before the first gesture waits.
const HARMLESS = [/GPU stall due to ReadPixels/, /AudioContext was not allowed to start/, /call to released function/];

// A test that fails leaves its pages open, and a page that sounds keeps a core
// busy: what a test has opened is closed after it. What is opened before the
// first test is shared by all of them and stays.
let opened = null;
if (process.env.NODE_TEST_CONTEXT) {
  const whole = (t) => t.fullName === t.name; // not a part of a test
  beforeEach((t) => { if (whole(t)) opened = new Set(); });
  afterEach(async (t) => {
    if (!whole(t)) return;
    await Promise.all([...opened].map((context) => context.close().catch(() => {}))); // closed already, or gone
    opened = null;
  });
}

// open opens the program with the robot's ear in place and collects what goes
// wrong on the page. prepare(page) is called before anything is loaded.
export async function open(browser, url, query = '', { size = { width: 1024, height: 768 }, prepare = null, ...more } = {}) {
  const context = await browser.newContext({ viewport: size, ...more });
  opened?.add(context);
  context.setDefaultTimeout(PATIENCE);
  const page = await context.newPage();
  const wrong = [];
  page.on('pageerror', (e) => wrong.push(`error: ${e.message}`));
  page.on('console', (m) => {
    if (m.type() === 'error' && !HARMLESS.some((h) => h.test(m.text()))) wrong.push(`console: ${m.text()}`);
  });
  await context.addInitScript({ path: new URL('hook.js', here).pathname });
  if (calm.get(browser)) await context.addInitScript({ path: new URL('calm.js', here).pathname });
  await prepare?.(page);
  reaching(page);
  await page.goto(new URL('/' + query, url).href);
  page.wrong = wrong; // what a failure says besides
  return { page, wrong, close: () => context.close() };
}

// Sheets that are opened by a button of the desk.
const DOORS = { bring: ['#open-piece', '#open-other'], files: ['#open-files'], 'task-code': ['#task-show'], edit: ['#change-passage'] };

// reach makes a control of the desk visible as a person does: it goes to the
// place where the control is, opens the menu, the fold or the sheet it stands
// in, and puts away a menu that lies over it.
export async function reach(page, selector) {
  for (let steps = 0; steps < 6; steps++) {
    const press = await page.evaluate(([selector, doors]) => {
      let e;
      try { e = document.querySelector(selector); } catch { return null; } // no selector of the page's own
      if (!e || document.documentElement.dataset.state === 'loading') return null;
      const sheet = document.querySelector('dialog[open]');
      if (sheet && !sheet.contains(e)) return null;
      const seen = (x) => x.checkVisibility({ visibilityProperty: true });
      for (const menu of document.querySelectorAll('details.menu[open]')) if (!menu.contains(e)) menu.open = false;
      if (seen(e)) return null;
      const place = document.documentElement.dataset.place;
      for (let p = e; p; p = p.parentElement) {
        if (p.dataset.at && document.documentElement.dataset.page !== 'student' && !p.dataset.at.split(' ').includes(place)) return `#place-${p.dataset.at.split(' ')[0]}`;
      }
      for (let p = e; p; p = p.parentElement) { // from within
        const door = (p.matches('dialog, #edit') && !p.open && doors[p.id] || []).map((d) => document.querySelector(d));
        if (door.length > 0) return '#' + (door.find(seen) ?? door.at(-1)).id;
        if (p.matches('details:not([open])') && e.closest('summary') !== p.firstElementChild) return `#${p.id || p.parentElement.id + ' details'} > summary`;
        for (const fold of p.querySelectorAll(':scope button.fold[aria-expanded=false]')) if (seen(fold) && (p.id === 'sign' || p.id === 'task')) return '#' + fold.id;
      }
      return null;
    }, [selector, DOORS]);
    if (!press) return;
    await reach(page, press); // a door may itself stand behind another
    await page.raw.click(press);
  }
}

const DEEDS = ['click', 'tap', 'fill', 'check', 'uncheck', 'selectOption', 'type', 'press'];

// reaching lets the deeds of a page, and of what is located on it, reach what
// they are done to.
export function reaching(page) {
  page.raw = {};
  for (const deed of DEEDS) {
    page.raw[deed] = page[deed].bind(page);
    page[deed] = async (selector, ...more) => {
      await reach(page, selector);
      return page.raw[deed](selector, ...more);
    };
  }
  const locator = page.locator.bind(page);
  page.locator = (...what) => located(page, locator(...what));
}

function located(page, locator) {
  for (const step of ['first', 'last', 'nth', 'filter', 'locator']) {
    const raw = locator[step].bind(locator);
    locator[step] = (...what) => located(page, raw(...what));
  }
  for (const deed of DEEDS) {
    const raw = locator[deed].bind(locator);
    locator[deed] = async (...more) => {
      const is = await locator.evaluateAll(([e]) => { e?.setAttribute('data-wanted', ''); return Boolean(e); });
      if (is) {
        await reach(page, '[data-wanted]');
        await page.evaluate(() => { for (const e of document.querySelectorAll('[data-wanted]')) e.removeAttribute('data-wanted'); });
      }
      return raw(...more);
    };
  }
  return locator;
}

// PATIENCE is how long, in ms, a busy machine may take for anything; one that
// is shared with others may be given more.
export const PATIENCE = Number(process.env.AGREMENS_PATIENCE ?? 60_000);

// state waits until the page is in one of the given states and returns it.
// It fails at once when the page reports an error instead.
export async function state(page, ...wanted) {
  let { timeout = PATIENCE } = typeof wanted.at(-1) === 'object' ? wanted.pop() : {};
  const all = wanted.includes('error') ? wanted : [...wanted, 'error'];
  try {
    await page.waitForFunction((all) => all.includes(document.documentElement.dataset.state), all, { timeout, polling: 50 });
  } catch (e) {
    const at = await page.evaluate(() => document.documentElement.dataset.state);
    throw new Error(`the page is ${at}, not ${wanted.join(' or ')}, after ${timeout / 1000} s`);
  }
  const now = await page.evaluate(() => document.documentElement.dataset.state);
  if (!wanted.includes(now)) throw new Error(`the page reports an error: ${await message(page)} ${(page.wrong ?? []).join('; ')}`);
  return now;
}

// tapThrough begins a round with button and taps to its end. The page itself
// taps, every 90 ms, which is near every note of these passages: a busy
// machine that taps from outside may miss more than half, and such a round
// does not count.
export async function tapThrough(page, button = '#tap') {
  await page.click(button);
  await state(page, 'tapping');
  await page.evaluate(() => {
    const key = { code: 'KeyJ', key: 'j', bubbles: true };
    const tapping = setInterval(() => {
      if (document.documentElement.dataset.state !== 'tapping') return clearInterval(tapping);
      document.body.dispatchEvent(new KeyboardEvent('keydown', key));
      setTimeout(() => document.body.dispatchEvent(new KeyboardEvent('keyup', key)), 30);
    }, 90);
  });
  await state(page, 'result');
}

// tapUntilShown taps rounds until one is drawn large: sound that breaks off on
// a busy machine spoils a round, as it should.
export async function tapUntilShown(page, tries = 4) {
  for (; tries > 0; tries--) {
    await tapThrough(page);
    if (await page.locator('#close-up svg').count()) return;
  }
  throw new Error(`no round counted: ${await page.innerText('#result-words')}`);
}

// message returns the text of the page's alert, "" when none is shown.
export function message(page) {
  return page.evaluate(() => {
    const m = document.getElementById('message');
    return m && !m.hidden && m.getClientRects().length ? m.innerText.trim() : '';
  });
}

// atRest returns a picture of the staff once it has stopped changing: on a
// busy machine it is drawn a while after the page says it is ready. With
// wanted it waits for that picture, ten seconds at most, and returns the last
// one seen.
export async function atRest(page, wanted = null) {
  const stage = page.locator('#stage');
  let last = await stage.screenshot();
  for (const end = Date.now() + 10_000; Date.now() < end;) {
    await page.waitForTimeout(250);
    const now = await stage.screenshot();
    if (now.equals(wanted ?? last)) return now;
    last = now;
  }
  return last;
}

// until reads again and again until what is read holds, half of PATIENCE at most,
// and returns what was read last: a busy page does what it is told in its own
// time.
export async function until(read, holds) {
  for (const end = Date.now() + PATIENCE / 2; ;) {
    const now = await read();
    if (holds(now) || Date.now() > end) return now;
    await new Promise((done) => setTimeout(done, 50));
  }
}

// settled reads until the same is read three times in a row, 150 ms apart, and
// returns it: what a deed sets going may reach the page some pictures later.
export async function settled(read) {
  let last, same = 0;
  for (const end = Date.now() + PATIENCE / 2; same < 2 && Date.now() < end;) {
    const now = JSON.stringify(await read());
    same = now === last ? same + 1 : 0;
    last = now;
    await new Promise((done) => setTimeout(done, 150));
  }
  return JSON.parse(last);
}
