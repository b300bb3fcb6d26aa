// Sound while the staff scrolls, heard by an ear of our own:
// not one frame may be missing.
import { before, after } from 'node:test';
import assert from 'node:assert/strict';
import { launch, serve, open, state } from './browser.mjs';
import { watch } from './machine.mjs';
import { test, later } from './tier.mjs';
import { turns, torn, distances } from './torn.mjs';

let browser, server;
before(async () => { server = await serve(); browser = await launch({ measured: true }); });
after(async () => { await browser?.close(); server?.close(); });

test('the ear notices a missing frame', () => {
  const turn = [24000, 12000, 12000, 48000];
  const sound = Array.from({ length: 40 }, (_, i) => turn[i % 4]);
  assert.equal(turns(sound), 4);
  assert.deepEqual(torn(sound, 4), []);
  sound[21] += 128;
  assert.equal(turns(sound), 4);
  assert.equal(torn(sound, 4).length, 2, 'it stands out against the turn before and after');
});

const TRIES = 3;

// listen listens again when something was torn while the machine stood still:
// then the sound proves nothing.
async function listen(t, query, seconds, tornIn) {
  const { page, wrong, close } = await open(browser, server.url, query);
  await state(page, 'ready');
  await page.check('#repeat');
  for (let i = 1; ; i++) {
    const { stood, ...heard } = await listenOnce(page, seconds);
    const holes = tornIn(heard);
    t.diagnostic(`${heard.onsets.length} onsets, ${holes.length} torn places${stood && `; ${stood}`}`);
    if (holes.length === 0 || stood === '' || i === TRIES) {
      assert.deepEqual(wrong, []);
      await close();
      return { ...heard, holes };
    }
    t.diagnostic(`again, because ${stood}: ${holes.join('; ')}`);
  }
}

async function listenOnce(page, seconds) {
  await page.evaluate(() => window.__robot.rest());
  await page.click('#listen');
  await state(page, 'listening');
  await page.waitForFunction(() => window.__robot.onsets.length > 0, null, { timeout: 20_000 });
  await page.waitForTimeout(2000); // devices may drop frames while they start
  const machine = await watch(page);
  await page.evaluate(() => { window.__robot.onsets.length = window.__robot.holes.length = 0; });
  const end = Date.now() + seconds * 1000;
  let moved = 0, looked = 0, last = null;
  while (Date.now() < end) {
    await page.waitForTimeout(Math.min(5000, Math.max(0, end - Date.now())));
    const picture = await page.locator('#stage').screenshot();
    looked++;
    if (last && !picture.equals(last)) moved++;
    last = picture;
  }
  const stood = await machine.stood();
  const { onsets, holes, rate } = await page.evaluate(() => ({ ...window.__robot, rate: window.__robot.context.sampleRate, context: null }));
  assert.equal(await page.evaluate(() => document.documentElement.dataset.state), 'listening', 'it still sounds');
  assert.ok(moved >= looked - 2, `the staff moved between ${moved} of ${looked} looks`);
  await page.click('#stop');
  await state(page, 'ready', 'result');
  return { onsets, holes, rate, stood };
}

// rhythm listens to the clicks alone: every onset stands one turn after its like.
const rhythm = (seconds) => async (t) => {
  const tornIn = (heard) => torn(distances(heard.onsets), turns(distances(heard.onsets)) || 1);
  const { onsets, rate, holes } = await listen(t, '?passage=trill&bars=1-2&play=both&instrument=click&beat=off&countin=0', seconds, tornIn);
  const heard = (onsets.at(-1) - onsets[0]) / rate;
  const n = turns(distances(onsets));
  t.diagnostic(`${onsets.length} onsets in ${heard.toFixed(1)} s, ${n} to a turn`);
  assert.ok(heard > seconds - 5, `only ${heard} s were heard`);
  assert.ok(n > 0, 'the passage repeats');
  assert.deepEqual(holes, []);
};

test('the rhythm alone, twenty seconds: every onset stands at its frame', rhythm(20));
later('the rhythm alone, three quarters of a minute: every onset stands at its frame', rhythm(45));

later('twenty seconds of the harpsichord: no hole in the sound', async (t) => {
  const { holes, onsets } = await listen(t, '?passage=mordent&play=both&instrument=harpsichord&beat=off&countin=0', 20, (heard) => heard.holes);
  t.diagnostic(`${onsets.length} beginnings after silence`);
  assert.deepEqual(holes, []);
});
