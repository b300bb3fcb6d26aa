// A round at the piano that the page listens to: Chromium with a recording for
// its microphone, made by our own synthesis (game/listening).
import { test, before, after } from 'node:test';
import assert from 'node:assert/strict';
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { execFileSync } from 'node:child_process';
import { chromium } from 'playwright-core';
import { open, options, serve, state } from './browser.mjs';

let server, takes;
const browsers = []; // one a test: closed also where the test failed
before(async () => {
  takes = await mkdtemp(join(tmpdir(), 'agremens-takes-'));
  execFileSync('go', ['test', '-count=1', '-run', 'TestTakes', './game/listening'],
    { cwd: new URL('../..', import.meta.url), env: { ...process.env, AGREMENS_TAKES: takes }, stdio: ['ignore', 'ignore', 'inherit'] });
  server = await serve();
});
after(async () => {
  await Promise.all(browsers.map((browser) => browser.close()));
  server?.close();
  if (takes) await rm(takes, { recursive: true });
});

// piano opens the round at the piano in a browser whose microphone gives a
// take, or, with none, one that refuses the microphone.
async function piano(take, query = '') {
  const usual = options(true);
  const browser = await chromium.launch({ ...usual, args: [...usual.args, '--use-fake-device-for-media-stream',
    take ? '--use-fake-ui-for-media-stream' : '--deny-permission-prompts',
    ...(take ? [`--use-file-for-fake-audio-capture=${join(takes, take + '.wav')}`] : [])] });
  browsers.push(browser);
  const asked = [];
  const { page, wrong } = await open(browser, server.url, '?passage=mordent&bars=1-4&kind=piano' + query);
  page.on('request', (request) => asked.push(new URL(request.url()).pathname));
  await state(page, 'ready');
  return { page, wrong, asked, close: () => browser.close() };
}

const text = (page, selector) => page.locator(selector).innerText();
const tracks = (page) => page.evaluate(() => window.streams.flatMap((s) => s.getTracks()).filter((t) => t.readyState === 'live').length);

// watch keeps the streams that the page opens.
const watch = (page) => page.evaluate(() => {
  window.streams = [];
  const get = navigator.mediaDevices.getUserMedia.bind(navigator.mediaDevices);
  navigator.mediaDevices.getUserMedia = async (wanted) => {
    window.wanted = wanted;
    const stream = await get(wanted);
    window.streams.push(stream);
    return stream;
  };
});

async function listened(page) {
  await watch(page);
  await page.click('#hark-start');
  await page.waitForSelector('#hark-sign:not([hidden])', { timeout: 60_000 });
  assert.equal(await tracks(page), 1);
  // The fake microphone is silent at first, which is said, and no more once
  // something is heard.
  await page.waitForFunction(() => /Next to nothing/.test(document.querySelector('#hark-sign').textContent), null, { timeout: 30_000 });
  await page.waitForFunction(() => document.querySelector('#hark-sign').textContent === 'The microphone is on.', null, { timeout: 30_000 });
  await state(page, 'result', { timeout: 90_000 });
}

test('who plays as written is told so, by itself, and the microphone is off again', { timeout: 180_000 }, async () => {
  const { page, wrong, asked, close } = await piano('clean');
  assert.equal(await page.evaluate(() => agremens.listen), undefined, 'nothing of it is loaded before it is asked for');
  assert.deepEqual(asked.filter((path) => path.includes('listen')), []);
  await listened(page);
  assert.match(await text(page, '#result-words'), /in time/);
  assert.match(await text(page, '#result'), /40 of 40 notes played/);
  assert.deepEqual(await page.evaluate(() => window.wanted), { audio: { echoCancellation: false, noiseSuppression: false, autoGainControl: false, channelCount: 1 } });
  assert.equal(await tracks(page), 0);
  assert.equal(await page.isVisible('#hark-sign'), false);
  assert.equal(await page.isVisible('#hark-start'), true);
  assert.ok(asked.length > 0 && asked.every((path) => /listen|wasm_exec|icon|agremens-rest/.test(path)), `nothing else is asked for: ${asked}`);
  if (process.env.AGREMENS_OUT) await page.screenshot({ path: `${process.env.AGREMENS_OUT}/piano.png` });
  assert.deepEqual(wrong, []);
  await close();
});

test('a recording or a MIDI file is judged in place of the microphone, and what is none is refused', { timeout: 180_000 }, async () => {
  const { page, wrong, close } = await piano('silence');
  await watch(page);
  for (const [file, says] of [['clean.wav', /in time/], ['clean.mid', /in time/]]) {
    await page.setInputFiles('#hark-file', join(takes, file));
    await page.waitForFunction(() => document.querySelector('#hark-recording').hidden, null, { timeout: 30_000 });
    await state(page, 'result', { timeout: 90_000 });
    assert.match(await text(page, '#result-words'), says, file);
    assert.match(await text(page, '#result'), /40 of 40 notes played/, file);
  }
  const dropped = (await readFile(join(takes, 'clean.mid'))).toString('base64');
  await page.evaluate((text) => {
    const files = new DataTransfer();
    files.items.add(new File([Uint8Array.from(atob(text), (c) => c.charCodeAt(0))], 'at home.mid'));
    document.body.dispatchEvent(new DragEvent('drop', { bubbles: true, cancelable: true, dataTransfer: files }));
  }, dropped);
  await page.waitForFunction(() => document.querySelector('#hark-recording').hidden, null, { timeout: 30_000 });
  await state(page, 'result', { timeout: 90_000 });
  assert.match(await text(page, '#result-words'), /in time/, 'a file that is dropped');
  await page.setInputFiles('#hark-file', { name: 'notes.wav', mimeType: 'audio/wav', buffer: Buffer.from('RIFF, but no more') });
  await page.waitForFunction(() => /neither a recording/.test(document.querySelector('#result-words').textContent), null, { timeout: 30_000 });
  assert.equal(await page.isVisible('#hark-recording'), true);
  assert.deepEqual(await page.evaluate(() => window.streams), [], 'no microphone was asked for');
  assert.deepEqual(wrong, []);
  await close();
});

for (const [take, says] of [
  ['late', /mordent starts .* after the left hand/],
  ['missing', /One of 40 notes is missing/],
  ['wrong', /One note differs from the one planned/],
  ['uneven', /mordent is bunched at its end/],
]) {
  test(`a fault is named: ${take}`, { timeout: 180_000 }, async () => {
    const { page, wrong, close } = await piano(take);
    await listened(page);
    assert.match(await text(page, '#result-words'), says);
    assert.deepEqual(wrong, []);
    await close();
  });
}

test('silence is refused with the reason, and tapping offered', { timeout: 180_000 }, async () => {
  const { page, wrong, close } = await piano('silence');
  await watch(page);
  await page.click('#hark-start');
  await page.waitForSelector('#hark-sign:not([hidden])', { timeout: 60_000 });
  await page.waitForTimeout(3000);
  await page.click('#stop');
  await state(page, 'result', { timeout: 30_000 });
  assert.match(await text(page, '#result-words'), /Nothing was heard, so nothing is judged/);
  assert.equal(await tracks(page), 0);
  assert.match(await text(page, '#next-step'), /Tap instead/);
  // A page that is hidden in the middle listens no longer.
  await page.click('#hark-start');
  await page.waitForSelector('#hark-sign:not([hidden])', { timeout: 60_000 });
  await page.evaluate(() => {
    Object.defineProperty(document, 'hidden', { value: true, configurable: true });
    document.dispatchEvent(new Event('visibilitychange'));
  });
  assert.equal(await tracks(page), 0);
  await state(page, 'result', { timeout: 30_000 });
  await page.evaluate(() => { delete document.hidden; });
  await page.click('#next-step');
  await state(page, 'tapping', { timeout: 30_000 });
  assert.deepEqual(wrong, []);
  await close();
});

test('a microphone that is refused is a sentence, and the round stays', { timeout: 120_000 }, async () => {
  const { page, wrong, close } = await piano('');
  await page.click('#hark-start');
  await page.waitForSelector('#message:not([hidden])', { timeout: 30_000 });
  assert.match(await text(page, '#message-text'), /did not allow the microphone/);
  assert.equal(await page.inputValue('#kind'), 'piano');
  assert.equal(await page.isEnabled('#hark-start'), true);
  assert.equal(await page.isVisible('#round-caution'), true);
  assert.deepEqual(wrong, []);
  await close();
});

test('a microphone that is taken away on the way ends the round', { timeout: 120_000 }, async () => {
  const { page, wrong, close } = await piano('silence');
  await watch(page);
  await page.click('#hark-start');
  await page.waitForSelector('#hark-sign:not([hidden])', { timeout: 60_000 });
  await page.evaluate(() => window.streams[0].getAudioTracks()[0].dispatchEvent(new Event('ended')));
  await state(page, 'result', { timeout: 30_000 });
  assert.match(await text(page, '#result'), /was switched off during the round/);
  assert.deepEqual(wrong, []);
  await close();
});
