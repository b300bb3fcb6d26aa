// One visit after another with a real profile, the browser closed in between:
// cold, again and again, without a network, and after an update.
import { mkdtemp, rm, readFile, writeFile, readdir, mkdir, copyFile } from 'node:fs/promises';
import { createHash } from 'node:crypto';
import { brotliCompressSync, constants } from 'node:zlib';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium } from 'playwright-core';
import { options } from './browser.mjs';

// profile makes a folder for a browser, open() starts a browser on it with one
// page; each visit ends with the browser closed as one closes it.
export async function profile() {
  const folder = await mkdtemp(join(tmpdir(), 'agremens-profile-'));
  return {
    open: (device = {}) => chromium.launchPersistentContext(folder, { ...options(true), viewport: { width: 1024, height: 768 }, ...device }),
    erase: () => rm(folder, { recursive: true, force: true }),
  };
}

// trace collects what the browser says of compiled code while a page loads.
export async function trace(context, page) {
  const cdp = await context.newCDPSession(page);
  const events = [];
  cdp.on('Tracing.dataCollected', ({ value }) => events.push(...value));
  await cdp.send('Tracing.start', { transferMode: 'ReportEvents', traceConfig: { includedCategories: ['devtools.timeline', 'blink.user_timing', 'v8.wasm', 'disabled-by-default-v8.wasm.detailed'] } });
  return async () => {
    const complete = new Promise((done) => cdp.once('Tracing.tracingComplete', done));
    await cdp.send('Tracing.end');
    await complete;
    return events;
  };
}

// compiled counts the functions of the program that were compiled because they
// were called, until the page said that it is ready.
export function compiled(events) {
  const ready = events.find((e) => e.name === 'agremens-ready')?.ts ?? Infinity;
  return events.filter((e) => e.name === 'wasm.CompileLazy' && e.ts < ready).length;
}

// visit opens address in a browser of its own on the profile and returns when
// each phase was over, in ms since the navigation. slow gives the line and the
// processor of a tablet; stay is how long the visitor practises.
export async function visit(home, address, { throttle = 1, line = 0, ours = true, stay = 6000, device = {}, press = true } = {}) {
  const context = await home.open(device);
  try {
    const page = context.pages()[0] ?? await context.newPage();
    await page.addInitScript({ path: new URL('cost-hook.js', import.meta.url).pathname });
    const ended = await trace(context, page);
    const cdp = await context.newCDPSession(page);
    await cdp.send('Performance.enable');
    await cdp.send('Emulation.setCPUThrottlingRate', { rate: throttle });
    if (line) {
      await cdp.send('Network.enable');
      await cdp.send('Network.emulateNetworkConditions', { offline: false, latency: 40, downloadThroughput: line / 8, uploadThroughput: 1e6 / 8 });
    }
    await page.goto(address, { waitUntil: 'commit', timeout: 120_000 });
    const ready = (ours) => (ours ? !['loading', 'error'].includes(document.documentElement.dataset.state) && __cost.ready > 0 : __cost.firstFrame > 0);
    await page.waitForFunction(ready, ours, { timeout: 120_000, polling: 50 });
    const { metrics } = await cdp.send('Performance.getMetrics');
    const t = await page.evaluate(() => ({
      read: performance.getEntriesByType('resource').reduce((sum, r) => sum + r.decodedBodySize, 0),
      got: Math.max(...performance.getEntriesByType('resource').filter((r) => /agremens-(?!rest)[^/]*wasm|bare.*wasm/.test(r.name)).map((r) => r.responseEnd)),
      seen: performance.getEntriesByName('agremens-seen')[0]?.startTime ?? NaN,
      painted: performance.getEntriesByName('first-contentful-paint')[0]?.startTime ?? NaN,
      ...Object.fromEntries(['instance', 'begun', 'desk', 'canvas', 'firstFrame', 'ready'].map((k) => [k, __cost[k] || NaN])),
    }));
    // What the page's own thread had of the processor, whatever else the
    // machine did: slowed four times, it is slowed by being kept busy.
    t.thread = 1000 * (metrics.find((m) => m.name === 'ThreadTime')?.value ?? NaN);
    if (press) {
      if (ours) await page.click('#listen');
      else await page.mouse.click(300, 300);
      await page.waitForFunction(() => __cost.sounding > 0, null, { timeout: 60_000, polling: 20 });
      t.sound = await page.evaluate(() => __cost.sounding);
    }
    await page.waitForTimeout(stay);
    if (press && ours) { // and looks at the staff for a while
      if (await page.isVisible('#stop')) await page.click('#stop'); // a long stay hears the passage to its end
      await page.waitForTimeout(3000);
    }
    t.memory = await page.evaluate(() => __cost.memory());
    const events = await ended();
    t.compiled = compiled(events);
    t.code = events.some((e) => e.name === 'wasm.Deserialize') ? 'yes' : 'no'; // what was compiled on an earlier visit was taken
    return t;
  } finally {
    await context.close();
  }
}

// newer writes a copy of a built site whose program is another one: each part
// has a section more, and so another name; what names them follows.
export async function newer(site, folder) {
  await mkdir(folder, { recursive: true });
  const names = (await readdir(site)).filter((name) => !/\.(br|gz)$/.test(name));
  const renamed = new Map();
  for (const name of names.filter((name) => name.endsWith('.wasm'))) {
    const body = Buffer.concat([await readFile(join(site, name)), Buffer.from([0, 5, 4, ...Buffer.from('next')])]);
    const hash = createHash('sha256').update(body).digest('hex').slice(0, 16);
    const to = name.replace(/[0-9a-f]{16}\.wasm$/, hash + '.wasm');
    renamed.set(name, to);
    await writeFile(join(folder, to), body);
    await writeFile(join(folder, to + '.br'), brotliCompressSync(body, { params: { [constants.BROTLI_PARAM_QUALITY]: 9, [constants.BROTLI_PARAM_LGWIN]: 24 } }));
  }
  for (const name of names.filter((name) => !name.endsWith('.wasm'))) {
    if (name !== 'index.html' && name !== 'sw.js') {
      await copyFile(join(site, name), join(folder, name));
      await copyFile(join(site, name + '.br'), join(folder, name + '.br')).catch(() => {});
      continue;
    }
    let text = await readFile(join(site, name), 'utf8');
    for (const [from, to] of renamed) text = text.replaceAll(from, to);
    await writeFile(join(folder, name), text.replace("VERSION = '", "VERSION = 'next"));
  }
}
