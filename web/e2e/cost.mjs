// What the page costs beside a program that only fills a frame and plays
// silence, both served in the same way and measured in the same run:
//
//   node cost.mjs start     each phase of a visit, from the first to the tenth, without a network and after an
//                           update, and from the first press to sound (AGREMENS_VISITS of them, 10;
//                           AGREMENS_THROTTLE names how many times the processor is slowed, "1 4";
//                           AGREMENS_ENGINES the other browsers, "firefox webkit", AGREMENS_OTHER_VISITS of theirs, 3)
//   node cost.mjs frames    time on the page's thread for a frame and for every entry, frames at rest
//                           (AGREMENS_SECONDS in all, 120; AGREMENS_ROUNDS in turn, 4)
//   node cost.mjs answers   the longest time without a turn while a sonata is opened and changed
//   node cost.mjs memory    heap, memory and nodes while rounds repeat, every five of AGREMENS_MINUTES (20)
//
// AGREMENS_SITE and AGREMENS_BARE are the folders of both, as they are built.
// It prints tables and judges nothing: times depend on the machine.
import { existsSync, readFileSync, readdirSync, statSync } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import { loadavg, tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { launch, state } from './browser.mjs';
import { host } from './host.mjs';
import { start as desktop } from './desktop.mjs';
import { guest, guests } from './others.mjs';
import { newer, profile, visit as visitor } from './visits.mjs';

const browser = await launch({ measured: true });
const [ours, bare] = await Promise.all([host(process.env.AGREMENS_SITE), host(process.env.AGREMENS_BARE)]);
const row = (name, ...cells) => console.log('  ' + name.padEnd(26) + cells.map((c) => String(c).padStart(11)).join(''));
const whole = (ms) => Math.round(ms);
const quantile = (list, q) => list.length ? [...list].sort((a, b) => a - b)[Math.min(list.length - 1, Math.floor(q * list.length))] : NaN;

async function visit(context, url) {
  const page = await context.newPage();
  await page.addInitScript({ path: new URL('cost-hook.js', import.meta.url).pathname });
  const cdp = await context.newCDPSession(page);
  await page.goto(url, { waitUntil: 'commit', timeout: 120_000 });
  return { page, cdp };
}

const drawn = (page) => page.waitForFunction(() => globalThis.__cost?.firstFrame > 0, null, { timeout: 120_000, polling: 20 });

// PHASES are what a visit waits for, in the order in which it ends.
const PHASES = { painted: 'readable', seen: 'as it was', got: 'bytes', instance: 'compiled', begun: 'begun', desk: 'desk read', canvas: 'drawing', firstFrame: 'first frame', ready: 'ready', sound: 'press→sound' };

// MORE are counted beside them: the processor that the page's thread had until
// it was ready, functions compiled by then because they were called, and the
// bytes that were read by the page and sent by the server.
const MORE = ['thread', 'functions', 'read MB', 'sent kB', 'kept code', 'memory MB'];

async function start() {
  const folder = await mkdtemp(join(tmpdir(), 'agremens-next-')), count = Number(process.env.AGREMENS_VISITS || 10);
  await newer(process.env.AGREMENS_SITE, folder);
  const shown = (t) => Object.keys(PHASES).map((phase) => (t[phase] > 0 ? whole(t[phase]) : '-'));
  for (const throttle of (process.env.AGREMENS_THROTTLE ?? '1 4').split(' ').filter(Boolean).map(Number)) {
    console.log(`milliseconds since the visit began, the processor slowed ${throttle} times, the first visit on a line of 5 Mbit/s and 40 ms; load ${loadavg().map((l) => l.toFixed(1)).join(' ')}`);
    row('', ...Object.values(PHASES), ...MORE);
    for (const [name, site] of [['bare', bare], ['ours', ours]]) {
      const home = await profile();
      const came = async (visited, more = {}) => {
        site.sent = 0;
        const t = await visitor(home, site.url, { throttle, ours: name === 'ours', stay: 3000, ...more });
        row(`${name}, ${visited}`, ...shown(t), whole(t.thread), t.compiled, (t.read / 1e6).toFixed(1), whole(site.sent / 1000), t.code, (t.memory / 1e6).toFixed(0));
      };
      try {
        await came('first', { line: 5e6, stay: 12_000 }); // until the copy on the device is whole
        for (let i = 2; i <= (name === 'ours' ? count : 3); i++) await came(`visit ${i}`);
        if (name === 'bare') continue;
        site.away = true;
        await came('no network');
        await came('no network, again');
        site.away = false;
        site.folder = folder;
        await came('an update comes', { stay: 15_000 });
        await came('first after it');
        await came('second after it');
        site.folder = process.env.AGREMENS_SITE;
      } finally {
        await home.erase();
      }
    }
  }
  await largest();
  await others(folder, shown);
  await rm(folder, { recursive: true });
}

// others prints the same of the browsers that have no driver, the processor as
// it is, and what their page holds with the largest score.
async function others(folder, shown) {
  const score = largestScore();
  console.log('other browsers, started as a visitor starts them, the processor and the line as they are; the page\'s process in MB: resident, its share of what is shared');
  row('', ...Object.values(PHASES), 'read MB', 'sent kB', 'resident', 'share');
  const screen = await desktop();
  try {
    for (const engine of (process.env.AGREMENS_ENGINES ?? 'firefox webkit').split(' ').filter(Boolean)) {
      const site = await guests(process.env.AGREMENS_SITE), visit = await guest(engine, screen);
      const came = async (name, more) => {
        site.sent = 0;
        const t = await visit(site, more);
        if (!t.came) row(`${engine}, ${name}`, 'not ready in 90 s');
        else row(`${engine}, ${name}`, ...shown(t), (t.read / 1e6).toFixed(1), whole(site.sent / 1000), whole(t.process.rss / 1000), whole(t.process.pss / 1000));
        return t;
      };
      await came('first', { stay: 14_000 });
      for (let i = 2; i <= Number(process.env.AGREMENS_OTHER_VISITS || 3); i++) await came(`visit ${i}`);
      site.away = true;
      await came('no network');
      site.away = false;
      site.folder = folder;
      await came('an update comes', { stay: 14_000 });
      await came('first after it');
      if (score) {
        site.score = score;
        const t = await came('the largest score', { tells: 2 });
        if (t.after[0]) console.log(`  its page is ${t.after[0].width} wide, and the program holds ${whole(t.after[0].memory / 1e6)} MB`);
      }
      site.close();
    }
  } finally {
    await screen.stop();
  }
}

// largest prints what an open page takes with the largest score on a phone, in
// Chromium as a visitor starts it: a driver has the page keep all that it
// received, and the program is thirty megabytes.
async function largest() {
  const score = largestScore();
  if (!score) return;
  console.log('megabytes in Chromium at 390 × 844: of the program, of the page\'s process all that is resident and its share of what is shared');
  row('', 'width', 'program', 'resident', 'share');
  const screen = await desktop();
  try {
    const site = await guests(process.env.AGREMENS_SITE), visit = await guest('chromium', screen, ['--window-size=390,844']);
    const came = async (name, more) => {
      const t = await visit(site, more), last = t.after?.at(-1) ?? t;
      if (!t.came) return row(name, 'not ready in 90 s');
      row(name, last.width, whole(last.memory / 1e6), whole(t.process.rss / 1000), whole(t.process.pss / 1000));
    };
    await came('as it opens, first', { stay: 14_000 });
    await came('as it opens, visit 2');
    site.score = score;
    await came(basename(score), { tells: 2 });
    site.close();
  } finally {
    await screen.stop();
  }
}

// largestScore names the largest of the reference scores, null where there are none.
function largestScore() {
  const folder = join(process.env.AGREMENS_REFERENCE ?? new URL('../../../shared/reference', import.meta.url).pathname, 'scores');
  if (!existsSync(folder)) return console.log(`skipped: ${folder} is not there`) ?? null;
  return readdirSync(folder).map((f) => join(folder, f)).sort((a, b) => statSync(b).size - statSync(a).size)[0];
}

// watch clears what was counted and returns what is counted in so many seconds.
async function watch(page, seconds) {
  await page.evaluate(() => { __cost.frames.length = 0; __cost.entries.length = 0; });
  await page.waitForTimeout(seconds * 1000);
  return page.evaluate(() => ({ frames: __cost.frames, entries: __cost.entries, memory: __cost.memory() }));
}

// frames alternates between the two, so that what else the machine does falls
// on both. The bare program fills a window as large as our stage.
async function frames() {
  const rounds = Number(process.env.AGREMENS_ROUNDS || 4), seconds = Number(process.env.AGREMENS_SECONDS || 120) / rounds;
  const context = await browser.newContext({ viewport: { width: 1024, height: 768 } });
  const all = { bare: { frames: [], entries: [], middles: [] }, ours: { frames: [], entries: [], middles: [] } };
  let size, rest;
  for (let round = 0; round < rounds; round++) {
    for (const name of ['ours', 'bare']) {
      const { page } = name === 'ours' ? await visit(context, ours.url + '?passage=trill&play=both&countin=0') : await visit(context, bare.url);
      if (name === 'ours') {
        await state(page, 'ready');
        size ??= await page.locator('#stage').boundingBox();
        await page.check('#repeat');
        await page.click('#listen');
        await state(page, 'listening');
      } else {
        await page.setViewportSize({ width: Math.round(size.width), height: Math.round(size.height) });
        await drawn(page);
        await page.mouse.click(200, 100);
      }
      await watch(page, 5);
      const m = await watch(page, seconds);
      all[name].frames.push(...m.frames);
      all[name].entries.push(...m.entries);
      all[name].middles.push(quantile(m.frames, 0.5));
      if (name === 'ours' && round === rounds - 1) {
        await page.click('#stop');
        await state(page, 'ready');
        await watch(page, 3);
        rest = await watch(page, 3);
      }
      await page.close();
    }
  }
  console.log(`milliseconds on the page's thread, ${rounds} times ${seconds} s each, in turn, on ${Math.round(size.width)} by ${Math.round(size.height)} pixels`);
  row('', 'frames', 'p50', 'p95', 'p99', 'p50 of each round');
  for (const [name, m] of Object.entries(all)) {
    row(name === 'ours' ? 'ours, a round that sounds' : name, m.frames.length, ...[0.5, 0.95, 0.99].map((q) => quantile(m.frames, q).toFixed(2)), '   ' + m.middles.map((v) => v.toFixed(2)).join(' '));
  }
  row('ours to bare', '', ...[0.5, 0.95, 0.99].map((q) => (quantile(all.ours.frames, q) / quantile(all.bare.frames, q)).toFixed(2)));
  console.log('every entry into the program: frames, ticks, sound, and the collector\'s share in them');
  row('', 'entries', 'p99', 'p99.9', 'longest', 'over 4 ms');
  for (const [name, m] of Object.entries(all)) {
    row(name, m.entries.length, ...[0.99, 0.999, 1].map((q) => quantile(m.entries, q).toFixed(1)), m.entries.filter((ms) => ms > 4).length);
  }
  row('ours, drawn in 3 s at rest', rest.frames.length);
  await context.close();
}

// answers opens the largest of the reference scores and does what a teacher
// does then; the page answers nothing else during an entry into the program.
async function answers() {
  const largest = largestScore();
  if (!largest) return;
  const context = await browser.newContext({ viewport: { width: 1024, height: 768 } });
  const { page } = await visit(context, ours.url);
  await state(page, 'ready');
  console.log(`${basename(largest)}, ${whole(statSync(largest).size / 1024)} kB, milliseconds`);
  row('', 'whole', 'longest entries');
  const act = async (name, f) => {
    await page.evaluate(() => { __cost.entries.length = 0; });
    const from = Date.now();
    await f();
    const ms = Date.now() - from;
    await page.waitForTimeout(1500);
    const entries = await page.evaluate(() => __cost.entries);
    row(name, ms, '   ' + entries.sort((a, b) => b - a).slice(0, 6).map(whole).join(' '));
  };
  const choose = (n) => page.evaluate((n) => document.querySelectorAll('#choices button')[n].click(), n);
  await act('open', async () => {
    await page.setInputFiles('#open', largest);
    await page.waitForFunction((name) => document.getElementById('status').innerText.includes(`${name} is open`), basename(largest), { timeout: 60_000, polling: 20 });
  });
  await act('the next sign', () => page.click('#next-sign'));
  await act('another choice', () => choose(1));
  await act('the first choice again', () => choose(0));
  await act('undo', () => page.click('#undo'));
  await act('all of it as a page', () => page.click('#page-view'));
  await act('the run again', () => page.click('#page-view'));
  await act('listen', () => page.click('#listen'));
  await context.close();
}

async function memory() {
  const minutes = Number(process.env.AGREMENS_MINUTES || 20);
  const context = await browser.newContext({ viewport: { width: 1024, height: 768 } });
  const { page, cdp } = await visit(context, ours.url + '?passage=mordent&bars=1-1&tempo=114&countin=0&instrument=click');
  await state(page, 'ready');
  await cdp.send('Performance.enable');
  console.log('rounds of one bar, tapped to their end one after another');
  row('', 'rounds', 'script kB', 'memory kB', 'nodes', 'listeners');
  let rounds = 0;
  const show = async (name) => {
    await page.evaluate(() => { __cost.frames.length = __cost.entries.length = 0; }); // ours, not the page's
    await cdp.send('HeapProfiler.collectGarbage');
    const metrics = Object.fromEntries((await cdp.send('Performance.getMetrics')).metrics.map((m) => [m.name, m.value]));
    row(name, rounds, whole(metrics.JSHeapUsedSize / 1024), whole(await page.evaluate(() => __cost.memory()) / 1024), metrics.Nodes, metrics.JSEventListeners);
  };
  await show('at the start');
  const from = Date.now(), every = 5 * 60_000;
  for (let part = 1; part <= minutes / 5; part++) {
    while (Date.now() - from < part * every) {
      await page.click('#tap');
      await state(page, 'tapping', { timeout: 20_000 });
      for (let i = 0; i < 12 && await page.evaluate(() => document.documentElement.dataset.state === 'tapping'); i++) {
        await page.keyboard.press(i % 2 ? 'KeyK' : 'KeyJ');
        await page.waitForTimeout(150);
      }
      await state(page, 'result', 'ready', { timeout: 20_000 });
      rounds++;
    }
    await show(`after ${5 * part} minutes`);
  }
  await context.close();
}

try {
  await { start, frames, answers, memory }[process.argv[2]]();
} finally {
  await browser.close();
  ours.close();
  bare.close();
}
