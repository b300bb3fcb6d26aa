// Screenshots at the sizes people have, in both languages, for eyes, and what can be checked
// without them: nothing sticks out sideways, everything is large enough for
// a finger.
import { test, before, after } from 'node:test';
import assert from 'node:assert/strict';
import { mkdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { join } from 'node:path';
import { launch, serve, open, state } from './browser.mjs';

const out = process.env.AGREMENS_OUT ?? fileURLToPath(new URL('../../.check/screens', import.meta.url));
mkdirSync(out, { recursive: true });

let browser, server;
before(async () => { server = await serve(); browser = await launch(); });
after(async () => { await browser?.close(); server?.close(); });

const FINGER = 44; // CSS pixels
const sizes = [
  { name: 'tablet', width: 1024, height: 768, hasTouch: true },
  { name: 'tablet-portrait', width: 768, height: 1024, hasTouch: true },
  { name: 'phone', width: 390, height: 844, hasTouch: true },
  { name: 'desktop', width: 1440, height: 900 },
  { name: 'small-phone', width: 360, height: 640, hasTouch: true, deviceScaleFactor: 3 },
  { name: 'phone-landscape', width: 844, height: 390, hasTouch: true, deviceScaleFactor: 2 },
  { name: 'tablet-dark', width: 1024, height: 768, hasTouch: true, colorScheme: 'dark', deviceScaleFactor: 2 },
  { name: 'tablet-contrast', width: 1024, height: 768, hasTouch: true, contrast: 'more' },
  { name: 'wall', width: 3840, height: 2160 },
];

const all = sizes.flatMap((size) => ['en', 'de'].map((locale) => ({ ...size, locale })));
for (const { name, width, height, ...more } of all) {
  test(`${name}, ${width} × ${height}, ${more.locale}`, async () => {
    const { page, wrong, close } = await open(browser, server.url, '?passage=turn&countin=0&tempo=60', { size: { width, height }, ...more });
    const shoot = (moment) => page.screenshot({ path: join(out, `${name}-${more.locale}-${moment}.png`) });
    await state(page, 'ready');
    await page.waitForTimeout(300);
    await shoot('ready');
    assert.ok(await page.evaluate(() => document.scrollingElement.scrollWidth <= innerWidth), 'nothing sticks out sideways');
    const small = await page.evaluate((least) => [...document.querySelectorAll('button, select, summary, label.button, input:not([type=file])')]
      .filter((e) => e.checkVisibility())
      .map((e) => [e, (e.closest('label') ?? e).getBoundingClientRect()])
      .filter(([, box]) => box.width < least || box.height < least - 0.5)
      .map(([e, box]) => `${e.id || e.textContent.trim()}: ${box.width.toFixed(0)} × ${box.height.toFixed(0)}`), FINGER);
    if (more.hasTouch) assert.deepEqual(small, [], 'too small for a finger');
    await page.click('#page-view');
    await page.waitForTimeout(400);
    await shoot('page');
    await page.click('#page-view');
    for (const place of ['send', 'practise']) {
      await page.click(`#place-${place}`);
      await page.waitForTimeout(200);
      await shoot(place);
    }
    await page.click('#tap');
    await state(page, 'tapping');
    await page.waitForTimeout(800);
    await shoot('tapping');
    if (more.hasTouch) {
      const pad = await page.locator('#pad').boundingBox();
      assert.ok(pad && pad.height >= height / 4, 'there is a place to tap');
    }
    await page.click('#stop');
    await state(page, 'ready', 'result');
    await page.click('#listen');
    await state(page, 'listening');
    await page.waitForTimeout(800);
    await shoot('listening');
    assert.deepEqual(wrong, []);
    await close();
  });
}
