// How the staff is seen: the page and the run, the place that is kept between
// them, sizes, papers, motion, the line above a sign, picking.
import { before, after } from 'node:test';
import assert from 'node:assert/strict';
import { launch, serve, open, state, atRest, until } from './browser.mjs';
import { test, later } from './tier.mjs';

let browser, server;
before(async () => { server = await serve(); browser = await launch(); });
after(async () => { await browser?.close(); server?.close(); });

const pressed = (page, id) => page.getAttribute('#' + id, 'aria-pressed');
const scrolled = (page) => page.evaluate(() => Math.round(document.getElementById('scroll').scrollTop));
// otherThan is a picture of the staff once it is no longer the one that was.
const otherThan = (page, was) => until(() => page.locator('#stage').screenshot(), (now) => !now.equals(was));
const tall = (page) => page.evaluate(() => parseFloat(document.getElementById('extent').style.height));

test('the page stands beside the run and both keep the place', async () => {
  const { page, wrong, close } = await open(browser, server.url, '?passage=turn&countin=0');
  await state(page, 'ready');
  await page.locator('#staff-size').fill('200'); // or all of it fits
  const run = await atRest(page);
  await page.click('#page-view');
  assert.equal(await pressed(page, 'page-view'), 'true');
  const first = await otherThan(page, run);
  assert.ok(!run.equals(first), 'the page is another picture');
  const opened = await scrolled(page);
  assert.ok(opened < 150, `the page opens at the beginning, as the run stood: ${opened} px down`);
  // The last sign lies beyond the first system.
  await page.click('#page-view');
  await atRest(page);
  await page.click('#prev-sign');
  await page.click('#page-view');
  const place = await until(() => scrolled(page), (at) => at > opened);
  assert.ok(place > opened, 'the page opens where the chosen sign is');
  // Listening goes to the run and comes back.
  await page.click('#listen');
  await state(page, 'listening');
  await page.waitForTimeout(500);
  assert.equal(await pressed(page, 'page-view'), 'true', 'it is still the page that was chosen');
  await page.click('#stop');
  await state(page, 'ready', 'result');
  assert.ok(await until(() => tall(page), (height) => height > 0) > 0);
  // The page scrolls by keyboard, and the choice survives a reload.
  await page.evaluate(() => document.getElementById('scroll').scrollTo(0, 0));
  await page.locator('#scroll').focus();
  await page.keyboard.press('End');
  await page.waitForFunction(() => document.getElementById('scroll').scrollTop > 0);
  await page.reload();
  await state(page, 'ready');
  assert.equal(await until(() => pressed(page, 'page-view'), (is) => is === 'true'), 'true');
  assert.deepEqual(wrong, []);
  await close();
});

test('size, paper and contrast follow the user, and are kept', async () => {
  const { page, wrong, close } = await open(browser, server.url, '?passage=turn');
  await state(page, 'ready');
  const paper = () => page.evaluate(() => getComputedStyle(document.body).backgroundColor);
  const light = await paper(), plain = await atRest(page);
  await page.click('#more summary');
  await page.selectOption('#paper', 'dark');
  assert.notEqual(await until(paper, (colour) => colour !== light), light);
  await page.selectOption('#contrast', 'more');
  assert.equal(await until(paper, (colour) => colour === 'rgb(0, 0, 0)'), 'rgb(0, 0, 0)');
  await page.locator('#staff-size').fill('160');
  await page.keyboard.press('Escape');
  assert.ok(!(await otherThan(page, plain)).equals(plain));
  await atRest(page);
  const larger = await tall(page);
  await page.reload();
  await state(page, 'ready');
  assert.equal(await until(paper, (colour) => colour === 'rgb(0, 0, 0)'), 'rgb(0, 0, 0)');
  assert.equal(await page.inputValue('#staff-size'), '160');
  assert.equal(await until(() => tall(page), (height) => height === larger), larger);
  assert.deepEqual(wrong, []);
  await close();
});

later('the line above a sign opens and closes by button, key and tap', async () => {
  const { page, wrong, close } = await open(browser, server.url, '?passage=mordent');
  await state(page, 'ready');
  const shown = await atRest(page);
  await page.click('#line');
  assert.equal(await pressed(page, 'line'), 'false');
  const closed = await otherThan(page, shown);
  assert.ok(!closed.equals(shown));
  await page.reload();
  await state(page, 'ready');
  assert.equal(await pressed(page, 'line'), 'false', 'it stays closed');
  await page.press('#line', 'Enter');
  assert.equal(await pressed(page, 'line'), 'true');
  await atRest(page);
  // Somewhere on the staff stands a sign: one touch chooses it, one more
  // closes its line.
  const box = await page.locator('#stage').boundingBox();
  let found = false;
  for (let i = 0; i < 60 && !found; i++) {
    const [x, y] = [box.x + 140 + (i % 20) * 40, box.y + box.height * (0.35 + 0.1 * Math.floor(i / 20))];
    await page.mouse.click(x, y);
    await page.mouse.click(x, y);
    found = await pressed(page, 'line') === 'false';
  }
  assert.ok(found, 'a touch closes the line of a chosen sign');
  assert.deepEqual(wrong, []);
  await close();
});

later('with less motion the staff stands still within a bar', async () => {
  const { page, wrong, close } = await open(browser, server.url, '?passage=turn&countin=0&tempo=40', { reducedMotion: 'reduce' });
  await state(page, 'ready');
  await page.click('#listen');
  await state(page, 'listening');
  // A strip of the staff without moving line or sounding notes: bar numbers
  // and staff lines at the right edge move only when the staff does.
  const box = await page.locator('#stage').boundingBox();
  const strip = () => page.screenshot({ clip: { x: box.x + box.width * 0.68, y: box.y, width: box.width * 0.28, height: box.height } });
  let changes = 0, last;
  for (let i = 0; i < 9; i++) {
    const now = await strip();
    if (last && !now.equals(last)) changes++;
    last = now;
    await page.waitForTimeout(150);
  }
  assert.ok(changes <= 3, `${changes} of 8 pictures changed: the staff flows`);
  await page.click('#stop');
  assert.deepEqual(wrong, []);
  await close();
});

later('choices show their notes, the sign its picture, and the notes can be pulled apart eight times', async () => {
  const { page, wrong, close } = await open(browser, server.url, '?passage=trill');
  await state(page, 'ready');
  await page.click('#choices [data-key=more]');
  const all = await page.locator('#choices button').count();
  assert.equal(await page.locator('#choices button svg').count(), all);
  assert.ok(await page.locator('#choices button svg path').count() >= 2 * all);
  assert.equal(await page.locator('#sign-picture svg').count(), 1);
  for (const text of await page.locator('#choices button').allInnerTexts()) assert.ok(text.trim().length > 3, 'the words stay');
  const before = await atRest(page);
  for (const times of [2, 4, 8]) {
    await page.click('#wider');
    assert.equal(await page.locator('#width').innerText(), `× ${times}`);
  }
  assert.ok(await page.locator('#wider').isDisabled());
  assert.ok(!(await otherThan(page, before)).equals(before));
  for (let i = 0; i < 3; i++) await page.click('#narrower');
  assert.equal(await page.locator('#width').innerText(), '× 1');
  assert.deepEqual(wrong, []);
  await close();
});

later('the size of the browser\'s letters moves the music too', async () => {
  const long = {};
  for (const standard of [16, 24]) {
    const { page, wrong, close } = await open(browser, server.url, '?passage=turn', { prepare: async (page) => {
      await (await page.context().newCDPSession(page)).send('Page.setFontSizes', { fontSizes: { standard } });
    } });
    await state(page, 'ready');
    assert.equal(await page.evaluate(() => getComputedStyle(document.documentElement).fontSize), `${standard}px`);
    await page.click('#page-view');
    await atRest(page);
    await page.waitForTimeout(1500);
    long[standard] = await tall(page);
    assert.deepEqual(wrong, []);
    await close();
  }
  assert.ok(long[24] > 1.3 * long[16], `the page is ${long[16]} px long, and ${long[24]} px with letters half as large again`);
});
