// Every state of the teacher's and the student's page at nine sizes, in both languages, with wide
// letters: no text is cut, nothing sticks out, no control is covered, and what
// one plays with is in view.
import { before, after } from 'node:test';
import assert from 'node:assert/strict';
import { launch, serve, open, state, tapUntilShown, until } from './browser.mjs';
import { faultyBoxes } from './boxes.mjs';
import { test, later } from './tier.mjs';

let browser, server;
before(async () => { server = await serve(); browser = await launch(); });
after(async () => { await browser?.close(); server?.close(); });

// The last two are a window of 1440 × 900 magnified twice and four times.
const SIZES = [[1440, 900], [1280, 800], [1024, 768], [768, 1024], [844, 390], [390, 844], [360, 640], [720, 450], [360, 225]];
const QUICK = [[1024, 768], [390, 844], [360, 225]];

// What a teacher and a student come to, one after the other.
const STATES = {
  'read': (page) => page.click('#place-read'),
  'all of a sign': (page) => page.click('#sign-more'),
  'every way': (page) => page.click('#choices [data-key=more]'),
  'change it': (page) => page.click('#change-choice'),
  'change the passage': async (page) => { await page.click('#change-close'); await page.click('#change-passage'); },
  'page': async (page) => { await page.evaluate(() => { document.getElementById('edit').open = false; }); await page.click('#page-view'); },
  'practise': async (page) => { await page.click('#page-view'); await page.click('#place-practise'); },
  'settings': (page) => page.click('#settings-name'),
  'another kind': async (page) => { await page.keyboard.press('Escape'); await page.selectOption('#kind', 'pass'); },
  'send home': (page) => page.click('#place-send'),
  'more ways home': (page) => page.click('#task-more'),
  'files': (page) => page.click('#open-files'),
  'open': async (page) => { await page.click('#files-close'); await page.click('#open-piece'); },
  'more': async (page) => { await page.click('#bring-close'); await page.click('#more > summary'); },
  'a student': async (page) => {
    await page.keyboard.press('Escape');
    await page.click('#place-send');
    await page.fill('#task-words', 'Slowly, and together with the left hand.');
    await page.click('#task-try');
    await page.waitForFunction(() => document.documentElement.dataset.page === 'student');
  },
  'more for a student': (page) => page.click('#student-dots'),
  'the sign in words': (page) => page.click('#student-sign'),
  'a student’s round': async (page) => {
    await page.click('#student-dots');
    await page.click('#student-sign');
    await page.selectOption('#kind', 'alone');
    await page.click('#tap');
    await state(page, 'tapping');
  },
  'a student’s result': async (page) => {
    await page.click('#stop');
    await state(page, 'ready', 'result');
    await tapUntilShown(page);
  },
  'the numbers': (page) => page.click('#figures > summary'),
  'the last page': async (page) => { await page.click('#finish'); await page.waitForSelector('#last[open]'); },
  'what the report says': (page) => page.evaluate(() => { for (const e of document.querySelectorAll('#last details')) e.open = true; }),
};

async function walk(t, sizes, locale, letters) {
  const tempo = sizes.length > 3 ? 40 : 80; // a round lasts while it is looked at
  const { page, wrong, close } = await open(browser, server.url, `?passage=trill&bars=1-4&countin=0&tempo=${tempo}&hand=right`, { locale, bypassCSP: true, reducedMotion: 'reduce', size: { width: 1440, height: 900 } });
  await state(page, 'ready');
  if (letters) await page.addStyleTag({ content: `:root { --text: ${letters}; }` });
  const found = {};
  let looked = 0;
  for (const [name, deed] of Object.entries(STATES)) {
    await page.setViewportSize({ width: 1440, height: 900 });
    await deed(page);
    for (const [width, height] of sizes) {
      await page.setViewportSize({ width, height });
      await page.waitForTimeout(60);
      const list = await until(() => page.evaluate(faultyBoxes), (found) => found.length === 0);
      looked++;
      if (list.length) found[`${name}, ${width} × ${height}`] = list;
    }
  }
  t.diagnostic(`${looked} looks`);
  assert.deepEqual(found, {});
  assert.deepEqual(wrong, []);
  await close();
}

test('the boxes at three sizes', (t) => walk(t, QUICK, 'en', null));
for (const locale of ['en', 'de']) {
  later(`the boxes at nine sizes, ${locale}, wide letters`, (t) => walk(t, SIZES, locale, 'Verdana, "DejaVu Sans", sans-serif'));
}
later('the boxes in German, as they come', (t) => walk(t, SIZES, 'de', null));

later('the places with the browser’s letters half as large again, and twice as large', async () => {
  for (const locale of ['en', 'de']) for (const standard of [24, 32]) {
    const { page, wrong, close } = await open(browser, server.url, '?passage=turn', { locale, bypassCSP: true, prepare: async (page) => {
      await (await page.context().newCDPSession(page)).send('Page.setFontSizes', { fontSizes: { standard } });
    } });
    await state(page, 'ready');
    for (const place of ['read', 'practise', 'send']) {
      await page.click('#place-' + place);
      for (const [width, height] of [[390, 844], [768, 1024], [1024, 768]]) {
        await page.setViewportSize({ width, height });
        assert.deepEqual(await until(() => page.evaluate(faultyBoxes), (list) => list.length === 0), [], `${locale}, ${place}, ${width} × ${height}, ${standard} px`);
      }
    }
    assert.deepEqual(wrong, []);
    await close();
  }
});

// A look that finds nothing may look at nothing.
test('what is cut, covered or sticks out is found', async () => {
  const { page, close } = await open(browser, server.url, '', { bypassCSP: true });
  await state(page, 'ready');
  assert.equal(await page.locator('.menu[open]').count(), 0, 'nothing lies over the page');
  assert.deepEqual(await page.evaluate(faultyBoxes), []);
  for (const [css, what] of [
    ['#listen { width: 30px !important; min-width: 0 !important; overflow: hidden; }', /listen.*cut/],
    ['#place-read { position: relative; left: -2000px; }', /place-read.*sticks out/],
    ['#tap { position: absolute !important; left: 16px; }', /covered/],
  ]) {
    const tag = await page.addStyleTag({ content: css });
    assert.match((await page.evaluate(faultyBoxes)).join('\n'), what, css);
    await tag.evaluate((e) => e.remove());
  }
  await close();
});
