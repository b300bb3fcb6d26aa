// Repeats and endings as the user chooses, heard by an ear of our own: after
// the second pass sounds the second ending, and a bar tapped twice is judged twice.
import { test, before, after } from 'node:test';
import assert from 'node:assert/strict';
import { launch, serve, open, state } from './browser.mjs';
import { watch } from './machine.mjs';
import { told } from './robot.mjs';

let browser, server, desk;
before(async () => {
  server = await serve();
  browser = await launch({ measured: true });
  desk = await open(browser, server.url, '?beat=off&countin=0&instrument=click&play=both&hand=right');
  const { page } = desk;
  await state(page, 'ready');
  await page.setInputFiles('#open', { name: 'endings.abc', mimeType: 'text/vnd.abc', buffer: Buffer.from(TUNE) });
  await page.waitForFunction(() => document.getElementById('title-text').textContent === 'Two endings');
  await page.selectOption('#instrument', 'click');
  await page.selectOption('#countin', '0');
  await page.selectOption('#play', 'both');
  await page.uncheck('#beat');
});
after(async () => { await browser?.close(); server?.close(); });

// An eighth is a fifth of a second. The rhythm tells the bars apart: two
// quarters, four eighths in the first ending, a half in the second.
const TUNE = 'X:1\nT:Two endings\nM:2/4\nL:1/8\nQ:1/4=150\nK:C\n|: c2 d2 |1 e f e f :|2 g4 |]\n';
const ONCE = [2, 2];
const REPEATED = [2, 2, 1, 1, 1, 1, 2, 2];

// eighths turns the onsets heard into their distances, in eighths of the tune.
const eighths = ({ onsets, rate }) => onsets.slice(1).map((f, i) => (f - onsets[i]) / rate / 0.2);

const ear = (page) => page.evaluate(() => ({ onsets: window.__robot.onsets, rate: window.__robot.context.sampleRate }));

const TRIES = 4;

// steadily does something and returns what check() makes of it: "" or what is
// wrong. It is done again only where the machine stood still meanwhile.
async function steadily(t, deed, check) {
  for (let i = 1; ; i++) {
    const machine = await watch(desk.page);
    const wrong = check(await deed(desk.page));
    if (wrong === '') return;
    const stood = await machine.stood();
    assert.ok(stood !== '' && i < TRIES, `${wrong}; ${stood || 'the machine did not stand still'}`);
    t.diagnostic(`again, because ${stood}: ${wrong}`);
  }
}

for (const [follow, want] of [['once', ONCE], ['repeats', REPEATED]]) {
  test(`listening: ${follow}`, async (t) => {
    await desk.page.selectOption('#follow', follow);
    await steadily(t, async (page) => {
      await page.evaluate(() => window.__robot.rest());
      await page.click('#listen');
      await state(page, 'listening');
      await state(page, 'ready', { timeout: 30_000 });
      return eighths(await ear(page));
    }, (heard) => {
      const said = heard.map((x) => x.toFixed(3)).join(' ');
      t.diagnostic(said);
      const right = heard.length === want.length && heard.every((x, k) => Math.abs(x - want[k]) < 0.005);
      return right ? '' : `heard ${said} eighths, wanted ${want.join(' ')}`;
    });
    assert.deepEqual(desk.wrong, []);
  });
}

test('tapping along the repeat: both passes are judged', async (t) => {
  await desk.page.selectOption('#follow', 'repeats');
  await steadily(t, async (page) => {
    await page.evaluate(() => window.__robot.arm({ delay: 40, codes: ['KeyJ', 'KeyK'], pattern: null, skip: 0 }));
    await page.click('#tap');
    await state(page, 'tapping');
    await state(page, 'result', { timeout: 30_000 });
    return told(await page.evaluate(() => ({ ...document.getElementById('result').dataset })));
  }, (r) => {
    t.diagnostic(JSON.stringify(r));
    const right = r.wanted === REPEATED.length + 1 && r.hit === r.wanted && r.missed + r.extra === 0;
    return right ? '' : `${r.hit} of ${r.wanted} hit, ${r.missed} missed, ${r.extra} extra`;
  });
  assert.deepEqual(desk.wrong, []);
});
