// The first minute: someone who has never been here hears an ornament within
// two actions, on a phone and on a tablet, and taps one within four.
import { before, after } from 'node:test';
import assert from 'node:assert/strict';
import { launch, serve, open, state, message } from './browser.mjs';
import { test, later } from './tier.mjs';

let browser, server;
before(async () => { server = await serve(); browser = await launch(); });
after(async () => { await browser?.close(); server?.close(); });

const devices = [
  { name: 'phone', when: test, size: { width: 390, height: 844 }, taps: true },
  { name: 'tablet', when: later, size: { width: 768, height: 1024 } },
];

for (const { name, when, size, taps } of devices) {
  when(`a newcomer hears an ornament within two actions${taps ? ' and taps one within four' : ''}: ${name}`, async (t) => {
    const began = Date.now();
    const { page, wrong, close } = await open(browser, server.url, '', { size, hasTouch: true, isMobile: true });
    await state(page, 'ready');
    assert.equal(await message(page), '', 'nothing stands in the way');
    t.diagnostic(`ready after ${((Date.now() - began) / 1000).toFixed(1)} s`);
    let actions = 0;
    const touch = async (selector) => { actions++; await page.tap(selector); };

    for (const id of ['listen', 'tap']) {
      const box = await page.locator('#' + id).boundingBox();
      assert.ok(box.y >= 0 && box.y + box.height <= size.height, `#${id} is in view without scrolling`);
    }
    // The passage that opens has an ornament in the bars that sound.
    assert.match(await page.textContent('#sign-name'), /^Bar \d+, /);
    await touch('#listen');
    await state(page, 'counting', 'listening');
    await page.waitForFunction(() => window.__robot.onsets.length > 0, null, { timeout: 60_000 });
    assert.ok(actions <= 2, `heard after ${actions} actions`);
    if (!taps) return close();
    await state(page, 'ready', 'result', { timeout: 120_000 }); // to the end, all its ornaments

    await touch('#tap');
    await state(page, 'tapping', { timeout: 60_000 });
    const pad = await page.locator('#pad').boundingBox();
    assert.ok(pad && pad.height > size.height / 4, 'the place to tap is large');
    actions++; // tapping along is one action, however many notes it has
    for (let i = 0; await page.getAttribute('html', 'data-state') === 'tapping'; i++) {
      await page.touchscreen.tap(pad.x + pad.width * (i % 2 ? 0.7 : 0.85), pad.y + pad.height / 2).catch(() => {});
      await page.waitForTimeout(200);
    }
    await state(page, 'result', { timeout: 120_000 });
    const { hit, wanted } = await page.evaluate(() => ({ ...document.getElementById('result').dataset }));
    t.diagnostic(`${hit} of ${wanted} hit, ${actions} presses, ${((Date.now() - began) / 1000).toFixed(1)} s from the address to the result, all bars heard before`);
    assert.ok(Number(hit) > 0);
    assert.ok(actions <= 4, `tapped after ${actions} actions`);
    assert.deepEqual(wrong, []);
    await close();
  });
}
