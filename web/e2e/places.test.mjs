// The three places of the desk: which controls are in view in each, how much
// of the window the staff has, and that one button is filled.
import { before, after } from 'node:test';
import assert from 'node:assert/strict';
import { launch, serve, open, state, tapUntilShown, until, settled } from './browser.mjs';
import { inView } from './counted.mjs';
import { test, later } from './tier.mjs';

let browser, server;
before(async () => { server = await serve(); browser = await launch(); });
after(async () => { await browser?.close(); server?.close(); });

// Each size with the most controls a place may show there, and the least share
// of the height that is the staff's.
const sizes = [
  { width: 1440, height: 900, most: 18, staff: 0.5, when: later },
  { width: 1024, height: 768, most: 18, staff: 0.5, when: test },
  { width: 768, height: 1024, most: 18, staff: 0.5, when: later },
  { width: 390, height: 844, most: 12, staff: 0.4, when: test },
];
const places = ['read', 'practise', 'send'];

// filled returns the buttons in view that are filled with the accent.
const filled = (page) => page.evaluate(() => {
  const accent = document.createElement('i');
  accent.style.color = 'var(--accent)';
  document.body.append(accent);
  const colour = getComputedStyle(accent).color;
  accent.remove();
  return [...document.querySelectorAll('button')].filter((b) => b.checkVisibility() && getComputedStyle(b).backgroundColor === colour).map((b) => b.id);
});

for (const { width, height, most, staff, when } of sizes) {
  when(`few controls and a large staff at ${width} × ${height}`, async (t) => {
    for (const locale of ['en', 'de']) {
      const { page, wrong, close } = await open(browser, server.url, '?passage=trill', { size: { width, height }, locale });
      await state(page, 'ready');
      for (const place of places) {
        await page.click(`#place-${place}`);
        assert.equal(await page.getAttribute('html', 'data-place'), place);
        const controls = await inView(page);
        const box = await page.locator('#stage').boundingBox();
        t.diagnostic(`${place}, ${locale}: ${controls.length} controls, the staff ${Math.round(100 * box.height / height)} %`);
        assert.ok(controls.length <= most, `${place}: ${controls.length} controls in view: ${controls.join(', ')}`);
        assert.ok(box.height >= staff * height, `${place}: the staff has ${box.height} of ${height}`);
        if (place !== 'send' || await page.isEnabled('#task-copy')) assert.equal((await filled(page)).length, 1, `${place}: ${await filled(page)}`);
      }
      assert.deepEqual(wrong, []);
      await close();
    }
  });
}

// What each place and each menu holds, by the controls that were on the desk
// before there were places: all of it is there, by one press or two.
const there = {
  read: ['listen', 'tap', 'prev-sign', 'next-sign', 'page-view', 'choices', 'hear', 'hear-slowly', 'change-choice', 'elsewhere', 'sign-why', 'sign-notes'],
  practise: ['listen', 'tap', 'kind', 'tempo', 'tempo-number', 'hand', 'play', 'bars', 'goal', 'instrument', 'countin', 'ornaments', 'beat', 'repeat'],
  send: ['task-words', 'task-step', 'task-copy', 'task-print', 'task-try', 'task-file', 'task-answers', 'task-home', 'task-taps', 'task-free', 'open-class', 'open-files'],
  more: ['undo', 'redo', 'change-passage', 'line', 'wider', 'narrower', 'tradition', 'prefer', 'rate', 'start-day', 'open-log', 'open-rate', 'midi', 'staff-size', 'paper', 'contrast', 'motion', 'show-fingers', 'note-names', 'language', 'tuning', 'pitch', 'output', 'measure', 'no-sound', 'open-glossary'],
  bring: ['passages', 'bring-paper', 'bring-typed'],
  files: ['send-musicxml-signs', 'send-musicxml', 'send-midi', 'send-wav', 'send-svg', 'send-abc'],
};

test('all that can be done is reached in a press or two', async () => {
  const { page, wrong, close } = await open(browser, server.url, '?passage=trill');
  await state(page, 'ready');
  const seen = (id) => page.locator('#' + id).isVisible();
  for (const place of places) {
    await page.click(`#place-${place}`);
    for (const fold of { read: ['sign-more'], practise: ['settings-name'], send: ['task-more'] }[place]) await page.click('#' + fold);
    for (const id of there[place]) assert.ok(await seen(id), `#${id} is seen in ${place}`);
    await page.keyboard.press('Escape');
  }
  await page.click('#more > summary');
  for (const id of there.more) assert.ok(await seen(id), `#${id} is seen behind ···`);
  await page.keyboard.press('Escape');
  for (const [sheet, door] of [['bring', 'open-piece'], ['files', 'open-files']]) {
    await page.click('#' + door);
    for (const id of there[sheet]) assert.ok(await seen(id), `#${id} is seen in #${sheet}`);
    await page.keyboard.press('Escape');
  }
  assert.deepEqual(wrong, []);
  await close();
});

test('a way to play a sign is heard by a press, with the other hand and slowly', async () => {
  const { page, wrong, close } = await open(browser, server.url, '?passage=mordent&countin=1&tempo=60&instrument=click');
  await state(page, 'ready');
  // heard is how many notes sound, and for how long, until it is over.
  const heard = async (press) => {
    const before = await page.evaluate(() => window.__robot.onsets.length);
    await press();
    await state(page, 'counting', 'listening');
    await state(page, 'ready');
    const onsets = await page.evaluate((n) => window.__robot.onsets.slice(n), before);
    return onsets.length;
  };
  const one = await heard(() => page.click('#hear'));
  assert.ok(one >= 2 && one <= 8, `${one} onsets: the ornament and where it lands, not the passage`);
  const other = await heard(() => page.click('#choices button:nth-of-type(2)'));
  assert.ok(other > one, `${other} onsets: two alternations more than ${one}`);
  assert.equal(await page.getAttribute('#choices button:nth-of-type(2)', 'aria-pressed'), 'true');
  await heard(() => page.click('#hear-slowly'));
  // The same way, pressed again, is heard again and decides nothing.
  await heard(() => page.click('#choices button:nth-of-type(2)'));
  await page.click('#choices [data-key=more]');
  assert.equal(await page.locator('#choices [data-key=more]').count(), 0);
  assert.ok(await page.locator('#choices button').count() > 3);
  assert.deepEqual(wrong, []);
  await close();
});

test('a round is tapped where its result will stand, and the place outlives a reload', async () => {
  const { page, wrong, close } = await open(browser, server.url, '?passage=mordent&bars=1-1&tempo=100&countin=0');
  await state(page, 'ready');
  assert.equal(await page.getAttribute('html', 'data-place'), 'read');
  await page.click('#listen');
  await state(page, 'listening');
  assert.equal(await page.getAttribute('html', 'data-place'), 'read', 'listening leaves one where one is');
  await page.click('#stop');
  await state(page, 'ready');
  await page.click('#tap');
  await state(page, 'counting', 'tapping');
  assert.equal(await page.getAttribute('html', 'data-place'), 'practise');
  await page.click('#stop');
  await state(page, 'ready', 'result');
  await page.reload();
  await state(page, 'ready');
  await until(() => page.getAttribute('html', 'data-place'), (at) => at === 'practise');
  assert.deepEqual(wrong, []);
  await close();
});

// A student's first screen has at most seven controls and one filled button;
// after a round the ornament, the sentence and what comes next are in view
// without scrolling.
test('a student has few controls, and all of a result in view', async (t) => {
  const { page, wrong, close } = await open(browser, server.url, '?passage=mordent&bars=1-2&tempo=100&countin=0');
  await state(page, 'ready');
  await page.click('#place-send');
  await page.fill('#task-words', 'Slowly, and together with the left hand.');
  while (await page.locator('#task-path button').count()) await page.click('#task-path button');
  await page.click('#task-try');
  await page.waitForFunction(() => document.documentElement.dataset.page === 'student');
  const look = async (most, seen) => {
    for (const [width, height] of [[390, 844], [1024, 768]]) {
      await page.setViewportSize({ width, height });
      const controls = await until(() => settled(() => inView(page)), (now) => now.length <= most);
      t.diagnostic(`${seen.join(', ')} at ${width} × ${height}: ${controls.length} controls`);
      assert.ok(controls.length <= most, `${controls}`);
      assert.deepEqual(await filled(page), ['go']);
      assert.ok(await until(() => page.evaluate(() => document.scrollingElement.scrollHeight <= innerHeight + 1), Boolean), `${width} × ${height} scrolls`);
      for (const id of seen) {
        const inside = (box) => box && box.y >= 0 && box.y + box.height <= height;
        const box = await until(() => page.locator('#' + id).boundingBox(), inside);
        assert.ok(inside(box), `#${id} is in view at ${width} × ${height}: ${JSON.stringify(box)}`);
      }
    }
  };
  await look(7, ['student-words', 'path', 'go']);
  await page.click('#student-dots');
  await tapUntilShown(page);
  await look(7, ['close-up', 'result-words', 'go', 'mine']);
  assert.deepEqual(wrong, []);
  await close();
});

// stops are the first n places where Tab stops on a page that was just opened.
async function stops(page, n) {
  const all = [];
  for (let i = 0; i < n; i++) {
    await page.keyboard.press('Tab');
    all.push(await page.evaluate(() => document.activeElement.id || document.activeElement.getAttribute('href')));
  }
  return all;
}

test('the first Tab stops are what one does first', async () => {
  const { page, wrong, close } = await open(browser, server.url, '?passage=mordent&bars=1-2&tempo=60');
  await state(page, 'ready');
  for (const [place, first] of [['read', ['listen', 'tap']], ['practise', ['listen', 'tap', 'kind', 'tempo']], ['send', ['#task-words', 'place-read']]]) {
    await page.click(`#place-${place}`);
    await page.reload();
    await state(page, 'ready');
    assert.deepEqual(await stops(page, first.length), first, place);
  }
  // At Send home the first of all leads past the header to the task.
  await page.reload();
  await state(page, 'ready');
  await stops(page, 1);
  await page.keyboard.press('Enter');
  await page.waitForFunction(() => document.activeElement.id === 'task-words');
  await page.click('#task-try');
  await page.waitForFunction(() => document.documentElement.dataset.page === 'student');
  await page.reload();
  await state(page, 'ready');
  assert.deepEqual(await stops(page, 3), ['go', 'slower', 'faster'], 'a student\'s page');
  await page.reload();
  await state(page, 'ready');
  await stops(page, 1);
  await page.keyboard.press('Enter'); // which is Listen
  await state(page, 'counting', 'listening');
  await page.evaluate(() => { document.activeElement.blur(); });
  assert.equal(await page.evaluate(() => [...document.querySelectorAll('button')].find((b) => b.checkVisibility() && !b.disabled).id), 'stop', 'while it sounds');
  await page.click('#stop');
  assert.deepEqual(wrong, []);
  await close();
});
