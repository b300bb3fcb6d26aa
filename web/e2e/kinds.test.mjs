// Every kind of round is played to its end, by a robot with keys and by one
// with fingers on glass.
import { test, describe, before, after } from 'node:test';
import assert from 'node:assert/strict';
import { launch, serve, open, state, message } from './browser.mjs';

let browser, server;
before(async () => { server = await serve(); browser = await launch({ measured: true }); });
after(async () => { await browser?.close(); server?.close(); });

const BEAT = 60_000 / 200;
const passage = { trill: 'trill', which: 'trill', vote: 'trill' };

// The robot knows nothing of the music: it taps eighths. What the judge makes
// of taps is tested without a browser; here every step must come and go.
const robots = {
  keys: {
    options: {},
    press: (page, id) => page.locator(id).first().press('Enter'),
    async tap(page) {
      await page.keyboard.press('j');
      await page.keyboard.press('f');
    },
  },
  glass: {
    options: { hasTouch: true, isMobile: true },
    press: (page, id) => page.locator(id).first().tap(),
    async tap(page, { cdp, box }) {
      const at = (part) => ({ x: box.x + box.width * part, y: box.y + box.height / 2 });
      await cdp.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: [{ id: 1, ...at(0.25) }, { id: 2, ...at(0.75) }] });
      await cdp.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] });
    },
  },
};

// what tells which step the page is at, and what it asks for.
const what = (page) => page.evaluate(() => {
  const seen = (id) => { const e = document.getElementById(id); return Boolean(e && !e.hidden && e.getClientRects().length); };
  return {
    state: document.documentElement.dataset.state,
    answers: document.querySelectorAll('#round-answers button').length,
    ready: seen('round-ready'),
    loop: document.documentElement.dataset.state === 'listening' && ['piano', 'clap'].includes(document.getElementById('kind').value),
  };
});

// play does whatever the page asks for until the result stands.
async function play(page, robot, { loopMS = 2500, most = 100_000 } = {}) {
  const touch = {};
  const did = { taps: 0, answers: 0, ready: 0, stops: 0 };
  const until = Date.now() + most;
  let loopSince = 0;
  while (Date.now() < until) {
    const at = await what(page);
    if (at.state === 'result') return did;
    assert.notEqual(at.state, 'error');
    assert.equal(await message(page), '');
    if (at.state === 'tapping') {
      if (robot === robots.glass && !touch.box) {
        touch.box = await page.locator('#pad').boundingBox();
        touch.cdp = await page.context().newCDPSession(page);
      }
      await robot.tap(page, touch);
      did.taps++;
      await page.waitForTimeout(BEAT / 2);
    } else if (at.state === 'ready' && at.answers > 0) {
      // A vote stays open: two for A, then done.
      if (!at.ready || did.answers < 2) {
        // Who is asked again and again whether to go on, stops in the end.
        await robot.press(page, did.answers < 3 ? '#round-answers button' : '#round-answers button:last-child');
        did.answers++;
      } else {
        await robot.press(page, '#round-ready');
        did.ready++;
      }
      await page.waitForTimeout(150);
    } else if (at.state === 'ready' && at.ready) {
      await robot.press(page, '#round-ready');
      did.ready++;
      await page.waitForTimeout(150);
    } else if (at.loop) {
      loopSince ||= Date.now();
      if (Date.now() - loopSince > loopMS) {
        await robot.press(page, '#stop');
        did.stops++;
      }
      await page.waitForTimeout(100);
    } else {
      await page.waitForTimeout(60);
    }
  }
  throw new Error(`no result: ${JSON.stringify({ ...await what(page), ...did })}`);
}

const byEar = ['which', 'sign', 'first', 'vote'];
const loops = ['piano', 'clap'];
const kinds = ['tap', 'echo', 'one', 'both', 'inside', 'plain', 'grow', 'land', 'alone', 'trill', 'climb', ...loops, ...byEar, 'two', 'pass'];

// A round takes the time its bars take: most of it is waiting, so three go side
// by side.
describe('every kind of round', { concurrency: 3 }, () => {
  for (const [name, robot] of Object.entries(robots)) {
    for (const kind of kinds) {
      test(`${kind}, with ${name}`, async (t) => {
        const bars = kind === 'trill' ? '7-7' : '1-2';
        const { page, wrong, close } = await open(browser, server.url,
          `?passage=${passage[kind] ?? 'mordent'}&bars=${bars}&kind=${kind}&tempo=${kind === 'trill' ? 140 : 127}&countin=1`, robot.options);
        await state(page, 'ready');
        assert.equal(await page.inputValue('#kind'), kind);
        if (kind !== 'tap') assert.notEqual(await page.locator('#round-purpose').innerText(), '', 'it says what it is for');
        assert.equal(await page.locator('#round-caution').isVisible(), ['trill', 'climb', 'piano', 'clap'].includes(kind), 'the caution stands by fast and long practice');
        if (kind === 'pass') await page.fill('#round-players', 'Ana, Ben');
        if (kind === 'climb') {
          await page.locator('#goal').fill('165');
          await page.locator('#goal').blur();
          await page.locator('#tempo').evaluate((e) => { e.value = '60'; e.dispatchEvent(new Event('input', { bubbles: true })); });
        }
        await robot.press(page, '#tap');
        // A climb is over when the robot, never even, is asked often enough to rest.
        const did = await play(page, robot, kind === 'climb' ? { most: 240_000 } : {});
        t.diagnostic(JSON.stringify(did));
        const text = await page.locator('#result').innerText();
        assert.notEqual(text.trim(), '');
        const data = await page.evaluate(() => ({ ...document.getElementById('result').dataset }));
        if ([...byEar, ...loops].includes(kind)) {
          assert.equal(data.wanted ?? '', '', 'nothing is judged');
        } else {
          assert.ok(did.taps > 0);
          if (kind !== 'pass') assert.ok(Number(data.hit) + Number(data.extra) > 0, 'the taps have arrived');
        }
        if (byEar.includes(kind)) assert.ok(did.answers >= 2);
        if (kind === 'pass') {
          assert.equal(did.ready, 2, 'each player is given the device');
          assert.ok(!/Ana|Ben/.test(text), 'nobody is named in what the group works on');
        }
        if (kind === 'climb') assert.ok(did.answers > 0, 'a pause was offered');
        assert.deepEqual(wrong, []);
        await close();
      });
    }
  }
});

test('the next step is a button that starts the round it names', async () => {
  const { page, wrong, close } = await open(browser, server.url, '?passage=mordent&bars=1-2&tempo=127&countin=1');
  await state(page, 'ready');
  await page.click('#tap');
  await play(page, robots.keys);
  const label = await page.locator('#next-step').innerText();
  assert.match(label, /^Next: ./);
  await page.click('#next-step');
  await state(page, 'counting', 'tapping', 'listening');
  const name = await page.locator('#kind option:checked').innerText();
  assert.ok(label.includes(name) || /once more/i.test(label), `${label} starts ${name}`);
  await page.click('#stop');
  await state(page, 'ready', 'result');
  assert.deepEqual(wrong, []);
  await close();
});

test('an unknown kind says so, and a round by ear hides what it asks for', async () => {
  const { page, wrong, close } = await open(browser, server.url, '?kind=dance');
  await state(page, 'ready');
  assert.match(await message(page), /dance/);
  assert.equal(await page.inputValue('#kind'), 'tap');
  await page.click('#message-close');
  await page.selectOption('#kind', 'first');
  await page.click('#tap');
  await page.waitForSelector('#round-answers button');
  assert.equal(await page.locator('#sign-notes').isVisible(), false);
  await page.click('#stop');
  await state(page, 'ready', 'result');
  await page.click('#place-read');
  assert.equal(await page.locator('#sign-notes').isVisible(), true);
  assert.deepEqual(wrong, []);
  await close();
});
