// What stays of practice: the log, who taps, ten minutes with an end, and
// that nothing of it is lost or kept against anybody's will.
import { before, after } from 'node:test';
import assert from 'node:assert/strict';
import { launch, serve, open, state, tapThrough, tapUntilShown, message, contents } from './browser.mjs';
import { test, later } from './tier.mjs';

let browser, server;
before(async () => { server = await serve(); browser = await launch(); });
after(async () => { await browser?.close(); server?.close(); });

const SHORT = '?passage=turn&bars=1-2&countin=0&tempo=100&instrument=click';
const text = (page, selector) => page.locator(selector).innerText();
const diary = (page) => page.evaluate(() => localStorage.getItem('agremens.diary') ?? '');
const lines = async (page, kind) => (await diary(page)).split('\n').filter((l) => l.startsWith(kind + '\t'));

const log = async (page) => {
  await page.click('#more > summary');
  await page.click('#open-log');
};

test('a round is kept, named, dropped, exported and erased', async () => {
  const { page, wrong, close } = await open(browser, server.url, SHORT);
  await state(page, 'ready');
  assert.equal(await page.isVisible('#strip'), false, 'nothing is asked of the first visitor');
  await tapThrough(page);
  const [kept] = await lines(page, 'round');
  const fields = kept.split('\t');
  const result = await page.evaluate(() => ({ ...document.getElementById('result').dataset }));
  assert.deepEqual([fields[4], fields[6], fields[8], fields[9]], ['turn', '1-2', 'keys', 'right']);
  assert.deepEqual(fields.slice(13, 17), [result.wanted, result.hit, result.missed, result.extra], 'the figures are those of the result');
  assert.ok(Math.abs(Number(fields[17] || 0) - Number(result.meanMs)) <= 0.11, `${fields[17]} and ${result.meanMs}`); // each is rounded by itself

  await page.click('#name-it');
  await page.keyboard.type('Anna');
  await page.keyboard.press('Enter');
  await page.waitForFunction(() => document.getElementById('log-player').value === 'Anna');
  assert.match(await text(page, '#log-summary'), /^1 day, 1 round, 1 minute of tapping/);
  assert.equal((await lines(page, 'round'))[0].split('\t')[3], 'Anna');

  for (const i of [0, 1, 2, 3]) await page.click(`#ear-${i} button[data-key="${3 - i}"]`);
  await page.click('#keep-ears');
  await page.waitForFunction(() => document.getElementById('log-rows').innerText.includes('By ear'));
  assert.deepEqual((await lines(page, 'ear'))[0].split('\t').slice(-4), ['3', '2', '1', '0']);
  assert.equal(await page.isDisabled('#keep-ears'), true, 'marks are kept once');

  const [csv] = await Promise.all([page.waitForEvent('download'), page.click('#export-csv')]);
  const table = (String(await contents(csv))).split('\r\n');
  assert.equal(table.length, 3);
  assert.match(table[1], /,Anna,turn,/);
  const [json] = await Promise.all([page.waitForEvent('download'), page.click('#export-json')]);
  assert.equal(JSON.parse(await contents(json)).rounds[0].name, 'Anna');
  await page.click('#log-close');

  await page.click('#not-me');
  await page.waitForFunction(() => document.getElementById('not-me').textContent === 'It was me');
  assert.match((await lines(page, 'round'))[0].split('\t')[21], /v/);
  await page.click('#not-me');
  await page.waitForFunction(() => document.getElementById('not-me').textContent !== 'It was me');
  assert.doesNotMatch((await lines(page, 'round'))[0].split('\t')[21], /v/);

  await page.reload();
  await state(page, 'ready');
  await log(page);
  assert.match(await text(page, '#log-summary'), /1 round/);
  await page.click('#erase-one');
  assert.match(await text(page, '#erase-text'), /Anna/);
  await page.click('#erase-no');
  assert.equal((await lines(page, 'round')).length, 1, 'nothing goes without a yes');
  await page.click('#erase-one');
  await page.click('#erase-yes');
  await page.waitForFunction(() => !localStorage.getItem('agremens.diary').includes('Anna'));
  assert.deepEqual(wrong, []);
  await close();
});

later('several players: one tap, or none, and nothing waits', async () => {
  const { page, wrong, close } = await open(browser, server.url, SHORT);
  await state(page, 'ready');
  await log(page);
  for (const name of ['Anna', 'Ben <b>']) {
    await page.fill('#new-player', name);
    await page.click('#add-player');
    await page.waitForFunction((name) => document.getElementById('log-player').value === name, name);
  }
  await page.reload();
  await state(page, 'ready');
  assert.equal(await text(page, '#who-ask'), 'Who is tapping?');
  assert.deepEqual(await page.locator('#who-names button').allInnerTexts(), ['Anna', 'Ben <b>', 'Somebody else']);
  await page.click('#who-names button:nth-child(2)');
  await page.waitForSelector('#who-strip', { state: 'hidden' });
  await tapThrough(page);
  assert.equal(await text(page, '#kept-text'), 'In the log of Ben <b>.');
  await page.reload();
  await state(page, 'ready');
  await tapThrough(page); // the question is not answered
  assert.equal((await lines(page, 'round'))[1].split('\t')[3], 'Ben <b>', 'the last one of today is presumed');
  await log(page);
  await page.click('#erase-all');
  await page.click('#erase-yes');
  await page.waitForFunction(() => localStorage.getItem('agremens.diary') === null);
  assert.deepEqual(wrong, []);
  await close();
});

test('ten minutes have an order and a last page', async () => {
  const { page, wrong, close } = await open(browser, server.url, SHORT);
  await state(page, 'ready');
  await page.click('#more > summary');
  await page.click('#start-day');
  assert.match(await text(page, '#day-line'), /^1 of 5, listen/);
  await page.click('#day-go');
  await state(page, 'listening');
  await page.click('#stop');
  await page.waitForFunction(() => document.getElementById('day-go').textContent === 'Next: plain notes');
  await page.click('#day-go');
  await page.waitForFunction(() => document.getElementById('day-line').textContent.startsWith('2 of 5'));
  await tapThrough(page, '#day-go');
  await page.waitForFunction(() => document.getElementById('day-go').textContent === 'Next: with ornaments');
  assert.match((await lines(page, 'round'))[0].split('\t')[21], /p/, 'plain notes are known as such');
  await page.reload();
  await state(page, 'ready');
  assert.match(await text(page, '#day-line'), /^2 of 5/, 'a reload keeps the place');
  await page.click('#day-go');
  await page.waitForFunction(() => document.getElementById('day-line').textContent.startsWith('3 of 5'));
  assert.equal(await page.isChecked('#ornaments'), true, 'the ornaments are back');
  await tapThrough(page, '#day-go');
  await page.click('#day-go');
  await page.waitForFunction(() => document.getElementById('day-go').textContent === 'Tap without help');
  await tapThrough(page, '#day-go');
  await page.waitForFunction(() => document.getElementById('day-go').textContent === 'Next: at the piano');
  assert.match((await lines(page, 'round')).at(-1).split('\t')[21], /u/, 'without help is known as such');
  await page.click('#day-go');
  await page.waitForFunction(() => document.getElementById('day-go').textContent === 'Play at the piano');
  await page.click('#day-go');
  await state(page, 'listening');
  await page.waitForTimeout(1000);
  await page.click('#stop');
  await page.waitForFunction(() => document.getElementById('day-go').textContent === 'To the end of today');
  assert.equal(await page.inputValue('#kind'), 'tap', 'the kind of round chosen beside Tap stays');
  await page.click('#day-go');
  await page.waitForSelector('#day-end', { state: 'visible' });
  assert.match(await text(page, '#day-end-text'), /3 rounds, \d minutes? of tapping/);
  await page.fill('#day-piano', '6');
  await page.click('#day-close');
  await page.waitForFunction(() => localStorage.getItem('agremens.diary').includes('\npiano\t'));
  assert.equal((await lines(page, 'piano'))[0].split('\t').at(-1), '6');
  assert.equal(await page.isVisible('#day-strip'), false);
  assert.deepEqual(wrong, []);
  await close();
});

later('a day ends when one likes, yesterday\'s is not mentioned, and a damaged log is put aside and said', async () => {
  const { page, wrong, close } = await open(browser, server.url, SHORT);
  await state(page, 'ready');
  await page.click('#more > summary');
  await page.click('#start-day');
  await page.click('#day-stop');
  await page.waitForSelector('#day-end', { state: 'visible' });
  await page.keyboard.press('Escape');
  await page.waitForSelector('#day-strip', { state: 'hidden' });
  assert.equal((await lines(page, 'piano')).length, 0, 'nothing is put down that was not told');

  await page.click('#more > summary');
  await page.click('#start-day');
  const line = await page.evaluate(() => localStorage.getItem('agremens.day'));
  const words = line.split(' ');
  words[1] -= 1;
  await page.evaluate((line) => localStorage.setItem('agremens.day', line), words.join(' '));
  await page.reload();
  await state(page, 'ready');
  assert.equal(await page.isVisible('#strip'), false);
  assert.equal(await message(page), '');

  await page.evaluate(() => localStorage.setItem('agremens.diary', 'holiday pictures'));
  await page.reload();
  await state(page, 'ready');
  assert.match(await message(page), /practice log on this device cannot be read/);
  assert.equal(await page.evaluate(() => localStorage.getItem('agremens.diary.damaged')), 'holiday pictures');
  assert.deepEqual(wrong, []);
  await close();
});

// The teacher taps the bars herself, and her taps stand pale under the student's.
later('the teacher\'s own taps go along with a task', async () => {
  const { page, wrong, close } = await open(browser, server.url, SHORT);
  await state(page, 'ready');
  const offered = async () => {
    await page.click('#place-send');
    if (await page.getAttribute('#task-more', 'aria-expanded') !== 'true') await page.click('#task-more');
    return page.isEnabled('#task-taps');
  };
  assert.equal(await offered(), false, 'there are none to send');
  await page.click('#place-practise');
  await tapUntilShown(page);
  assert.equal(await page.locator('#close-up .close-pale').count(), 0);
  assert.equal(await offered(), true);
  await page.check('#task-taps');
  while (await page.locator('#task-path button').count()) await page.click('#task-path button'); // a plain round
  await page.click('#task-try');
  await page.waitForFunction(() => document.documentElement.dataset.page === 'student');
  await page.click('#student-dots');
  await tapUntilShown(page);
  assert.ok(await page.locator('#close-up .close-pale').count() > 0);
  assert.match(await page.getAttribute('#close-up', 'aria-label'), /pale: your teacher, at \d+/);
  assert.deepEqual(wrong, []);
  await close();
});

later('a full storage is said in words, and the round still counts', async () => {
  const { page, wrong, close } = await open(browser, server.url, SHORT);
  await state(page, 'ready');
  await page.evaluate(() => {
    for (const size of [1 << 20, 1 << 16, 1 << 12, 64, 1]) {
      try { for (let i = 0; ; i++) localStorage.setItem(`fill ${size} ${i}`, 'x'.repeat(size)); } catch { /* full */ }
    }
  });
  await tapThrough(page);
  assert.match(await message(page), /practice log cannot be saved/);
  assert.equal(await text(page, '#kept-text'), 'In the log, without a name.');
  await page.click('#message-close');
  await log(page);
  assert.match(await text(page, '#log-summary'), /1 round/);
  const [json] = await Promise.all([page.waitForEvent('download'), page.click('#export-json')]);
  assert.equal(JSON.parse(await contents(json)).rounds.length, 1, 'it can be taken away');
  assert.deepEqual(wrong, []);
  await close();
});

later('a page that may keep nothing works without keeping', async () => {
  const { page, wrong, close } = await open(browser, server.url, SHORT, { prepare: (page) =>
    page.addInitScript(() => Object.defineProperty(window, 'localStorage', { get() { throw new DOMException('no storage here', 'SecurityError'); } })) });
  await state(page, 'ready');
  await tapThrough(page);
  await page.waitForFunction(() => /cannot be saved/.test(document.getElementById('message').innerText));
  await page.click('#message-close');
  await log(page);
  assert.match(await text(page, '#log-summary'), /1 round/);
  assert.deepEqual(wrong, []);
  await close();
});
