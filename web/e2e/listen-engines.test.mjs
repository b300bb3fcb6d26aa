// A round at the piano in Firefox and WebKitGTK, each started as a visitor
// starts it. The microphone hears what is played into the room, and what the
// page itself sounds.
//
// AGREMENS_ENGINE names one browser.
import { test, before, after } from 'node:test';
import assert from 'node:assert/strict';
import { execFile, execFileSync, spawn } from 'node:child_process';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { promisify } from 'node:util';
import { join } from 'node:path';
import * as desk from './desktop.mjs';
import { open } from './engines.mjs';

const run = promisify(execFile);
const pause = (ms) => new Promise((resolve) => setTimeout(resolve, ms));
const chosen = process.env.AGREMENS_ENGINE ? [process.env.AGREMENS_ENGINE] : ['firefox', 'webkit'];
const query = '?passage=mordent&bars=1-4&kind=piano';

// What lets a page open the microphone without a question, or refuses it.
const ALLOWED = { firefox: { prefs: { 'media.navigator.permission.disabled': true } }, webkit: { args: ['--enable-media-stream=true'] } };
const REFUSED = { prefs: { 'permissions.default.microphone': 2 } };

let takes;
before(async () => {
  takes = await mkdtemp(join(tmpdir(), 'agremens-takes-'));
  execFileSync('go', ['test', '-count=1', '-run', 'TestTakes', './game/listening'],
    { cwd: new URL('../..', import.meta.url), env: { ...process.env, AGREMENS_TAKES: takes }, stdio: ['ignore', 'ignore', 'inherit'] });
});
after(() => rm(takes, { recursive: true, force: true }));

// withMicrophone is a desktop whose microphone hears what its sink sounds. The
// sink's own monitor will not do: WebKitGTK passes over monitors.
async function withMicrophone() {
  const desktop = await desk.start();
  for (const order of [['load-module', 'module-remap-source', 'master=ear.monitor', 'source_name=room'], ['set-default-source', 'room']]) {
    await run('pactl', order, { env: desktop.env });
  }
  return desktop;
}

async function until(what, ask, ms = 40_000) {
  for (const end = Date.now() + ms; ;) {
    if (await ask()) return;
    if (Date.now() > end) throw new Error(`${what}: not within ${ms / 1000} s`);
    await pause(300);
  }
}

const words = async (page) => (await page.call('look', { said: '#result' })).said;

// open microphones, as the sound server counts them.
const microphones = async ({ env }) => (await run('pactl', ['list', 'short', 'source-outputs'], { env })).stdout.trim().split('\n').filter((line) => line && !line.includes('module-remap-source')).length;

// listening presses the button, and what the browser asks, until the sign of
// the open microphone is shown.
async function listening(page, desktop, engine) {
  await page.call('click', 'hark-start');
  if (engine === 'webkit') {
    // Its bar with the question stands above the page, "Yes" at its right.
    await pause(3000);
    await run('xdotool', ['mousemove', '975', '69', 'click', '1'], { env: desktop.env });
  }
  await until('the microphone is open', () => page.call('shown', 'hark-sign'));
}

for (const engine of chosen) {
  test(`a round at the piano in ${engine}`, { timeout: 300_000 }, async (t) => {
    const desktop = await withMicrophone();
    t.after(() => desktop.stop());
    const page = await open(engine, desktop, query, ALLOWED[engine]);
    t.after(() => page.close());
    await page.state('ready');
    assert.equal(await microphones(desktop), 0);
    await listening(page, desktop, engine);
    assert.equal(await microphones(desktop), 1);
    // The take is silent for 12 s at first, as those of a fake microphone are.
    const play = async (name) => { await run('paplay', [join(takes, name)], { env: desktop.env }); };
    play('clean.wav').catch(() => {});
    await page.state('result', { timeout: 90_000 });
    console.log(engine, await words(page));
    assert.match(await words(page), /in time/);
    assert.match(await words(page), /40 of 40 notes played/);
    await until('the microphone is closed', async () => await microphones(desktop) === 0, 5000);

    // With the beat: the page's own sound is in the recording.
    await page.call('fill', 'hark-with', 'beat');
    await listening(page, desktop, engine);
    await page.state('listening', { timeout: 40_000 });
    await until('the beat is heard', async () => /The beat is heard too/.test((await page.call('look', { sign: '#hark-sign' })).sign), 20_000);
    await page.call('click', 'stop');
    await page.state('result', { timeout: 40_000 });
    console.log(engine, 'nothing played to the beat:', await words(page));
    assert.match(await words(page), /The beat was heard/);
    await until('the microphone is closed', async () => await microphones(desktop) === 0, 5000);
    assert.deepEqual((await page.call('read')).wrong, []);
  });

  if (engine !== 'firefox') continue; // the other knows no setting for it

  test(`a microphone that ${engine} refuses, and one that there is not`, { timeout: 200_000 }, async (t) => {
    const desktop = await withMicrophone();
    t.after(() => desktop.stop());
    // Where no sound server answers there is no microphone either.
    const mute = { ...desktop, env: { ...desktop.env, PULSE_SERVER: 'unix:/nonexistent' } };
    for (const [settings, room, says] of [[REFUSED, desktop, /did not allow the microphone/], [ALLOWED[engine], mute, /No microphone was found/]]) {
      const page = await open(engine, room, query, settings);
      try {
        await page.state('ready');
        await page.call('click', 'hark-start');
        await until('it is said', async () => says.test((await page.call('read')).message), 30_000);
        assert.equal(await page.call('shown', 'hark-start'), true);
      } finally {
        await page.close();
      }
    }
  });
}
