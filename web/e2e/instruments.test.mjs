// What one taps on: a MIDI keyboard (its port stands in for a real one), and
// glass with several fingers.
import { test, before, after } from 'node:test';
import assert from 'node:assert/strict';
import { launch, serve, open, state } from './browser.mjs';

let browser, server;
before(async () => { server = await serve(); browser = await launch({ measured: true }); });
after(async () => { await browser?.close(); server?.close(); });

const text = (page, selector) => page.locator(selector).innerText();
const said = (page, selector, words) => page.waitForFunction(
  ([selector, words]) => document.querySelector(selector).textContent.includes(words), [selector, words], { timeout: 10_000 });

// Stands in for the browser's Web MIDI: ports that come and go, and keys whose
// events carry the time at which they were struck.
function port() {
  const inputs = new Map();
  const access = { inputs, outputs: new Map(), onstatechange: null };
  window.__midi = {
    asked: [],
    refuse: false,
    plug(id, name) {
      inputs.set(id, { id, name, state: 'connected', onmidimessage: null });
      access.onstatechange?.({});
    },
    unplug(id) {
      inputs.delete(id);
      access.onstatechange?.({});
    },
    send(id, bytes, timeStamp = performance.now()) {
      const target = inputs.get(id);
      target.onmidimessage?.({ data: new Uint8Array(bytes), timeStamp, target });
    },
  };
  Object.defineProperty(navigator, 'requestMIDIAccess', {
    configurable: true,
    value: async (options) => {
      window.__midi.asked.push(options);
      if (window.__midi.refuse) throw new DOMException('not here', 'SecurityError');
      return access;
    },
  });
}

async function withMIDI(query = '', prepare = port) {
  const opened = await open(browser, server.url);
  await opened.page.addInitScript(prepare);
  await opened.page.goto(new URL('/' + query, server.url).href);
  await state(opened.page, 'ready');
  return opened;
}

async function connect(page) {
  await page.click('#more > summary');
  await page.click('#midi');
}

// A small piece of our own whose keys are known: plain quarters, then a small
// note that leans on the c. As played: C D E F, D C (from memory: half of the
// two beats), G, C.
const PIECE = `X:1
T:Keys
M:4/4
L:1/4
Q:1/4=80
K:C
V:1 clef=treble
C D E F | {d}c2 G2 | c4 |]
V:2 clef=bass
C,4 | C,4 | C,4 |]
`;
const PLAYED = [60, 62, 64, 65, 74, 72, 67, 72];
const DELAY = 60; // ms

// play strikes a key so long after each sound it hears.
async function play(page, keys, velocity) {
  await page.evaluate(({ keys, velocity, DELAY }) => {
    let next = 0;
    window.__robot.onsets.length = 0;
    const listen = setInterval(() => {
      while (next < window.__robot.onsets.length && next < keys.length) {
        const due = window.__robot.heard(window.__robot.onsets[next]) + DELAY, key = keys[next], strength = velocity[next];
        if (!(due <= performance.now() + 5000)) return; // the line is not known yet
        setTimeout(() => {
          window.__midi.send('p1', [0x90, key, strength], due);
          setTimeout(() => window.__midi.send('p1', [0x80, key, 0], due + 320), 320);
        }, Math.max(0, due - performance.now()));
        next++;
      }
      if (next === keys.length) clearInterval(listen);
    }, 5);
  }, { keys, velocity, DELAY });
  await page.click('#tap');
  await state(page, 'result', { timeout: 60_000 });
  return page.evaluate(() => ({ ...document.getElementById('result').dataset, text: document.getElementById('result').innerText }));
}

async function openPiece(page) {
  await page.setInputFiles('#open', { name: 'keys.abc', mimeType: 'text/plain', buffer: Buffer.from(PIECE) });
  await said(page, '#title-text', 'Keys');
  for (const [id, value] of [['#hand', 'right'], ['#play', 'right'], ['#instrument', 'click'], ['#countin', '0']]) await page.selectOption(id, value);
}

test('a MIDI keyboard: asked for by a press, found as it comes and goes', async () => {
  const { page, wrong, close } = await withMIDI();
  assert.equal(await page.evaluate(() => window.__midi.asked.length), 0, 'nothing is asked before a button is pressed');
  await connect(page);
  await said(page, '#midi-text', 'No keyboard is connected yet');
  assert.deepEqual(await page.evaluate(() => window.__midi.asked), [{ sysex: false }]);
  await page.evaluate(() => window.__midi.plug('p1', 'Stage <b>piano'));
  await said(page, '#midi-text', 'Connected: Stage <b>piano.');
  await page.evaluate(() => window.__midi.plug('p2', 'Small one'));
  await said(page, '#midi-text', 'Small one, Stage <b>piano');
  await page.evaluate(() => { window.__midi.unplug('p1'); window.__midi.unplug('p2'); });
  await said(page, '#midi-text', 'No keyboard is connected yet');
  assert.deepEqual(wrong, []);
  await close();
});

test('the keys of a MIDI keyboard are judged in time and pitch', async (t) => {
  const { page, wrong, close } = await withMIDI();
  await page.evaluate(() => window.__midi.plug('p1', 'Stage piano'));
  await connect(page);
  await said(page, '#midi-text', 'Connected');
  await openPiece(page);
  const keys = [...PLAYED];
  // A round in which the sound was disturbed is repeated.
  const undisturbed = async (velocity) => {
    for (let tries = 1; ; tries++) {
      const r = await play(page, keys, velocity);
      t.diagnostic(`mean ${r.meanMs}, ${r.hit} of ${r.wanted}, gaps ${r.gaps}, jumps ${r.jumps}`);
      if (r.wanted === '8' && r.hit === '8' || tries === 4) return r;
    }
  };
  let result = await undisturbed([70, 70, 70, 70, 96, 64, 70, 70]);
  assert.equal(result.wanted, '8');
  assert.equal(result.hit, '8');
  assert.equal(result.extra, '0');
  assert.ok(Math.abs(Number(result.meanMs) - DELAY) < 15, `the event's own time counts: ${result.meanMs}`);
  assert.match(result.text, /Every note as written\./);
  assert.match(result.text, /Appoggiaturas were struck with 96, their main notes with 64/);
  const kept = await page.evaluate(() => localStorage.getItem('agremens.diary').trim().split('\n').at(-1).split('\t'));
  assert.equal(kept[8], 'midi');
  assert.equal(kept[4], 'Keys', 'an opened file is known by its title');

  keys[2] = 63; // E flat for E
  result = await undisturbed(Array(8).fill(70));
  assert.equal(result.hit, '8', 'right time');
  assert.match(result.text, /One note was different from the written one\./);
  assert.deepEqual(wrong, []);
  await close();
});

test('a browser without MIDI, and one that refuses, say so', async () => {
  let { page, wrong, close } = await withMIDI('', () => {
    Object.defineProperty(navigator, 'requestMIDIAccess', { value: undefined });
  });
  await connect(page);
  await said(page, '#midi-text', 'does not connect MIDI keyboards');
  assert.deepEqual(wrong, []);
  await close();
  ({ page, wrong, close } = await withMIDI());
  await page.evaluate(() => { window.__midi.refuse = true; });
  await connect(page);
  await said(page, '#midi-text', 'was not connected');
  assert.equal(await page.evaluate(() => localStorage.getItem('agremens.midi')), null, 'it is not tried again unasked');
  assert.deepEqual(wrong, []);
  await close();
});

test('the page may ask for MIDI, and for nothing it does not use', async () => {
  const answer = await fetch(server.url);
  const policy = answer.headers.get('permissions-policy');
  assert.match(policy, /midi=\(self\)/);
  assert.match(policy, /microphone=\(self\)/); // a round at the piano listens
  assert.match(policy, /camera=\(\)/);
});

// The rate: two bursts for a young player, twenty seconds' rest, no word
// between. The keys' own times make ten notes a second.
test('the rate is measured in bursts, shows what it changes, and stays with the player', { timeout: 120_000 }, async () => {
  const { page, wrong, close } = await withMIDI('?passage=trill');
  await page.evaluate(() => window.__midi.plug('p1', 'Stage piano'));
  await connect(page);
  await said(page, '#midi-text', 'Connected');
  await page.click('#open-log');
  await page.fill('#new-player', 'Kim');
  await page.click('#add-player');
  await said(page, '#log-note', 'Kim');
  await page.check('#log-young');
  await page.click('#log-close');
  await page.click('#more > summary');
  await page.click('#open-rate');
  assert.ok(await page.isVisible('#speed-caution'));
  const burst = () => page.evaluate(() => {
    const from = performance.now() - 3500;
    for (let i = 0; i < 40; i++) {
      window.__midi.send('p1', [0x90, 72 + i % 2, 80], from + 100 * i);
      window.__midi.send('p1', [0x90, 72 + i % 2, 0], from + 100 * i + 50);
    }
  });
  await burst();
  await said(page, '#speed-line', 'Rest. Shake the hand out.');
  assert.equal(await page.isDisabled('#speed-use'), true);
  await burst(); // in the rest: nothing
  await said(page, '#speed-line', 'Rest.');
  await page.waitForFunction(() => document.getElementById('speed-line').textContent.startsWith('Burst 2 of 2'), null, { timeout: 25_000 });
  await burst();
  await said(page, '#speed-line', '10.0 notes per second');
  assert.equal(await text(page, '#speed-use'), 'Use 10 notes per second');
  assert.ok(await page.locator('#speed-list li').count() > 0);
  await page.fill('#speed-typed', '3');
  await page.click('#speed-type');
  await said(page, '#speed-use', 'Use 3 notes');
  assert.match(await page.locator('#speed-list').innerText(), /Bar \d+: .*; now /, 'what becomes of the signs is said before');
  await page.click('#speed-use');
  await page.waitForFunction(() => document.getElementById('rate').value === '3');
  await page.click('#more > summary');
  await page.click('#open-rate');
  await page.fill('#speed-typed', '3');
  await page.click('#speed-type');
  await said(page, '#speed-list', 'Nothing: every sign stays'); // the reading follows already
  await page.click('#speed-close');
  assert.match(await page.evaluate(() => localStorage.getItem('agremens.diary')), /player\tKim\t3\ttyped\t1/);
  await page.selectOption('#passages', 'turn');
  await said(page, '#title-text', 'Turn');
  assert.equal(await page.inputValue('#rate'), '3', 'another passage, the same player');
  await page.click('#more > summary');
  await page.fill('#rate', '8');
  await page.dispatchEvent('#rate', 'change');
  await page.selectOption('#passages', 'trill');
  await said(page, '#title-text', 'Trill');
  assert.equal(await page.inputValue('#rate'), '8', 'a passage that was put away at another rate follows the player');
  assert.deepEqual(wrong, []);
  await close();
});

test('glass gives no more than a hint of the rate', { timeout: 90_000 }, async () => {
  const { page, wrong, close } = await open(browser, server.url, '?passage=trill', { hasTouch: true });
  await state(page, 'ready');
  await page.click('#more > summary');
  await page.click('#open-rate');
  const tap = (n) => page.evaluate(async (n) => {
    const pad = document.getElementById('speed-pad');
    for (let i = 0; i < n; i++) {
      pad.dispatchEvent(new PointerEvent('pointerdown', { pointerId: 1 + i % 2, bubbles: true, cancelable: true }));
      pad.dispatchEvent(new PointerEvent('pointerup', { pointerId: 1 + i % 2, bubbles: true, cancelable: true }));
      await new Promise((done) => setTimeout(done, 110));
    }
  }, n);
  for (const n of [1, 2, 3]) {
    await tap(32);
    if (n < 3) await page.waitForFunction((n) => document.getElementById('speed-line').textContent.startsWith(`Burst ${n}`), n + 1, { timeout: 25_000 });
  }
  await said(page, '#speed-line', 'only a rough guide');
  assert.equal(await page.isDisabled('#speed-use'), true, 'it cannot be used as it is');
  assert.deepEqual(wrong, []);
  await close();
});

test('while one taps on glass nothing scrolls or grows', async () => {
  for (const size of [{ width: 1024, height: 768 }, { width: 390, height: 844 }]) {
    const { page, wrong, close } = await open(browser, server.url,
      '?passage=turn&bars=1-8&tempo=24&hand=both&instrument=click&countin=0', { size, hasTouch: true, isMobile: true });
    await state(page, 'ready');
    await page.tap('#tap');
    await state(page, 'tapping');
    const { x, y, width, height } = await page.locator('#pad').boundingBox();
    const cdp = await page.context().newCDPSession(page);
    const at = (id, px, py) => ({ id, x: x + width * px, y: y + height * py });
    const touch = (type, ...touchPoints) => cdp.send('Input.dispatchTouchEvent', { type, touchPoints });
    const seen = () => page.evaluate(() => [visualViewport.scale, visualViewport.offsetTop, scrollX, scrollY, document.body.scrollTop, getSelection().toString()]);
    const before = await seen();
    // Two fingers apart, as if to magnify; one upward, as if to scroll; twice quickly.
    await touch('touchStart', at(1, 0.45, 0.5), at(2, 0.55, 0.5));
    for (let i = 1; i <= 8; i++) await touch('touchMove', at(1, 0.45 - 0.05 * i, 0.5), at(2, 0.55 + 0.05 * i, 0.5));
    await touch('touchEnd');
    // The same beside the surface: over the staff and over Stop.
    for (const id of ['#stage', '#stop']) {
      const box = await page.locator(id).boundingBox();
      const over = (id, px) => ({ id, x: box.x + box.width * px, y: box.y + 3 });
      await touch('touchStart', over(7, 0.45), over(8, 0.55));
      for (let i = 1; i <= 8; i++) await touch('touchMove', over(7, 0.45 - 0.05 * i), over(8, 0.55 + 0.05 * i));
      await touch('touchEnd');
    }
    await touch('touchStart', at(3, 0.5, 0.9));
    for (let i = 1; i <= 8; i++) await touch('touchMove', at(3, 0.5, 0.9 - 0.1 * i));
    await touch('touchEnd');
    for (let i = 0; i < 4; i++) { await touch('touchStart', at(4, 0.7, 0.5)); await touch('touchEnd'); }
    await page.waitForTimeout(400);
    assert.deepEqual(await seen(), before, `${size.width}: nothing moved`);
    assert.equal(await page.evaluate(() => document.documentElement.dataset.state), 'tapping', 'the round goes on');
    // Five fingers at once are five taps.
    await touch('touchStart', ...[0.1, 0.2, 0.3, 0.7, 0.9].map((px, i) => at(10 + i, px, 0.4)));
    await touch('touchEnd');
    await page.waitForTimeout(1500); // what is heard is written down half a second later
    await page.tap('#stop');
    await state(page, 'result');
    const { hit, extra } = await page.evaluate(() => ({ ...document.getElementById('result').dataset }));
    assert.ok(Number(hit) + Number(extra) >= 8, `fingers counted: ${hit} hit, ${extra} extra`);
    assert.deepEqual(wrong, []);
    await close();
  }
});
