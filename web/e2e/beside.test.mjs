// A round at the piano while the page sounds the beat and the other hand: the
// microphone hears both, in one recording. The takes are played by our own
// synthesis, sharper than the program and in a room (game/listening).
import { test, before, after } from 'node:test';
import assert from 'node:assert/strict';
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { execFileSync } from 'node:child_process';
import { launch, open, serve, state } from './browser.mjs';

let server, takes, browser;
before(async () => {
  takes = await mkdtemp(join(tmpdir(), 'agremens-takes-'));
  execFileSync('go', ['test', '-count=1', '-run', 'TestTakes', './game/listening'],
    { cwd: new URL('../..', import.meta.url), env: { ...process.env, AGREMENS_TAKES: takes }, stdio: ['ignore', 'ignore', 'inherit'] });
  server = await serve({ scripts: { '/__robot/beside.js': await readFile(new URL('beside.js', import.meta.url)) } });
  browser = await launch({ measured: true });
});
after(async () => {
  await browser?.close();
  server?.close();
  if (takes) await rm(takes, { recursive: true });
});

// room opens a kind of round in a page whose microphone stands in the room of
// its loudspeaker and of a piano, which plays one take a microphone.
async function room(kind, names, { late = 4800, loud = 0.5, bars = '1-4' } = {}) {
  const all = [];
  for (const name of names) all.push((await readFile(join(takes, `beside-${name}.wav`))).subarray(44).toString('base64'));
  const { page, wrong } = await open(browser, server.url, `?passage=mordent&bars=${bars}&kind=${kind}`);
  await state(page, 'ready');
  await page.evaluate(({ all, late, loud }) => {
    window.streams = [];
    navigator.mediaDevices.getUserMedia = async () => {
      const { context, node } = agremens.audio;
      await context.audioWorklet.addModule('/__robot/beside.js');
      const bytes = Uint8Array.from(atob(all[window.streams.length % all.length]), (c) => c.charCodeAt(0));
      const piano = new AudioWorkletNode(context, 'robot-piano', { outputChannelCount: [1], processorOptions: { take: new Int16Array(bytes.buffer), late, loud } });
      node.connect(piano);
      const out = context.createMediaStreamDestination();
      piano.connect(out);
      window.streams.push(out.stream);
      return out.stream;
    };
  }, { all, late, loud });
  return { page, wrong };
}

const text = (page, selector) => page.locator(selector).innerText();
const live = (page) => page.evaluate(() => window.streams.flatMap((s) => s.getTracks()).filter((t) => t.readyState === 'live').length);

for (const [name, says] of [
  ['clean', /^Starts with the left hand, runs evenly and lands in time/],
  ['late', /mordent starts about .* after the left hand/],
  ['missing', /One of 23 notes is missing/],
  ['wrong', /One note differs from the one planned/],
  ['uneven', /mordent is bunched at its end/],
]) {
  test(`with the beat and the program's hand from the loudspeaker: ${name}`, { timeout: 180_000 }, async () => {
    const { page, wrong } = await room('piano', [name]);
    await page.selectOption('#hark-with', 'hand');
    await page.click('#hark-start');
    await page.waitForSelector('#hark-sign:not([hidden])', { timeout: 60_000 });
    assert.equal(await live(page), 1);
    await state(page, 'listening', { timeout: 30_000 });
    await page.waitForFunction(() => /The beat is heard too/.test(document.querySelector('#hark-sign').textContent), null, { timeout: 30_000 });
    await state(page, 'result', { timeout: 90_000 });
    console.log(name, await text(page, '#result'));
    assert.match(await text(page, '#result-words'), says);
    assert.doesNotMatch(await text(page, '#result'), /held against each other/, 'but against the beat');
    assert.equal(await live(page), 0);
    assert.equal(await page.isVisible('#hark-sign'), false);
    assert.deepEqual(wrong, []);
  });
}

test('with headphones the beat is not in the recording, and that is said', { timeout: 180_000 }, async () => {
  const { page, wrong } = await room('piano', ['late'], { loud: 0 });
  await page.selectOption('#hark-with', 'hand');
  await page.click('#hark-start');
  await state(page, 'listening', { timeout: 60_000 });
  await state(page, 'result', { timeout: 90_000 });
  console.log('headphones', await text(page, '#result'));
  assert.match(await text(page, '#result-words'), /mordent starts about/);
  assert.match(await text(page, '#result'), /did not hear the beat/);
  assert.deepEqual(wrong, []);
});

test('a climb at the piano goes on by itself, and the log knows that it was played', { timeout: 300_000 }, async () => {
  const { page, wrong } = await room('climb&tempo=72', ['climb-0', 'climb-1', 'climb-2'], { bars: '1-2' });
  await page.selectOption('#hark-with', 'beat');
  await page.click('#hark-start');
  const told = [];
  await page.waitForSelector('#hark-sign:not([hidden])', { timeout: 60_000 });
  for (let round = 1; round <= 3; round++) {
    await state(page, 'listening', { timeout: 60_000 });
    assert.equal(await page.evaluate(() => window.streams.length), round);
    assert.equal(await live(page), 1, 'one microphone at a time');
    told.push(await page.evaluate(() => document.querySelector('#climb-picture').getAttribute('aria-label')));
    await page.waitForFunction(() => document.documentElement.dataset.state !== 'listening', null, { timeout: 60_000 });
  }
  await state(page, 'result', { timeout: 60_000 });
  console.log('climb', told, await text(page, '#result'));
  assert.match(await text(page, '#result-words'), /Arrived: two clean rounds/);
  assert.equal(await live(page), 0);
  const log = await page.evaluate(() => Object.entries(localStorage).filter(([key]) => key.includes('log') || key.includes('diary')).map(([, text]) => text).join(''));
  assert.equal(log.match(/climb.instrument/g)?.length, 3, log);
  assert.deepEqual(wrong, []);
});
