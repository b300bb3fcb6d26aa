// A tap is seen at once: in the first frame after its event was delivered the
// place on the glass is pressed, or the key cap is, and there is ink at the line;
// the staff itself is drawn with it in the frame after. How long that takes from
// the event's own stamp is printed, beside a bare page that colours a square; no
// time is asked for.
import { test, before, after } from 'node:test';
import assert from 'node:assert/strict';
import { launch, serve, open, state } from './browser.mjs';

const HELD = 90; // ms that a tap lasts

let browser, server;
before(async () => { server = await serve(); browser = await launch({ measured: true }); });
after(async () => { await browser?.close(); server?.close(); });

// follow notes, in the page, for every event of a kind when the frame after it
// was handed to the screen, and what stood in it.
function follow([kind, selector]) {
  const taps = window.__taps = [];
  // The page's own ink is taken away in the very frame in which the staff is
  // drawn with it, so what counts is that it came after the event.
  let inked = -1;
  new MutationObserver(() => {
    if ([...document.querySelectorAll('.ink')].some((e) => e.style.display === 'block')) inked = performance.now();
  }).observe(document, { subtree: true, childList: true, attributes: true, attributeFilter: ['style'] });
  addEventListener(kind, (event) => {
    if (event.repeat) return;
    const delivered = performance.now();
    requestAnimationFrame(() => {
      const channel = new MessageChannel(); // its turn comes when the frame is done
      channel.port1.onmessage = () => taps.push({ ms: performance.now() - event.timeStamp, seen: [...document.querySelectorAll(selector)].some((e) => getComputedStyle(e).opacity > 0.1), inked: inked >= delivered });
      channel.port2.postMessage(0);
    });
  }, true);
}

const told = (taps) => {
  const ms = taps.map((tap) => tap.ms).sort((a, b) => a - b);
  const at = (share) => ms[Math.min(ms.length - 1, Math.floor(share * ms.length))].toFixed(1);
  return `${ms.length} taps: median ${at(0.5)} ms, 95 of 100 within ${at(0.95)} ms`;
};

// bare is a page that colours a square where it is touched or a key is down.
const BARE = '<!doctype html><div id="square" style="width:100vw;height:90vh;background:#eee"></div><script>' +
  'const s = document.getElementById("square"); const on = () => { s.className = "down"; s.style.background = "#822"; }, off = () => { s.className = ""; s.style.background = "#eee"; };' +
  'addEventListener("pointerdown", on); addEventListener("pointerup", off); addEventListener("keydown", on); addEventListener("keyup", off);</script>';

// tap taps n times, irregularly, with a key or a finger.
async function tap(page, n, kind) {
  const session = await page.context().newCDPSession(page);
  for (let i = 0; i < n; i++) {
    if (kind === 'keydown') {
      await page.keyboard.down('j');
      await page.waitForTimeout(HELD);
      await page.keyboard.up('j');
    } else {
      const { width, height } = page.viewportSize();
      await session.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: [{ x: width * 0.6, y: height * 0.85 }] });
      await page.waitForTimeout(HELD);
      await session.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] });
    }
    await page.waitForTimeout(70 + (i * 37) % 60);
  }
  return page.evaluate(() => window.__taps);
}

for (const [name, kind, selector, look] of [
  ['on glass', 'pointerdown', '.press', { hasTouch: true, size: { width: 390, height: 844 } }],
  ['on keys', 'keydown', '#caps > .down', { size: { width: 1024, height: 768 } }],
]) {
  test(`a tap ${name} is seen in the next frame`, async (t) => {
    const bare = await open(browser, server.url, '', look);
    await bare.page.goto('about:blank');
    await bare.page.setContent(BARE);
    await bare.page.evaluate(follow, [kind, '.down']);
    t.diagnostic(`a bare page, ${told(await tap(bare.page, 60, kind))}`);
    await bare.close();

    const { page, close } = await open(browser, server.url, '?passage=mordent&bars=1-8&tempo=40&hand=right', look);
    await state(page, 'ready');
    await page.evaluate(follow, [kind, selector]);
    await page.evaluate(() => document.getElementById('tap').click());
    await state(page, 'tapping');
    const taps = await tap(page, 60, kind);
    t.diagnostic(`a round, ${told(taps)}`);
    assert.ok(taps.length >= 55, `${taps.length} taps were followed`);
    const held = taps.filter((tap) => tap.ms < HELD); // before a slower frame the key is up again
    const pressed = held.filter((tap) => tap.seen).length;
    t.diagnostic(`the finger or the key in ${pressed} of ${held.length} frames that came while it was down`);
    assert.ok(held.length >= 30 && pressed >= 0.95 * held.length, `the finger or the key was seen in ${pressed} of ${held.length} frames`);
    const inked = taps.filter((tap) => tap.inked).length;
    t.diagnostic(`${inked} of ${taps.length} in a frame with ink at the line`);
    assert.ok(inked >= 0.9 * taps.length, `${inked} of ${taps.length} frames had ink at the line`);
    await close();
  });
}
