// Repeats and endings as the user chooses, heard by an ear of our own: after
// the second pass sounds the second ending, and a bar tapped twice is judged twice.
import { test, before, after } from 'node:test';
import assert from 'node:assert/strict';
import { launch, serve, open, state } from './browser.mjs';
import { told } from './robot.mjs';

let browser, server;
before(async () => { server = await serve(); browser = await launch(); });
after(async () => { await browser?.close(); server?.close(); });

// An eighth is a fifth of a second. The rhythm tells the bars apart: two
// quarters, four eighths in the first ending, a half in the second.
const TUNE = 'X:1\nT:Two endings\nM:2/4\nL:1/8\nQ:1/4=150\nK:C\n|: c2 d2 |1 e f e f :|2 g4 |]\n';
const ONCE = [2, 2];
const REPEATED = [2, 2, 1, 1, 1, 1, 2, 2];

async function onTheDesk(follow) {
  const it = await open(browser, server.url, '?beat=off&countin=0&instrument=click&play=both&hand=right');
  const { page } = it;
  await state(page, 'ready');
  await page.setInputFiles('#open', { name: 'endings.abc', mimeType: 'text/vnd.abc', buffer: Buffer.from(TUNE) });
  await page.waitForFunction(() => document.getElementById('title-text').textContent === 'Two endings');
  await page.selectOption('#instrument', 'click');
  await page.selectOption('#countin', '0');
  await page.uncheck('#beat');
  await page.selectOption('#follow', follow);
  return it;
}

// eighths turns the onsets heard into their distances, in eighths of the tune.
const eighths = ({ onsets, rate }) => onsets.slice(1).map((f, i) => (f - onsets[i]) / rate / 0.2);

const ear = (page) => page.evaluate(() => ({ onsets: window.__robot.onsets, rate: window.__robot.context.sampleRate }));

const TRIES = 3; // the machine may stand still

for (const [follow, want] of [['once', ONCE], ['repeats', REPEATED]]) {
  test(`listening: ${follow}`, async (t) => {
    for (let i = 1; ; i++) {
      const { page, wrong, close } = await onTheDesk(follow);
      await page.click('#listen');
      await state(page, 'listening');
      await state(page, 'ready', { timeout: 30_000 });
      const heard = eighths(await ear(page));
      assert.deepEqual(wrong, []);
      await close();
      t.diagnostic(heard.map((x) => x.toFixed(3)).join(' '));
      if (heard.length !== want.length && i < TRIES) continue;
      assert.deepEqual(heard.map((x) => Math.round(x)), want);
      for (const [k, x] of heard.entries()) assert.ok(Math.abs(x - want[k]) < 0.005, `distance ${k} is ${x} eighths`);
      return;
    }
  });
}

test('tapping along the repeat: both passes are judged', async (t) => {
  for (let i = 1; ; i++) {
    const { page, wrong, close } = await onTheDesk('repeats');
    await page.selectOption('#play', 'both');
    await page.evaluate(() => window.__robot.arm({ delay: 40, codes: ['KeyJ', 'KeyK'], pattern: null, skip: 0 }));
    await page.click('#tap');
    await state(page, 'tapping');
    await state(page, 'result', { timeout: 30_000 });
    const r = told(await page.evaluate(() => ({ ...document.getElementById('result').dataset })));
    assert.deepEqual(wrong, []);
    await close();
    t.diagnostic(JSON.stringify(r));
    assert.equal(r.wanted, REPEATED.length + 1);
    if ((r.hit !== r.wanted || r.gaps + r.jumps > 0) && i < TRIES) continue;
    assert.equal(r.hit, r.wanted);
    assert.equal(r.missed + r.extra, 0);
    return;
  }
});
