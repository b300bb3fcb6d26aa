// "Play it to me": a teacher plays her version on MIDI keys, taps it, or plays
// it to a microphone, and it is written down as hers.
import { test, before, after } from 'node:test';
import assert from 'node:assert/strict';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { execFileSync } from 'node:child_process';
import { chromium } from 'playwright-core';
import { launch, open, options, serve, state } from './browser.mjs';

let server, browser, takes;
before(async () => {
  takes = await mkdtemp(join(tmpdir(), 'agremens-versions-'));
  execFileSync('go', ['test', '-count=1', '-run', 'TestVersionTake', './game/version'],
    { cwd: new URL('../..', import.meta.url), env: { ...process.env, AGREMENS_TAKES: takes }, stdio: ['ignore', 'ignore', 'inherit'] });
  server = await serve();
  browser = await launch();
});
after(async () => {
  await browser?.close();
  server?.close();
  if (takes) await rm(takes, { recursive: true });
});

const text = (page, selector) => page.locator(selector).innerText();
const now = (page, begins) => page.waitForFunction((begins) => document.getElementById('change-now').textContent.startsWith(begins), begins, { timeout: 60_000 });

// A keyboard that was connected on an earlier visit.
function keyboard() {
  const input = { id: 'p1', name: 'Keys', state: 'connected', onmidimessage: null };
  const access = { inputs: new Map([['p1', input]]), outputs: new Map(), onstatechange: null };
  Object.defineProperty(navigator, 'requestMIDIAccess', { configurable: true, value: async () => access });
  window.strike = (key, at) => input.onmidimessage?.({ data: new Uint8Array([0x90, key, 80]), timeStamp: at, target: input });
}

async function sheet(page) {
  await state(page, 'ready');
  await page.click('#change-choice');
  await page.waitForSelector('#change[open]');
}

const picture = async (page, name) => {
  if (process.env.AGREMENS_OUT) await page.screenshot({ path: `${process.env.AGREMENS_OUT}/${name}.png` });
};

// A turned mordent on A at 150 quarters a minute, as [key, quarters]: the right
// hand with what follows, and the left hand's notes there (the passage's own).
const VERSION = [[69, 0], [71, 0.25], [69, 0.5], [68, 0.75], [69, 1], [73, 2], [76, 3]];
const LEFT = [[57, 0], [52, 1], [45, 2], [49, 3]];

test('a version played on MIDI keys is written, heard, kept and taken back', { timeout: 120_000 }, async () => {
  const { page, wrong, close } = await open(browser, server.url);
  await page.addInitScript(keyboard);
  await page.goto(new URL('/?passage=mordent', server.url).href);
  await state(page, 'ready');
  await page.click('#more > summary');
  await page.click('#midi');
  await page.waitForFunction(() => /Keys/.test(document.getElementById('midi-text').textContent));
  await page.click('#more > summary');
  await sheet(page);
  const before = await text(page, '#change-now');
  await page.click('#play-it > summary');
  await page.evaluate((notes) => {
    const from = performance.now() - 2000;
    for (const [key, q] of notes) window.strike(key, from + 400 * q + (key % 7) * 2);
  }, [...VERSION, ...LEFT].sort((a, b) => a[1] - b[1]));
  assert.match(await text(page, '#play-words'), /written down when you pause/);
  await now(page, 'A–B–A–G♯–A');
  assert.match(await text(page, '#play-words'), /5 notes were heard/);
  assert.equal(await page.locator('#play-picture svg').count(), 1);
  assert.match(await text(page, '#change-name'), /your own/);
  for (const [width, height] of [[1024, 768], [768, 1024], [390, 844], [1440, 900]]) {
    if (!process.env.AGREMENS_OUT) break;
    await page.setViewportSize({ width, height });
    await page.waitForTimeout(400);
    await picture(page, `takedown-midi-${width}`);
  }
  for (const id of ['#change-hear', '#play-heard']) {
    await page.click(id);
    await state(page, 'listening');
    await state(page, 'ready');
  }
  // Two more times, otherwise both times: that is what is meant.
  for (let i = 0; i < 2; i++) {
    await page.evaluate((notes) => {
      const from = performance.now() - 2000;
      for (const [key, q] of notes) window.strike(key, from + 450 * q);
    }, VERSION.filter(([key, q]) => q !== 0.25 && q !== 0.5));
    await page.waitForFunction((n) => document.getElementById('play-words').textContent.includes(n), i ? '2 out of 3' : '1 out of 2', { timeout: 30_000 });
  }
  await now(page, 'A–G♯–A');
  await page.click('#play-again');
  assert.equal(await page.isVisible('#play-heard'), false);
  // The third time changed nothing, so one step goes back to the first.
  await page.click('#change-undo');
  await now(page, 'A–B–A–G♯–A');
  await page.click('#change-close');
  await page.reload();
  await state(page, 'ready');
  assert.match(await page.textContent('#sign-notes'), /^A–B–A–G♯–A/);
  assert.notEqual(before, await page.textContent('#sign-notes'));
  assert.deepEqual(wrong, []);
  await close();
});

test('the rhythm of letters is tapped', { timeout: 60_000 }, async () => {
  const { page, wrong, close } = await open(browser, server.url, '?passage=mordent');
  await sheet(page);
  await page.click('#change details:nth-of-type(2) > summary');
  assert.match(await text(page, '#change-now'), /^A–G♯–A/);
  await page.fill('#own-notes', 'A B A');
  // A short, a short, a long note, and the one that follows.
  for (const wait of [0, 220, 220, 1320]) {
    await page.waitForTimeout(wait);
    await page.dispatchEvent('#own-tap', 'pointerdown');
  }
  await now(page, 'A–B–A');
  assert.equal(await page.isEnabled('#change-undo'), true);
  await picture(page, 'takedown-tapped');
  assert.deepEqual(wrong, []);
  await close();
});

test('a version played to the microphone is written, and the microphone is off again', { timeout: 180_000 }, async () => {
  const usual = options(true);
  const own = await chromium.launch({ ...usual, args: [...usual.args, '--use-fake-device-for-media-stream', '--use-fake-ui-for-media-stream',
    `--use-file-for-fake-audio-capture=${join(takes, 'version.wav')}`] });
  const { page, wrong } = await open(own, server.url, '?passage=mordent');
  await sheet(page);
  await page.evaluate(() => {
    window.streams = [];
    const get = navigator.mediaDevices.getUserMedia.bind(navigator.mediaDevices);
    navigator.mediaDevices.getUserMedia = async (wanted) => {
      const stream = await get(wanted);
      window.streams.push(stream);
      return stream;
    };
  });
  await page.click('#play-it > summary');
  await page.click('#play-listen');
  await page.waitForFunction(() => /microphone is on/.test(document.getElementById('play-words').textContent), null, { timeout: 60_000 });
  await now(page, 'A–B–A–G♯–A');
  assert.equal(await page.evaluate(() => window.streams.flatMap((s) => s.getTracks()).filter((t) => t.readyState === 'live').length), 0);
  await picture(page, 'takedown-heard');
  assert.deepEqual(wrong, []);
  await own.close();
});
