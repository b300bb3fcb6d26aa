// Changing a passage on the staff, undo and redo, and what the program asks.
import { before, after } from 'node:test';
import assert from 'node:assert/strict';
import { launch, serve, open, state, message, until, settled } from './browser.mjs';
import { test, later } from './tier.mjs';

let browser, server;
before(async () => { server = await serve(); browser = await launch(); });
after(async () => { await browser?.close(); server?.close(); });

const text = (page, id) => page.evaluate((id) => document.getElementById(id).textContent, id);
const all = (page) => page.evaluate(() => ['sign-name', 'sign-notes', 'staff-text', 'goal']
  .map((id) => document.getElementById(id)).map((e) => e.value ?? e.textContent).join('\n'));
const says = (page, id, words) => page.waitForFunction(([id, words]) => document.getElementById(id).textContent.includes(words), [id, words]);

test('a note is chosen by touch and by keys, and gets a sign, an accidental, another sign, none', async () => {
  const { page, wrong, close } = await open(browser, server.url, '?passage=mordent&bars=1-2');
  await state(page, 'ready');
  // Somewhere on the staff there is a note without a sign.
  const { x, y, width, height } = await page.locator('#stage').boundingBox();
  let found = false;
  search: for (let row = 1; row < 12; row++) {
    for (let column = 4; column < 30; column++) {
      await page.mouse.click(x + width * column / 32, y + height * row / 12);
      if ((await text(page, 'sign-name')).includes('no sign')) { found = true; break search; }
    }
  }
  assert.ok(found, 'a plain note is chosen by touch');

  await page.evaluate(() => document.activeElement.blur());
  const names = new Set();
  for (let i = 0; i < 4; i++) {
    await page.keyboard.press('Shift+ArrowRight');
    names.add(await text(page, 'sign-name'));
  }
  assert.ok(names.size > 1, 'keys go from note to note');
  await page.keyboard.press('Shift+ArrowDown');

  await page.click('#change-passage');
  for (let i = 0; i < 20 && !(await text(page, 'sign-name')).includes('no sign'); i++) await page.click('#note-next');
  const signs = (await text(page, 'staff-text')).match(/hand, on/g).length;
  await page.click('#edit-signs [data-key=turn]');
  await page.waitForFunction((n) => document.getElementById('staff-text').textContent.match(/hand, on/g).length === n, signs + 1);
  assert.match(await text(page, 'sign-name'), /turn/);
  const plain = await text(page, 'sign-notes');
  await page.selectOption('#edit-below', 'flat');
  await page.waitForFunction((plain) => document.getElementById('sign-notes').textContent !== plain, plain);
  await page.click('#edit-signs [data-key=mordent]');
  await says(page, 'sign-name', 'mordent');
  await page.click('#edit-signs [data-key=mordent]');
  await says(page, 'sign-name', 'no sign');
  await page.click('#edit-signs [data-key=small-above]');
  await page.waitForFunction(() => !document.getElementById('sign-name').textContent.includes('no sign'));
  assert.equal(await page.getAttribute('#edit-signs [data-key=small-above]', 'aria-pressed'), 'true');
  await page.click('#edit-none');
  await says(page, 'sign-name', 'no sign');
  assert.equal(await message(page), '');
  assert.deepEqual(wrong, []);
  await close();
});

test('undo and redo cover changes and decisions, by button and by key, and survive a reload', async () => {
  const { page, wrong, close } = await open(browser, server.url, '?passage=turn&bars=1-4');
  await state(page, 'ready');
  assert.ok(await page.isDisabled('#undo'));
  const states = [await all(page)];
  const deeds = [
    () => page.locator('#choices button').nth(1).click(),
    async () => { await page.click('#change-passage'); await page.click('#edit-signs [data-key=trill]'); },
    () => page.selectOption('#edit-transpose', '1'),
    async () => { await page.fill('#edit-tempo', '63'); await page.press('#edit-tempo', 'Enter'); },
    () => page.selectOption('#tradition', { index: 2 }),
  ];
  for (const deed of deeds) {
    const before = await all(page);
    await deed();
    assert.notEqual(await until(() => all(page), (now) => now !== before), before);
    states.push(await settled(() => all(page)));
  }
  const settle = (want) => until(() => all(page), (now) => now === want);
  for (let i = deeds.length - 1; i >= 0; i--) {
    if (i % 2) await page.click('#undo'); else { await page.evaluate(() => document.activeElement.blur()); await page.keyboard.press('Control+z'); }
    assert.equal(await settle(states[i]), states[i], `back to step ${i}`);
  }
  assert.ok(await page.isDisabled('#undo'));
  for (let i = 1; i <= deeds.length; i++) {
    if (i % 2) await page.click('#redo'); else { await page.evaluate(() => document.activeElement.blur()); await page.keyboard.press('Control+y'); }
    assert.equal(await settle(states[i]), states[i], `on to step ${i}`);
  }
  await page.goto(server.url);
  await state(page, 'ready');
  assert.equal(await all(page), states.at(-1), 'all of it survives a reload');
  for (let i = deeds.length - 1; i >= 0; i--) {
    await page.click('#undo');
    assert.equal(await settle(states[i]), states[i], `after the reload back to step ${i}`);
  }

  // Typing is undone by the browser, not by us.
  await page.locator('#choices button').nth(1).click();
  const decided = await text(page, 'sign-notes');
  await page.fill('#bars', '2');
  await page.press('#bars', 'Control+z');
  assert.equal(await text(page, 'sign-notes'), decided);
  assert.deepEqual(wrong, []);
  await close();
});

later('what was assumed is asked, at most six, and each answer settles it for good', async () => {
  const bare = 'X:1\nM:4/4\nL:1/4\n%%score {R L}\nV:R clef=treble\nV:L clef=bass\nK:C\n[V:R] Td2 c2 | {/e/2}d2 c2 |]\n[V:L] z4 | z4 |]\n';
  const { page, wrong, close } = await open(browser, server.url);
  await state(page, 'ready');
  await page.setInputFiles('#open', { name: 'bare.abc', mimeType: 'text/plain', buffer: Buffer.from(bare) });
  await page.waitForFunction(() => document.getElementById('title-text').textContent === 'bare');
  const questions = () => page.locator('#questions > li').count();
  const many = await questions();
  assert.ok(many >= 2 && many <= 6, `${many} questions`);
  const tempo = await page.inputValue('#goal');
  await page.locator('#questions button', { hasText: 'slower' }).click();
  await page.waitForFunction((n) => document.querySelectorAll('#questions > li').length === n, many - 1);
  assert.ok(Number(await page.inputValue('#goal')) < Number(tempo), 'it really is slower');
  const byline = await text(page, 'composer-text');
  await page.locator('#questions [data-answer="2"]').first().click();
  await page.waitForFunction((b) => document.getElementById('composer-text').textContent !== b, byline);
  const left = await questions();
  await page.reload();
  await state(page, 'ready');
  assert.equal(await questions(), left, 'answers are kept');
  for (let i = left; i > 0; i--) {
    await page.locator('#questions [data-answer="0"]').first().click();
    await page.waitForFunction((n) => document.querySelectorAll('#questions > li').length < n, i);
  }
  assert.equal(await questions(), 0);
  assert.deepEqual(wrong, []);
  await close();
});
